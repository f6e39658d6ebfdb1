//! What the plan kills, over all years and year by year.

use crate::evaluate::Replicate;
use crate::scenario::{Checked, Class};
use numerics::quantile::of_sorted;
use serde::{Deserialize, Serialize};

/// A number of animals: mean and the interval that holds 90 % of simulated surveys.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// Mean over simulated surveys.
    pub mean: f64,
    /// 5 % of surveys kill fewer.
    pub low: f64,
    /// 5 % of surveys kill more.
    pub high: f64,
}

impl Spread {
    fn of(mut values: Vec<f64>) -> Self {
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        values.sort_by(f64::total_cmp);
        Self {
            mean,
            low: of_sorted(&values, 0.05),
            high: of_sorted(&values, 0.95),
        }
    }
}

/// Toll of one by-catch group.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GroupToll {
    /// The group.
    pub group: String,
    /// Its class.
    pub class: Class,
    /// Mean number killed.
    pub mean: f64,
    /// 5 % of surveys kill fewer.
    pub low: f64,
    /// 5 % of surveys kill more.
    pub high: f64,
}

/// Toll of one year.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct YearToll {
    /// Year of the survey, from 1.
    pub year: u32,
    /// Target animals.
    pub target: Spread,
    /// By-catch by group.
    pub bycatch: Vec<GroupToll>,
    /// All animals.
    pub total: Spread,
}

/// What the plan kills when the stated change happens. Every trap-week that is set kills, counted or lost.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Toll {
    /// Target animals over all years.
    pub target: Spread,
    /// By-catch by group over all years.
    pub bycatch: Vec<GroupToll>,
    /// All animals over all years.
    pub total: Spread,
    /// Year by year.
    pub per_year: Vec<YearToll>,
}

impl Toll {
    /// The toll over replicates of the world of change; `None` without any.
    pub(super) fn of(scenario: &Checked, replicates: &[Replicate]) -> Option<Self> {
        let years = replicates.first()?.killed.len();
        let groups = &scenario.premises.bycatch;
        let over = |range: std::ops::Range<usize>| {
            let sum = |values: &[f64]| range.clone().map(|y| values[y]).sum::<f64>();
            let target = Spread::of(replicates.iter().map(|r| sum(&r.killed)).collect());
            let mut all: Vec<f64> = replicates.iter().map(|r| sum(&r.killed)).collect();
            let mut bycatch = Vec::new();
            for (g, group) in groups.iter().enumerate() {
                let each: Vec<f64> = replicates
                    .iter()
                    .map(|r| sum(&r.bycatch[g * years..(g + 1) * years]))
                    .collect();
                all.iter_mut().zip(&each).for_each(|(a, e)| *a += e);
                let s = Spread::of(each);
                let (group, class) = (group.name.clone(), group.class);
                bycatch.push(GroupToll {
                    group,
                    class,
                    mean: s.mean,
                    low: s.low,
                    high: s.high,
                });
            }
            (target, bycatch, Spread::of(all))
        };
        let (target, bycatch, total) = over(0..years);
        let per_year = (0..years)
            .map(|y| {
                let (target, bycatch, total) = over(y..y + 1);
                YearToll {
                    year: y as u32 + 1,
                    target,
                    bycatch,
                    total,
                }
            })
            .collect();
        Some(Self {
            target,
            bycatch,
            total,
            per_year,
        })
    }
}
