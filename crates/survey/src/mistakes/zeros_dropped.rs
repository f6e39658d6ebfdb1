//! Visits that caught none left out of the table.
//!
//! A visit's catch is negative binomial with mean m and dispersion k; none is caught with chance p = (1 + m/k)^-k. Of the
//! visits that remain the mean is m/(1 - p) (the truncated law: Sampford 1955, Biometrika 42:58-69). The smaller the
//! catch, the more it is overstated: a fall is understated.

use super::base::Base;
use super::knob::{Knob, Origin, value};
use numerics::draws::{gamma, poisson};
use numerics::maths::{exp, exp_m1, ln_1p};
use numerics::random::Stream;
use serde::Serialize;

/// Visits drawn in the first and in the last year.
const VISITS: u64 = 4000;
/// Years of the picture.
const YEARS: u32 = 10;

/// Mean catches of a visit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Means {
    /// In all visits.
    pub all: f64,
    /// In those that caught any; not a number where none did.
    pub without_zeros: f64,
}

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ZerosDropped {
    /// Dispersion.
    pub k: f64,
    /// Share of the visits of the first year that catch none.
    pub zeros: f64,
    /// In the first year.
    pub first: Means,
    /// In the last.
    pub last: Means,
    /// The true fall, as a share.
    pub fall: f64,
    /// The fall that is told without the zeros.
    pub told_fall: f64,
    /// Visits drawn in each of the two years.
    pub visits: u64,
    /// Means of the drawn visits of the first year.
    pub drawn_first: Means,
    /// Means of those of the last.
    pub drawn_last: Means,
    /// Year from 0, mean of all visits, mean without zeros.
    pub points: Vec<[f64; 3]>,
}

pub(super) fn knobs(base: &Base) -> Vec<Knob> {
    let from = Origin::Scenario;
    vec![
        Knob::new(
            "catch",
            "mean catch of a visit in the first year",
            "animals",
            (0.05, 20.0, 0.05),
            (base.visit_catch, from),
        ),
        Knob::new("k", "dispersion k", "", (0.1, 10.0, 0.1), (base.k, from)),
        Knob::new(
            "fall_percent",
            "true fall over ten years",
            "%",
            (0.0, 95.0, 1.0),
            base.fall,
        ),
    ]
}

fn none(mean: f64, k: f64) -> f64 {
    exp(-k * ln_1p(mean / k))
}

fn means(mean: f64, k: f64) -> Means {
    Means {
        all: mean,
        // 1 - p without a loss of digits where nearly all catch none.
        without_zeros: mean / -exp_m1(-k * ln_1p(mean / k)),
    }
}

fn drawn(mean: f64, k: f64, seed: u64, year: u32) -> Means {
    let mut rng = Stream::new(seed, 0);
    rng.go_to(super::place::VISITS, 0, year);
    let rng = &mut rng;
    let (mut sum, mut some) = (0.0, 0.0);
    for _ in 0..VISITS {
        let rate = gamma(rng, k) * mean / k;
        let count = poisson(rng, rate);
        sum += count;
        some += f64::from(u8::from(count > 0.0));
    }
    Means {
        all: sum / VISITS as f64,
        without_zeros: sum / some,
    }
}

pub(super) fn shown(knobs: &[Knob], seed: u64) -> ZerosDropped {
    let (mean, k) = (value(knobs, "catch"), value(knobs, "k"));
    let fall = value(knobs, "fall_percent") / 100.0;
    let slope = ln_1p(-fall) / f64::from(YEARS);
    let at = |year: u32| means(mean * exp(slope * f64::from(year)), k);
    let (first, last) = (at(0), at(YEARS));
    ZerosDropped {
        k,
        zeros: none(mean, k),
        first,
        last,
        fall,
        told_fall: 1.0 - last.without_zeros / first.without_zeros,
        visits: VISITS,
        drawn_first: drawn(first.all, k, seed, 0),
        drawn_last: drawn(last.all, k, seed, YEARS),
        points: (0..=YEARS)
            .map(|y| (y, at(y)))
            .map(|(y, m)| [f64::from(y), m.all, m.without_zeros])
            .collect(),
    }
}
