//! Only significant results told: they overstate what they found.
//!
//! Gelman & Carlin 2014, Perspect. Psychol. Sci. 9:641-651; here the median of the significant estimates beside the mean
//! of `models::significance_filter`, both for a normal estimate.

use super::base::Base;
use super::knob::{Knob, value};
use models::significance_filter::worth;
use numerics::maths::ln_1p;
use numerics::root::bracketed;
use numerics::special::normal;
use serde::Serialize;

/// Falls in the picture, per cent a decade.
const STEP: f64 = 2.5;
const MOST: f64 = 80.0;

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OnlySignificant {
    /// The true fall in per cent a decade.
    pub fall: f64,
    /// Sites.
    pub sites: f64,
    /// Years.
    pub years: f64,
    /// Share of surveys with a significant result.
    pub power: f64,
    /// Accepted false alarms.
    pub accepted: f64,
    /// Share of the significant results that tell a rise.
    pub wrong_sign: f64,
    /// Median size of the significant changes a decade, as a fall in per cent.
    pub median_told: f64,
    /// The same over the true one, on the log scale.
    pub median_over_true: f64,
    /// Mean size of the significant changes over the true one, on the log scale.
    pub mean_over_true: f64,
    /// True fall in per cent a decade, median of the significant ones.
    pub points: Vec<[f64; 2]>,
}

pub(super) fn knobs(base: &Base) -> Vec<Knob> {
    vec![
        Knob::new(
            "fall_percent",
            "true fall a decade",
            "%",
            (1.0, 90.0, 1.0),
            base.fall,
        ),
        Knob::new("sites", "sites", "", (2.0, 200.0, 1.0), base.sites),
        Knob::new("years", "years", "", (3.0, 40.0, 1.0), base.years),
    ]
}

/// Median size of significant estimates in standard errors, when `delta` of them are expected.
pub(super) fn median(delta: f64, level: f64) -> f64 {
    let z = -normal::quantile(0.5 * level);
    let beyond = |x: f64| normal::cdf(delta - x) + normal::cdf(-delta - x);
    let half = 0.5 * beyond(z);
    bracketed(|x| beyond(x) - half, z, z + delta + 10.0, 1e-10)
}

pub(super) fn shown(base: &Base, knobs: &[Knob]) -> OnlySignificant {
    let fall = value(knobs, "fall_percent");
    let (sites, years) = (value(knobs, "sites"), value(knobs, "years"));
    let se = base.slope_variance(sites, years, base.year_sd).sqrt();
    let size = |fall: f64| -ln_1p(-fall / 100.0) / 10.0;
    let told = |fall: f64| median(size(fall) / se, base.level);
    let w = worth(size(fall), se, base.level);
    OnlySignificant {
        fall,
        sites,
        years,
        power: w.power,
        accepted: base.level,
        wrong_sign: w.wrong_sign,
        median_told: super::fall_a_decade(-told(fall) * se),
        median_over_true: told(fall) * se / size(fall),
        mean_over_true: w.exaggeration,
        points: (0..=(MOST / STEP) as u32)
            .map(|i| (STEP * f64::from(i)).max(0.5))
            .map(|fall| [fall, super::fall_a_decade(-told(fall) * se)])
            .collect(),
    }
}
