//! The course of one survey's statistics over the years, and where it meets the lines.

use super::towards;
use crate::evaluate::{Finding, Replicate};
use crate::looks::LooksPlan;
use crate::scenario::{Checked, Plan, Test};
use crate::summary::answer::Evidence;
use crate::summary::judge::{Judge, own_degrees, plain_test};
use models::sequential::Sides;
use numerics::special::{normal, student};

/// Where one survey ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct End {
    /// The look, from 0.
    pub look: usize,
    /// With a change found.
    pub found: bool,
    /// For futility.
    pub futile: bool,
    /// With a change found against the stated direction.
    pub wrong_way: bool,
}

/// One survey's statistics.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Course {
    /// At each look, on the normal scale, the stated direction above; NaN of a failed fit.
    statistics: Vec<f64>,
    /// How far towards the upper line, 1 on it.
    ratios: Vec<f64>,
    /// The first look at which futility would stop it.
    futile_at: Option<usize>,
    /// The largest statistic of any year, its side in mind.
    largest: f64,
    /// The largest of any look.
    largest_at_looks: f64,
}

/// Reads courses from findings.
pub(super) struct Reader<'a> {
    plan: &'a LooksPlan,
    /// A judge for each analysed year, with its degrees of freedom (`None`: the survey's own).
    judges: Vec<Option<(Judge, Option<f64>)>>,
    /// The place of each look among the analysed years.
    places: Vec<usize>,
}

impl<'a> Reader<'a> {
    pub fn new(scenario: &Checked, plan: &'a LooksPlan, years: &[u32]) -> Self {
        let test = match scenario.analysis.test {
            Test::Calibrated => plain_test(scenario),
            test => test,
        };
        let judge = |&years: &u32| {
            let of = Plan {
                years,
                looks: None,
                ..scenario.plan.clone()
            };
            let judge = Judge::new(scenario, &of, test, towards(scenario), &[], 0.0)?;
            let df = (test != Test::Satterthwaite).then(|| judge.degrees());
            Some((judge, df))
        };
        let place = |y: &u32| years.iter().position(|x| x == y);
        Self {
            plan,
            judges: years.iter().map(judge).collect(),
            places: plan.years.iter().filter_map(place).collect(),
        }
    }

    pub fn change(&self, evidence: &[Evidence]) -> Vec<Course> {
        let of: Vec<&[&Replicate]> = evidence.iter().map(|e| &e.change[..]).collect();
        self.read(&of)
    }

    pub fn still(&self, evidence: &[Evidence]) -> Vec<Course> {
        let of: Vec<&[&Replicate]> = evidence.iter().map(|e| &e.still[..]).collect();
        self.read(&of)
    }

    /// The surveys that have been analysed after every year.
    fn read(&self, years: &[&[&Replicate]]) -> Vec<Course> {
        let n = years.iter().map(|y| y.len()).min().unwrap_or(0);
        let one = |i: usize| {
            let of = years.iter().zip(&self.judges);
            let statistics: Vec<f64> = of.map(|(y, j)| statistic(j, &y[i].finding)).collect();
            self.course(&statistics)
        };
        (0..n).map(one).collect()
    }

    fn course(&self, by_year: &[f64]) -> Course {
        let two = self.plan.design.sides == Sides::Two;
        let strength = |z: f64| if two { z.abs() } else { z };
        // A failed fit speaks for nothing: the larger of it and a number is the number.
        let largest = |all: &[f64]| {
            all.iter()
                .map(|&z| strength(z))
                .fold(f64::NEG_INFINITY, f64::max)
        };
        let statistics: Vec<f64> = self.places.iter().map(|&p| by_year[p]).collect();
        let lines = &self.plan.lines;
        let ratios = statistics.iter().zip(&lines.upper);
        let ratios = ratios.map(|(&z, u)| strength(z) / u).collect();
        let below = |(&z, line): (&f64, &Option<f64>)| line.is_some_and(|f| strength(z) < f);
        Course {
            futile_at: statistics.iter().zip(&lines.futility).position(below),
            largest: largest(by_year),
            largest_at_looks: largest(&statistics),
            ratios,
            statistics,
        }
    }
}

/// A survey's statistic on the normal scale, by equal tails of its t law.
fn statistic(judge: &Option<(Judge, Option<f64>)>, finding: &Finding) -> f64 {
    let Some((judge, df)) = judge else {
        return f64::NAN;
    };
    let t = judge.sided_statistic(finding);
    let df = df.unwrap_or_else(|| own_degrees(finding));
    if t.is_nan() || df.is_infinite() {
        return t;
    }
    let size = -normal::quantile(student::cdf(-t.abs(), df));
    if t < 0.0 { -size } else { size }
}

impl Course {
    fn looks(&self, heeded: bool) -> &[f64] {
        let last = self.futile_at.filter(|_| heeded);
        &self.ratios[..last.map_or(self.ratios.len(), |k| k + 1)]
    }

    /// The farthest it comes towards the upper lines, 1 on them, up to a stop for futility where that is heeded.
    pub fn best(&self, heeded: bool) -> f64 {
        let looks = self.looks(heeded).iter();
        looks.copied().fold(f64::NEG_INFINITY, f64::max)
    }

    /// Where it ends when the upper lines lie `factor` times as far out and futility is heeded.
    pub fn end(&self, factor: f64) -> End {
        let looks = self.looks(true);
        match looks.iter().position(|r| *r > factor) {
            Some(look) => End {
                look,
                found: true,
                futile: false,
                wrong_way: self.statistics[look] < 0.0,
            },
            None => End {
                look: looks.len().saturating_sub(1),
                found: false,
                futile: self.futile_at.is_some(),
                wrong_way: false,
            },
        }
    }

    /// Whether the fit at a look failed.
    pub fn failed(&self, look: usize) -> bool {
        self.statistics[look].is_nan()
    }

    /// Whether any year's statistic lies beyond a value.
    pub fn any_year_beyond(&self, critical: f64) -> bool {
        self.largest > critical
    }

    /// Whether any look's does.
    pub fn any_look_beyond(&self, critical: f64) -> bool {
        self.largest_at_looks > critical
    }

    /// To be shown, up to where it ends.
    pub fn shown(&self, end: End, changes: bool) -> super::ShownCourse {
        let known = |z: &f64| z.is_finite().then_some(*z);
        super::ShownCourse {
            changes,
            statistics: self.statistics[..=end.look].iter().map(known).collect(),
            ends: match end {
                End {
                    wrong_way: true, ..
                } => "wrong_way",
                End { found: true, .. } => "found",
                End { futile: true, .. } => "futile",
                _ => "not_found",
            },
        }
    }
}
