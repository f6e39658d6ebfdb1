//! What the plan kills, over all years and year by year.

use super::Evidence;
use super::reproductives::ReproductiveToll;
use crate::closed_form::{Removed, expected_toll, removed, still_share};
use crate::evaluate::Replicate;
use crate::scenario::{Checked, Class, Effect, Killed, Plan};
use numerics::quantile;
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
        Self {
            mean,
            low: quantile::of(&mut values, 0.05),
            high: quantile::of(&mut values, 0.95),
        }
    }
}

/// Toll of one by-catch group, or of another species that is asked about.
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
    /// When the premise of the catch is 0 but has a high end above 0: the mean kill at that end, which the premise
    /// does not exclude. `null` otherwise.
    pub not_excluded: Option<f64>,
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

/// What the plan kills when the stated change happens. Every trap-week that is set kills, counted or lost. The
/// intervals hold the luck of the draw (sites, years, counts), not what the premises do not know.
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
    /// Reproductive animals among those killed over all years; `null` when no share of them is given.
    pub reproductives: Option<ReproductiveToll>,
    /// The same over all years when nothing changes; `null` before the first such survey.
    pub if_nothing_changes: Option<StillToll>,
    /// What the traps take of the animals in their reach, by closed form; left out where these have no end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub removed: Option<Removed>,
}

/// Toll over all years in the world without the stated change; by-catch is the same in both, other species that are
/// asked about are not.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct StillToll {
    /// Target animals.
    pub target: Spread,
    /// All animals, mean.
    pub total_mean: f64,
}

impl Toll {
    /// The toll over replicates of the world of change, year by year too if `by_year`; `None` without any.
    pub(super) fn of(
        scenario: &Checked,
        plan: &Plan,
        evidence: &Evidence,
        by_year: bool,
    ) -> Option<Self> {
        let (replicates, still) = (&evidence.change, &evidence.still);
        let years = replicates.first()?.killed.len();
        let groups = scenario.premises.killed_besides();
        let open: Vec<Option<f64>> = (0..groups.len())
            .map(|g| not_excluded(scenario, plan, g))
            .collect();
        let over = |range: std::ops::Range<usize>| {
            let sum = |values: &[f64]| range.clone().map(|y| values[y]).sum::<f64>();
            let target = Spread::of(replicates.iter().map(|r| sum(&r.killed)).collect());
            let mut all: Vec<f64> = replicates.iter().map(|r| sum(&r.killed)).collect();
            let mut bycatch = Vec::new();
            for (g, group) in groups.iter().map(|k| &k.group).enumerate() {
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
                    not_excluded: open[g].map(|n| n * range.len() as f64 / years as f64),
                });
            }
            (target, bycatch, Spread::of(all))
        };
        let (target, bycatch, total) = over(0..years);
        let each_year = if by_year { 0..years } else { 0..0 };
        let per_year = each_year
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
        // Where nothing can change, there is no other world.
        let other = !matches!(
            scenario.question.effect,
            Effect::Baseline(_) | Effect::Inventory(_)
        );
        let if_nothing_changes = (other && !still.is_empty()).then(|| {
            let target = Spread::of(still.iter().map(|r| r.killed.iter().sum()).collect());
            // The other species that are asked about do not change either.
            let share = still_share(scenario, plan);
            let mean = |(g, killed): (&GroupToll, &Killed)| {
                g.mean * if killed.asked_about { share } else { 1.0 }
            };
            let others = bycatch.iter().zip(&groups).map(mean).sum::<f64>();
            StillToll {
                target,
                total_mean: target.mean + others,
            }
        });
        let given = scenario.premises.tells_reproductives();
        let reproductives = given.then(|| {
            let n = replicates.len() as f64;
            let mean =
                |of: &dyn Fn(&Replicate) -> f64| replicates.iter().map(|r| of(r)).sum::<f64>() / n;
            let each = |of: &dyn Fn(&Replicate, usize) -> f64| -> Vec<f64> {
                (0..years).map(|y| mean(&|r| of(r, y))).collect()
            };
            let mut killed = vec![each(&|r, y| r.killed[y])];
            killed.extend((0..groups.len()).map(|g| each(&|r, y| r.bycatch[g * years + y])));
            ReproductiveToll::of(scenario, plan, &killed)
        });
        Some(Self {
            target,
            bycatch,
            total,
            per_year,
            reproductives: reproductives.flatten(),
            if_nothing_changes,
            removed: removed(scenario, plan),
        })
    }
}

/// Mean kill over all years at the high end of a premise whose value is 0.
fn not_excluded(scenario: &Checked, plan: &Plan, g: usize) -> Option<f64> {
    let premise = &scenario.premises.bycatch.get(g)?.catch_per_trap_week;
    let high = premise.high.filter(|h| premise.value == 0.0 && *h > 0.0)?;
    let mut other = scenario.clone().into_inner();
    other.premises.bycatch[g].catch_per_trap_week.value = high;
    let other = other.check().ok()?;
    expected_toll(&other, plan).bycatch.get(g).copied()
}
