//! Year effects left out of the analysis.
//!
//! In a good year all sites catch more. A regression that knows sites but no years takes the S counts of a year for S
//! free ones; its residual pools the scatter of years about the line (T - 2 degrees of freedom) with that of sites within
//! years ((S - 1)(T - 1)), of which only the first is the slope's own (the year effect of Larsen et al. 2001, BioScience
//! 51:1069).

use super::base::Base;
use super::knob::{Knob, Origin, value};
use super::strata::Strata;
use serde::Serialize;

/// Most years in the picture, unless the knob stands higher.
const MOST_YEARS: u32 = 30;
/// Most points of the picture.
const POINTS: u32 = 28;

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct YearsIgnored {
    /// SD of years on the log scale.
    pub year_sd: f64,
    /// Years.
    pub years: f64,
    /// Sites.
    pub sites: f64,
    /// Accepted false alarms: those of the analysis that knows of years.
    pub accepted: f64,
    /// False alarms of the analysis that does not.
    pub false_alarm: f64,
    /// Its standard error over the true one.
    pub believed: f64,
    /// Years, and false alarms with so many.
    pub points: Vec<[f64; 2]>,
}

pub(super) fn knobs(base: &Base) -> Vec<Knob> {
    vec![
        Knob::new(
            "year_sd",
            "how much years differ (SD of years)",
            "log scale",
            (0.0, 0.8, 0.01),
            (base.year_sd, Origin::Scenario),
        ),
        Knob::new("years", "years", "", (3.0, 40.0, 1.0), base.years),
        Knob::new("sites", "sites", "", (2.0, 200.0, 1.0), base.sites),
    ]
}

fn strata(own: f64, year_sd: f64, years: f64, sites: f64) -> Strata {
    Strata {
        between: sites * year_sd * year_sd + own,
        between_df: years - 2.0,
        within: own,
        within_df: (sites - 1.0) * (years - 1.0),
    }
}

pub(super) fn shown(base: &Base, knobs: &[Knob]) -> YearsIgnored {
    let (sd, years) = (value(knobs, "year_sd"), value(knobs, "years"));
    let sites = value(knobs, "sites");
    let of = |years: f64| strata(base.own, sd, years, sites);
    let most = MOST_YEARS.max(years as u32);
    let step = (most - 3).div_ceil(POINTS) as usize;
    YearsIgnored {
        year_sd: sd,
        years,
        sites,
        accepted: base.level,
        false_alarm: of(years).false_alarm(base.level),
        believed: of(years).believed(),
        points: (3..=most)
            .step_by(step.max(1))
            .map(|y| [f64::from(y), of(f64::from(y)).false_alarm(base.level)])
            .collect(),
    }
}
