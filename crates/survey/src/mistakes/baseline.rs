//! The first year of the series chosen.
//!
//! A stable population is counted for T years; its yearly index scatters on the log scale. The slope through the years
//! from f on has little in common with that through all: the two are normal with correlation
//! sqrt(L(L^2 - 1) / (T(T^2 - 1))), L = T - f + 1 years being left, so that they differ in sign with the chance
//! acos(correlation)/pi (Sheppard 1899, Phil. Trans. R. Soc. A 192:101-167), whatever the scatter. Histories are drawn,
//! counted, and the first of them shown.

use super::base::Base;
use super::knob::{Knob, Origin, value};
use crate::closed_form::serial::spread_of_years;
use numerics::maths::{exp, exp_m1};
use numerics::quantile::of_sorted;
use numerics::random::Stream;
use numerics::special::student;
use serde::Serialize;

/// Histories drawn.
const HISTORIES: u64 = 1000;
/// Fewest years that a trend is told from.
const FEWEST: usize = 3;

/// A change a year in per cent, and the range that holds nine in ten of the histories.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Rate {
    /// Of the history shown.
    pub shown: f64,
    /// One history in twenty tells less.
    pub low: f64,
    /// One in twenty tells more.
    pub high: f64,
}

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Baseline {
    /// The first year used, from 1.
    pub first_year: f64,
    /// Years.
    pub years: f64,
    /// SD of the yearly index on the log scale.
    pub scatter: f64,
    /// Stable histories drawn.
    pub histories: u64,
    /// In as many of them the sign of the change turns.
    pub flipped: u64,
    /// The share of them, exactly.
    pub flip_chance: f64,
    /// Accepted false alarms.
    pub accepted: f64,
    /// Histories in which all years show a significant change.
    pub significant_from_all: u64,
    /// Histories in which some first year does, with at least three years left.
    pub significant_from_some: u64,
    /// Change a year in per cent from all years.
    pub from_all: Rate,
    /// Change a year in per cent from the first year on.
    pub from_first: Rate,
    /// The yearly index of the history shown; 1 is the typical one.
    pub history: Vec<f64>,
    /// The trend through all of its years, on the same scale, year by year.
    pub line_of_all: Vec<f64>,
    /// That through the years from the first used.
    pub line_of_rest: Vec<f64>,
}

pub(super) fn knobs(base: &Base) -> Vec<Knob> {
    let (years, from) = base.years;
    let scatter = (base.year_sd * base.year_sd + base.own / base.sites.0).sqrt();
    vec![
        Knob::new(
            "first_year",
            "first year of the series you use",
            "",
            (1.0, 38.0, 1.0),
            ((0.4 * years).floor().max(1.0), Origin::Example),
        ),
        Knob::new(
            "years",
            "years counted",
            "",
            (3.0, 40.0, 1.0),
            (years, from),
        ),
        Knob::new(
            "scatter",
            "how much the yearly index scatters (SD)",
            "log scale",
            (0.0, 1.0, 0.01),
            (scatter, Origin::Scenario),
        ),
    ]
}

/// Three years are left from the first on.
pub(super) fn settle(knobs: &mut [Knob]) {
    let last = value(knobs, "years") - FEWEST as f64 + 1.0;
    if let Some(first) = knobs.iter_mut().find(|k| k.key == "first_year") {
        first.high = last;
        first.value = first.value.min(last);
    }
}

/// A line by least squares through values in successive years.
#[derive(Clone, Copy, Debug, Default)]
struct Line {
    n: f64,
    mean: f64,
    slope: f64,
    /// Sum of squares about it.
    about: f64,
}

impl Line {
    fn through(values: &[f64]) -> Self {
        let n = values.len() as f64;
        let (mean, mid) = (values.iter().sum::<f64>() / n, 0.5 * (n - 1.0));
        let (mut with, mut all) = (0.0, 0.0);
        for (i, v) in values.iter().enumerate() {
            with += (i as f64 - mid) * (v - mean);
            all += (v - mean) * (v - mean);
        }
        let slope = with / spread_of_years(n);
        Self {
            n,
            mean,
            slope,
            about: (all - slope * with).max(0.0),
        }
    }

    /// Whether |t| is beyond the critical value of n - 2 degrees of freedom.
    fn significant(&self, critical: f64) -> bool {
        let variance = self.about / (self.n - 2.0) / spread_of_years(self.n);
        self.slope * self.slope > critical * critical * variance
    }

    /// Its values, unlogged, year by year.
    fn unlogged(&self) -> Vec<f64> {
        let mid = 0.5 * (self.n - 1.0);
        let at = |i: u32| exp(self.mean + (f64::from(i) - mid) * self.slope);
        (0..self.n as u32).map(at).collect()
    }
}

fn percent(slope: f64) -> f64 {
    100.0 * exp_m1(slope)
}

fn rate(shown: f64, mut slopes: Vec<f64>) -> Rate {
    slopes.sort_by(f64::total_cmp);
    Rate {
        shown: percent(shown),
        low: percent(of_sorted(&slopes, 0.05)),
        high: percent(of_sorted(&slopes, 0.95)),
    }
}

pub(super) fn shown(base: &Base, knobs: &[Knob], seed: u64) -> Baseline {
    let (years, sd) = (value(knobs, "years"), value(knobs, "scatter"));
    let first_year = value(knobs, "first_year");
    let (n, skipped) = (years as usize, first_year as usize - 1);
    // By years left, from 0.
    let critical: Vec<f64> = (0..=n)
        .map(|left| match left {
            left if left < FEWEST => f64::INFINITY,
            left => student::quantile(1.0 - 0.5 * base.level, left as f64 - 2.0),
        })
        .collect();
    let draw = |history: u64| -> Vec<f64> {
        let mut rng = Stream::new(seed, history);
        rng.go_to(super::place::HISTORIES, 0, 0);
        (0..n).map(|_| sd * rng.normal()).collect()
    };
    let (mut flipped, mut from_all, mut from_some) = (0, 0, 0);
    let (mut all, mut rest) = (Vec::new(), Vec::new());
    for history in 0..HISTORIES {
        let values = draw(history);
        let whole = Line::through(&values);
        let part = Line::through(&values[skipped..]);
        flipped += u64::from(whole.slope * part.slope < 0.0);
        from_all += u64::from(whole.significant(critical[n]));
        let some = (0..=n - FEWEST)
            .any(|first| Line::through(&values[first..]).significant(critical[n - first]));
        from_some += u64::from(some);
        all.push(whole.slope);
        rest.push(part.slope);
    }
    let history = draw(0);
    let (whole, part) = (Line::through(&history), Line::through(&history[skipped..]));
    let alike = (spread_of_years(years - skipped as f64) / spread_of_years(years)).sqrt();
    Baseline {
        first_year,
        years,
        scatter: sd,
        histories: HISTORIES,
        flipped,
        flip_chance: if sd > 0.0 { angle(alike) } else { 0.0 },
        accepted: base.level,
        significant_from_all: from_all,
        significant_from_some: from_some,
        from_all: rate(whole.slope, all),
        from_first: rate(part.slope, rest),
        history: history.iter().map(|v| exp(*v)).collect(),
        line_of_all: whole.unlogged(),
        line_of_rest: part.unlogged(),
    }
}

/// acos(c)/pi for c from 0 to 1. No arc cosine is at hand that is the same on all machines: tan(a/2) =
/// sqrt((1 - c)/(1 + c)) is halved once more, and the series of the arc tangent taken there, at most at tan(pi/8).
fn angle(c: f64) -> f64 {
    let half = ((1.0 - c).max(0.0) / (1.0 + c)).sqrt();
    let quarter = half / (1.0 + (1.0 + half * half).sqrt());
    let square = quarter * quarter;
    let (mut power, mut sum) = (quarter, 0.0);
    for i in 0..24 {
        let term = power / (2 * i + 1) as f64;
        sum += if i % 2 == 0 { term } else { -term };
        power *= square;
    }
    4.0 * sum / std::f64::consts::PI
}

#[cfg(test)]
mod tests {
    use super::angle;

    /// acos(1) = 0, acos(1/2) = pi/3, acos(0) = pi/2; acos(sqrt 3/2) = pi/6.
    #[test]
    fn angles() {
        for (c, want) in [
            (1.0, 0.0),
            (0.5, 1.0 / 3.0),
            (0.0, 0.5),
            (0.75_f64.sqrt(), 1.0 / 6.0),
        ] {
            assert!((angle(c) - want).abs() < 1e-14, "{c}");
        }
    }
}
