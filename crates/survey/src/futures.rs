//! Futures: simulated surveys, one by one, for people to look at.

use crate::axis::Axis;
use crate::cost::CostTotals;
use crate::generator::{Drawn, positions};
use crate::scenario::{Checked, Effect, Plan, Scenario};
use crate::summary::{Share, TestTold};
use serde::{Deserialize, Serialize};

/// What a simulated survey comes to under the planned test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stamp {
    /// The effect is there, and is found.
    Found,
    /// The effect is there, and is not found.
    Missed,
    /// The effect is there, and its opposite is found.
    WrongWay,
    /// There is no effect, and one is found.
    FalseAlarm,
    /// There is no effect, and none is found.
    Quiet,
}

/// One simulated survey.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Future {
    /// Its number among the simulated surveys, from 1.
    pub number: u64,
    /// What it comes to.
    pub stamp: Stamp,
    /// For each line of the picture a value for each year; `null` where nothing was counted.
    pub lines: Vec<Vec<Option<f64>>>,
}

/// Surveys to look at.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Futures {
    /// What their lines show.
    pub shown: Shown,
    /// The test that stamps them.
    pub test: TestTold,
    /// Share of all simulated surveys that find the effect.
    pub power: Share,
    /// Share of all that find one when there is none.
    pub false_alarm: Share,
    /// Animals killed over all years in the world of change, mean; `null` before the first surveys.
    pub toll: Option<f64>,
    /// What the plan costs over all years, expected; `null` when the scenario states no costs.
    pub cost: Option<CostTotals>,
    /// The first surveys of the world of change.
    pub change: Vec<Future>,
    /// The first of the world without the effect.
    pub still: Vec<Future>,
}

/// A plan to be seen beside the present one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Beside {
    /// About half the sites.
    Smaller,
    /// The least plan.
    Least,
    /// About twice the sites.
    Larger,
}

/// The scenario's plan with about half its sites, and the least plan where one is known that is not the present one,
/// otherwise the plan with about twice its sites. A plan that does not stand is left out.
pub fn beside(scenario: &Checked, least: Option<&Plan>) -> Vec<(Beside, Checked)> {
    // What was written, so that the kind of trap is folded in once.
    let written = scenario.as_written();
    let with = |plan: Plan| {
        let changed = Scenario {
            plan,
            ..written.clone()
        };
        changed.check().ok()
    };
    let sites = |n: u32| Axis::Sites.set(&written.plan, n);
    let own = written.plan.sites;
    let fewest = Axis::Sites.fewest(written);
    // The nearest that stands: pairs come in twos, panels whole.
    let smaller = (fewest..=own / 2).rev().find_map(|n| with(sites(n)));
    let other = least.filter(|l| **l != written.plan).map_or_else(
        || {
            let larger = (own * 2..own * 2 + 200).find_map(|n| with(sites(n)));
            larger.map(|s| (Beside::Larger, s))
        },
        |l| with(l.clone()).map(|s| (Beside::Least, s)),
    );
    let smaller = smaller.map(|s| (Beside::Smaller, s));
    smaller.into_iter().chain(other).collect()
}

/// What the lines of a survey show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Shown {
    /// Mean catch of a trap-week, by year.
    Catch,
    /// The same of the treated sites and of the others, in this order.
    CatchOfGroups,
    /// The place of the catch on the gradient, mean over animals, by year.
    Place,
    /// Share of sites with a catch, by year.
    SitesWithCatch,
    /// Animals caught, by year.
    Caught,
}

impl Shown {
    /// What the lines of a question's surveys show.
    pub fn of(scenario: &Checked) -> Self {
        match scenario.question.effect {
            Effect::Difference(_) | Effect::BeforeAfter(_) => Self::CatchOfGroups,
            Effect::RangeShift(_) => Self::Place,
            Effect::Occupancy(_) => Self::SitesWithCatch,
            Effect::Absence(_) => Self::Caught,
            _ => Self::Catch,
        }
    }
}

/// A sum over the site-years of a year with any trap-week counted.
fn by_year(
    drawn: &Drawn,
    years: usize,
    of: impl Fn(usize, f64, f64) -> (f64, f64),
) -> Vec<Option<f64>> {
    let mut sums = vec![(0.0, 0.0); years];
    for (i, (&count, &effort)) in drawn.counts.iter().zip(&drawn.effort).enumerate() {
        if effort > 0.0 {
            let (over, under) = of(i / years, count, effort);
            let (a, b) = &mut sums[i % years];
            *a += over;
            *b += under;
        }
    }
    let ratio = |(a, b): (f64, f64)| (b > 0.0).then(|| a / b);
    sums.into_iter().map(ratio).collect()
}

/// The lines of one survey.
pub fn lines(scenario: &Checked, plan: &Plan, drawn: &Drawn) -> Vec<Vec<Option<f64>>> {
    let years = plan.years as usize;
    let treated = |s: usize| {
        let groups = plan.groups.as_ref();
        groups.is_some_and(|g| g.treats(s as u32))
    };
    let of_group = |wanted: bool| {
        by_year(drawn, years, |s, count, effort| {
            if treated(s) == wanted {
                (count, effort)
            } else {
                (0.0, 0.0)
            }
        })
    };
    match Shown::of(scenario) {
        Shown::Catch => vec![by_year(drawn, years, |_, count, effort| (count, effort))],
        Shown::CatchOfGroups => vec![of_group(true), of_group(false)],
        Shown::Place => {
            let places = positions(scenario, plan);
            // Sites may differ in the trap-weeks that are left.
            vec![by_year(drawn, years, |s, count, effort| {
                (places[s] * count / effort, count / effort)
            })]
        }
        Shown::SitesWithCatch => vec![by_year(drawn, years, |_, count, _| {
            (f64::from(u8::from(count > 0.0)), 1.0)
        })],
        Shown::Caught => {
            let mut sums = vec![Some(0.0); years];
            for (i, count) in drawn.counts.iter().enumerate() {
                sums[i % years] = sums[i % years].map(|sum| sum + count);
            }
            vec![sums]
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::read;

    #[test]
    fn plans_beside_the_present_one_stand() {
        let s = read(include_str!("../../../demo-data/meadow-beetles.json")).unwrap();
        let s = s.check().unwrap();
        let sites = |all: &[(Beside, Checked)]| -> Vec<(Beside, u32)> {
            all.iter().map(|(b, s)| (*b, s.plan.sites)).collect()
        };
        let own = s.plan.sites;
        let want = [(Beside::Smaller, own / 2), (Beside::Larger, own * 2)];
        assert_eq!(sites(&beside(&s, None)), want);
        let least = Axis::Sites.set(&s.plan, own + 3);
        let told = sites(&beside(&s, Some(&least)));
        assert_eq!(told[1], (Beside::Least, own + 3));
        // The least plan is the present one: nothing is shown twice.
        assert_eq!(sites(&beside(&s, Some(&s.plan))), want);
    }

    #[test]
    fn lines_of_a_survey() {
        let text = include_str!("../../../demo-data/meadow-mowing.json");
        let mut s = read(text).unwrap();
        (s.plan.sites, s.plan.years) = (2, 4);
        let s = s.check().unwrap();
        // The second site is the treated one.
        let drawn = Drawn {
            counts: vec![2.0, 4.0, 6.0, 0.0, 1.0, 3.0, 5.0, 7.0],
            effort: vec![2.0, 2.0, 2.0, 0.0, 1.0, 1.0, 1.0, 1.0],
            ..Drawn::default()
        };
        let told = lines(&s, &s.plan, &drawn);
        assert_eq!(told[0], [1.0, 3.0, 5.0, 7.0].map(Some));
        assert_eq!(told[1], [Some(1.0), Some(2.0), Some(3.0), None]);
    }
}
