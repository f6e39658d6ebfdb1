//! Fixed weeks under a season that moves: what each year's open weeks catch.
//!
//! In year y the whole season, of target and by-catch alike, comes earlier by c y + s z_y weeks: c the trend, s the SD of
//! years, z a standard normal number of its own in each year. The sum of the open weeks' weights is then S_y(z). A
//! trend in E[ln S_y] is a trend of the counts that no animal made; the variance of ln S_y is scatter between years.

use super::weight;
use crate::scenario::{Departures, Plan};
use numerics::maths::ln;
use numerics::quadrature::normal_points;

/// Points of quadrature over a year's shift.
const POINTS: usize = 15;

/// How the season moves over years.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moving {
    /// Weeks a year by which it comes earlier.
    pub earlier: f64,
    /// SD in weeks of a year's own shift.
    pub sd: f64,
}

impl Moving {
    /// Of the stated departures; `None` where the season is the same every year.
    pub fn of(departures: &Departures) -> Option<Self> {
        departures.moves_season().then(|| Self {
            earlier: departures.weeks_earlier(),
            sd: departures.season_shift_sd.value,
        })
    }

    /// Weeks by which the season comes earlier in a year whose own shift is `z` SDs.
    pub fn shift(&self, year: usize, z: f64) -> f64 {
        self.earlier * year as f64 + self.sd * z
    }

    /// Sum of the open weeks' weights in each year, on average over the years' own shifts.
    pub fn totals(&self, plan: &Plan, peak: f64, width: f64) -> Vec<f64> {
        self.each_year(plan, peak, width)
            .map(|of_year| of_year.iter().map(|(s, p)| p * s).sum())
            .collect()
    }

    /// What a moving season does to the log of the yearly catch of the open weeks.
    pub fn of_log(&self, plan: &Plan, peak: f64, width: f64) -> Logs {
        let mut means = Vec::new();
        let (mut variance, mut thinner) = (0.0, 0.0);
        let still = super::weights(plan, peak, width).iter().sum::<f64>();
        for of_year in self.each_year(plan, peak, width) {
            let log = |s: f64| ln(s.max(f64::MIN_POSITIVE));
            let mean: f64 = of_year.iter().map(|(s, p)| p * log(*s)).sum();
            let squares: f64 = of_year.iter().map(|(s, p)| p * log(*s) * log(*s)).sum();
            thinner += of_year
                .iter()
                .map(|(s, p)| p * still / s.max(f64::MIN_POSITIVE))
                .sum::<f64>();
            variance += (squares - mean * mean).max(0.0);
            means.push(mean);
        }
        let years = means.len() as f64;
        Logs {
            slope: slope(&means),
            variance: variance / years,
            thinner: thinner / years,
        }
    }

    /// Places and probabilities of a year's own shift in SDs.
    pub(super) fn points(&self) -> &'static [(f64, f64)] {
        if self.sd > 0.0 {
            normal_points(POINTS)
        } else {
            &[(0.0, 1.0)]
        }
    }

    /// For each year the sums of weights at the points of quadrature, with the points' probabilities.
    fn each_year(
        &self,
        plan: &Plan,
        peak: f64,
        width: f64,
    ) -> impl Iterator<Item = Vec<(f64, f64)>> {
        let points = self.points();
        let weeks = plan.open_weeks();
        let moving = *self;
        (0..plan.years as usize).map(move |y| {
            let sum = |z: f64| -> f64 {
                let at = peak - moving.shift(y, z);
                weeks.iter().map(|&w| weight(f64::from(w), at, width)).sum()
            };
            points.iter().map(|&(z, p)| (sum(z), p)).collect()
        })
    }
}

/// The log of the open weeks' catch over years.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Logs {
    /// Its slope a year by least squares: the false trend.
    pub slope: f64,
    /// Its variance about each year's mean, the mean over years.
    pub variance: f64,
    /// Mean over years of what the season that stays where it is catches, over what this year's does.
    pub thinner: f64,
}

/// Slope of values at 0, 1, 2, ... by least squares; 0 for a single one.
fn slope(values: &[f64]) -> f64 {
    let mid = 0.5 * (values.len() as f64 - 1.0);
    let (mut with, mut squares) = (0.0, 0.0);
    for (y, v) in values.iter().enumerate() {
        let t = y as f64 - mid;
        with += t * v;
        squares += t * t;
    }
    if squares > 0.0 { with / squares } else { 0.0 }
}
