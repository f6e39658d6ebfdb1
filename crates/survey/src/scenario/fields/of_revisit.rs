//! The numbers of the revisit pattern, and of how losses cluster, sites drop out and samples come back late.

use super::Field;
use super::shapes::premise;
use crate::scenario::{Revisit, Scenario};

/// A whole number of one of the patterns.
macro_rules! pattern {
    ($variant:ident, $field:ident, $path:literal, $label:literal, $unit:literal, $low:expr, $high:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: true,
            step: 1.0,
            read: |s: &Scenario| match &s.plan.revisit {
                Some(Revisit::$variant { $field, .. }) => Some(f64::from(*$field)),
                _ => None,
            },
            write: |s: &mut Scenario, v| {
                if let Some(Revisit::$variant { $field, .. }) = &mut s.plan.revisit {
                    *$field = v as u32;
                }
            },
            premise: None,
            premise_mut: None,
        }
    };
}

/// Which sites are visited in which years.
pub const REVISIT: &[Field<Scenario>] = &[
    pattern!(
        EveryK,
        years,
        "plan.revisit.every_k.years",
        "from one year of trapping to the next",
        "years",
        2.0,
        30.0
    ),
    pattern!(
        Alternating,
        panels,
        "plan.revisit.alternating.panels",
        "panels that take turns",
        "",
        2.0,
        30.0
    ),
    pattern!(
        Augmented,
        always,
        "plan.revisit.augmented.always",
        "sites visited every year",
        "",
        1.0,
        1999.0
    ),
    pattern!(
        Augmented,
        panels,
        "plan.revisit.augmented.panels",
        "panels that take turns",
        "",
        2.0,
        30.0
    ),
    pattern!(
        Rotating,
        stay,
        "plan.revisit.rotating.stay",
        "years a site stays",
        "",
        1.0,
        60.0
    ),
    pattern!(
        Split,
        always,
        "plan.revisit.split.always",
        "sites visited every year",
        "",
        1.0,
        1999.0
    ),
];

/// Who and what does not come back.
pub const RETURNS: &[Field<Scenario>] = &[
    premise!(
        Scenario,
        "premises.departures.loss_clustering",
        "how losses cluster in a site's year",
        "correlation",
        0.0,
        0.99,
        0.05,
        |s| s.premises.departures.loss_clustering
    ),
    premise!(
        Scenario,
        "premises.attrition",
        "sites that give up each year",
        "share",
        0.0,
        0.95,
        0.05,
        |s| s.premises.attrition
    ),
    premise!(
        Scenario,
        "premises.late_share",
        "samples back after the cut-off date",
        "share of site-years",
        0.0,
        0.95,
        0.05,
        |s| s.premises.late_share
    ),
];
