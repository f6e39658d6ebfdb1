//! Futures: simulated surveys, one by one, for people to look at.

use crate::cost::CostTotals;
use crate::generator::{Drawn, positions};
use crate::scenario::{Checked, Effect, Plan};
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
    /// What the plan costs over all years, expected; `null` when the scenario states no costs.
    pub cost: Option<CostTotals>,
    /// The first surveys of the world of change.
    pub change: Vec<Future>,
    /// The first of the world without the effect.
    pub still: Vec<Future>,
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
