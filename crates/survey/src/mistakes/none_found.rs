//! Nothing found told as nothing happened.
//!
//! A survey whose estimate is just 0 leaves all falls in its confidence interval possible: up to t standard errors.

use super::base::Base;
use super::knob::{Knob, Origin, value};
use numerics::maths::ln_1p;
use numerics::special::{noncentral_t, student};
use serde::Serialize;

/// Falls in the picture, per cent a decade: steps up to the last.
const STEP: f64 = 2.5;
const MOST: f64 = 90.0;

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NoneFound {
    /// Sites.
    pub sites: f64,
    /// Years.
    pub years: f64,
    /// SD of years.
    pub year_sd: f64,
    /// The largest fall, per cent a decade, within the confidence interval about an estimate of no change.
    pub still_possible: f64,
    /// Level of that interval.
    pub confidence: f64,
    /// A fall in per cent a decade that is asked about.
    pub fall: f64,
    /// The chance that a survey of this size finds nothing although that fall is there.
    pub missed: f64,
    /// Fall in per cent a decade, chance that nothing is found.
    pub points: Vec<[f64; 2]>,
}

pub(super) fn knobs(base: &Base) -> Vec<Knob> {
    vec![
        Knob::new("sites", "sites", "", (2.0, 200.0, 1.0), base.sites),
        Knob::new("years", "years", "", (3.0, 40.0, 1.0), base.years),
        Knob::new(
            "year_sd",
            "how much years differ (SD of years)",
            "log scale",
            (0.0, 0.8, 0.01),
            (base.year_sd, Origin::Scenario),
        ),
    ]
}

pub(super) fn shown(base: &Base, knobs: &[Knob]) -> NoneFound {
    let (sites, years) = (value(knobs, "sites"), value(knobs, "years"));
    let sd = value(knobs, "year_sd");
    let se = base.slope_variance(sites, years, sd).sqrt();
    let df = years - 2.0;
    let critical = student::quantile(1.0 - 0.5 * base.level, df);
    let missed = |fall: f64| {
        let delta = -ln_1p(-fall / 100.0) / 10.0 / se;
        1.0 - noncentral_t::power(critical, df, delta, true)
    };
    let steps = (MOST / STEP) as u32;
    NoneFound {
        sites,
        years,
        year_sd: sd,
        still_possible: super::fall_a_decade(-critical * se),
        confidence: 1.0 - base.level,
        fall: base.fall.0,
        missed: missed(base.fall.0),
        points: (0..=steps)
            .map(|i| STEP * f64::from(i))
            .map(|fall| [fall, missed(fall)])
            .collect(),
    }
}
