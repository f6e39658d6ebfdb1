//! Traps counted as sites.
//!
//! Two groups of sites are compared in one year. The m traps of a site share its effect: their logs are correlated by
//! the intra-class correlation ICC, so that S m traps tell as much as S m/(1 + (m - 1) ICC) independent ones (Kish 1965,
//! Survey Sampling, section 5.4). The naive t test takes every trap for a site of its own.

use super::base::Base;
use super::knob::{Knob, Origin, value};
use super::strata::Strata;
use crate::closed_form::design_effect;
use numerics::maths::ln_1p;
use numerics::special::{noncentral_t, student};
use serde::Serialize;

/// The difference of the two groups whose power is told, per cent.
pub const DIFFERENCE_PERCENT: f64 = 50.0;

/// Most traps a site in the picture, unless the knob stands higher.
const MOST_TRAPS: u32 = 12;

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TrapsAsSites {
    /// Sites of both groups together.
    pub sites: f64,
    /// All traps.
    pub traps: f64,
    /// How alike the traps of a site are, 0 to 1.
    pub icc: f64,
    /// 1 + (m - 1) ICC.
    pub design_effect: f64,
    /// As many independent traps would tell as much.
    pub count_as: f64,
    /// However many traps stand at these sites, they never count as more; infinite where traps of a site are not alike.
    pub never_more_than: f64,
    /// Accepted false alarms.
    pub accepted: f64,
    /// Share of surveys without a difference in which the naive test finds one.
    pub naive_false_alarm: f64,
    /// Power to find a difference of one half that the naive planner expects.
    pub naive_power: f64,
    /// Power of the test of the sites' means, which keeps to the accepted false alarms.
    pub honest_power: f64,
    /// Traps a site, all traps, and as how many they count.
    pub points: Vec<[f64; 3]>,
}

pub(super) fn knobs(base: &Base) -> Vec<Knob> {
    let all = base.between_sites + base.within_site;
    let icc = if all > 0.0 {
        base.between_sites / all
    } else {
        0.0
    };
    vec![
        Knob::new("sites", "sites", "", (4.0, 100.0, 1.0), base.sites),
        Knob::new(
            "traps_per_site",
            "traps at each site",
            "",
            (1.0, 20.0, 1.0),
            (base.traps, Origin::Scenario),
        ),
        Knob::new(
            "icc",
            "how alike the traps of a site are (ICC)",
            "0 to 1",
            (0.0, 1.0, 0.01),
            (icc, Origin::Scenario),
        ),
    ]
}

pub(super) fn shown(base: &Base, knobs: &[Knob]) -> TrapsAsSites {
    let (sites, per_site) = (value(knobs, "sites"), value(knobs, "traps_per_site"));
    let icc = value(knobs, "icc");
    let variance = base.between_sites + base.within_site;
    let effect = design_effect(per_site, icc);
    // Of one trap: B = m times the variance of a site's mean.
    let strata = Strata {
        between: variance * effect,
        between_df: sites - 2.0,
        within: variance * (1.0 - icc),
        within_df: sites * (per_site - 1.0),
    };
    // Half of the sites in each group, one more in the second where they are odd.
    let first = (0.5 * sites).floor();
    let apart = 1.0 / first + 1.0 / (sites - first);
    let size = -ln_1p(-DIFFERENCE_PERCENT / 100.0);
    let power = |variance: f64, df: f64| {
        let se = (variance * apart / per_site).sqrt();
        if se <= 0.0 {
            return 1.0;
        }
        let critical = student::quantile(1.0 - 0.5 * base.level, df);
        noncentral_t::power(critical, df, size / se, true)
    };
    let most = MOST_TRAPS.max(per_site as u32);
    TrapsAsSites {
        sites,
        traps: sites * per_site,
        icc,
        design_effect: effect,
        count_as: sites * per_site / effect,
        never_more_than: sites / icc,
        accepted: base.level,
        naive_false_alarm: strata.false_alarm(base.level),
        naive_power: power(variance, strata.pooled_df()),
        honest_power: power(strata.between, strata.between_df),
        points: (1..=most)
            .map(|m| {
                let m = f64::from(m);
                [m, sites * m, sites * m / design_effect(m, icc)]
            })
            .collect(),
    }
}
