//! What limits a plan: how much of the doubt each source makes, and what unlimited traps and sites would leave.
//!
//! A source's share is what the estimate's variance falls by when that source alone is set to 0 (for a claim of absence, what
//! the smallest density falls by that finding none excludes). Where the closed form is a sum of the sources (declines and groups
//! with traps that are alike) the shares add up to 1; where it is not (generalised least squares weighs anew, effects
//! multiply) they need not, which [`Limiting::sum`] tells. The mean catch is held as spreads that enter it are set to 0.

mod floor;
mod source;
#[cfg(test)]
mod tests;

pub use floor::{FEWEST_SITES, Floor, FloorOfYears, MOST_YEARS, NoFloor};
pub use source::Source;

use crate::closed_form::{
    Clustering, Gradual, clustering, effect_size, in_words_of_question, preview, preview_at_stated,
    variances_at,
};
use crate::scenario::{Checked, Effect, Plan};
use floor::{floor_in, has_floor, unlimited_traps};
use serde::Serialize;
use source::{sources, without, without_losses};

/// What shares are shares of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// The variance of the estimate.
    Variance,
    /// The smallest density that finding none excludes with the wanted power.
    SmallestDensity,
}

/// One source of doubt.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Part {
    /// What it is.
    pub source: Source,
    /// By how much the measure falls without it, over the measure; `null` where the closed form does not tell.
    pub share: Option<f64>,
    /// Smallest change found without it, in the question's unit; `null` when none is, or where it is not told (edges, and
    /// what perfect detection leaves).
    pub smallest_without: Option<f64>,
}

/// What limits a plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Limiting {
    /// What shares are shares of.
    pub measure: Measure,
    /// The measure of the plan as it is.
    pub value: f64,
    /// Smallest change found with the wanted power, in the question's unit; `null` when none is.
    pub smallest: Option<f64>,
    /// The wanted change in the same unit.
    pub wanted: f64,
    /// Largest first.
    pub parts: Vec<Part>,
    /// Sum of the shares that are known.
    pub sum: f64,
    /// Whether the shares add up to 1 within two hundredths: each is then a part of the whole.
    pub additive: bool,
    /// The plan if nothing were lost, late or given up; `null` where nothing is.
    pub losses: Option<Part>,
    /// Smallest change that unlimited traps at the same sites would find; `null` when none is, or where the question is of
    /// another kind or animals have an end, which such traps would take.
    pub unlimited_traps: Option<f64>,
    /// The floor set by years.
    pub floor: Option<Floor>,
    /// Why years set no floor.
    pub no_floor: Option<NoFloor>,
    /// How many independent traps the plan's are worth; `null` where the question's estimate is no mean of log catches.
    pub clustering: Option<Clustering>,
}

/// What is asked of an inventory is a share of species, which no variance tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotTold;

/// The measure of a plan; NaN or infinite where it is not known.
fn measured(scenario: &Checked, plan: &Plan) -> f64 {
    match &scenario.question.effect {
        Effect::Absence(_) => preview(scenario, plan).smallest_change,
        Effect::Baseline(_) => {
            let se = preview_at_stated(scenario, plan).se;
            se * se
        }
        _ => variances_at(scenario, plan, effect_size(scenario)).truth,
    }
}

fn finite(v: f64) -> Option<f64> {
    v.is_finite().then_some(v)
}

/// Whose smallest change is searched for.
#[derive(Clone, Copy, Debug)]
enum Of {
    Plan,
    Part,
    Losses,
    UnlimitedTraps,
    Years(u32),
}

#[derive(Clone, Copy, Debug)]
enum Step {
    Plan,
    Part(Source),
    Losses,
    UnlimitedTraps,
    Years(u32),
}

/// The work in small steps, so that whoever must not be kept waiting can take one at a time.
#[derive(Debug)]
pub struct Work {
    scenario: Checked,
    steps: Vec<Step>,
    found: Limiting,
    by_years: Vec<FloorOfYears>,
    search: Option<(Of, Checked, Gradual)>,
}

impl Work {
    /// Of the scenario's plan.
    ///
    /// # Errors
    /// For an inventory.
    pub fn new(scenario: &Checked) -> Result<Self, NotTold> {
        if matches!(scenario.question.effect, Effect::Inventory(_)) {
            return Err(NotTold);
        }
        let plan = &scenario.plan;
        let mut steps = vec![Step::Plan];
        steps.extend(sources(scenario).into_iter().map(Step::Part));
        let p = &scenario.premises;
        if [&p.trap_loss, &p.attrition, &p.late_share]
            .iter()
            .any(|l| l.value > 0.0)
        {
            steps.push(Step::Losses);
        }
        if clustering(scenario, plan).is_some() && p.local_population.is_none() {
            steps.push(Step::UnlimitedTraps);
        }
        let floor = has_floor(scenario);
        if floor.is_ok() {
            steps.extend(floor::years(scenario).into_iter().map(Step::Years));
        }
        // Taken from the end.
        steps.reverse();
        let value = measured(scenario, plan);
        Ok(Self {
            steps,
            by_years: Vec::new(),
            search: None,
            found: Limiting {
                measure: match scenario.question.effect {
                    Effect::Absence(_) => Measure::SmallestDensity,
                    _ => Measure::Variance,
                },
                value,
                smallest: None,
                wanted: in_words_of_question(scenario, effect_size(scenario)),
                parts: Vec::new(),
                sum: 0.0,
                additive: false,
                losses: None,
                unlimited_traps: None,
                floor: floor.is_ok().then(Floor::default),
                no_floor: floor.err(),
                clustering: clustering(scenario, plan),
            },
            scenario: scenario.clone(),
        })
    }

    /// The part without its smallest change.
    fn part(&self, source: Source, without: &Checked) -> Part {
        let left = measured(without, &without.plan);
        Part {
            source,
            share: finite(1.0 - left / self.found.value),
            smallest_without: None,
        }
    }

    /// Takes one step; false when all are done.
    pub fn step(&mut self) -> bool {
        if let Some((of, s, mut search)) = self.search.take() {
            if search.step(&s) {
                self.search = Some((of, s, search));
                return true;
            }
            self.note(of, &search);
            return !self.steps.is_empty();
        }
        let Some(step) = self.steps.pop() else {
            return false;
        };
        let (of, s) = match step {
            Step::Plan => (Of::Plan, self.scenario.clone()),
            // What perfect detection leaves.
            Step::Part(Source::Occupied) => {
                self.found.parts.push(Part {
                    source: Source::Occupied,
                    share: None,
                    smallest_without: None,
                });
                return !self.steps.is_empty();
            }
            Step::Part(source) => {
                let s = without(&self.scenario, source);
                let part = self.part(source, &s);
                self.found.parts.push(part);
                // The critical value of an edge's test moves with what is missed, by more than its closed form is good for.
                if s.edge().is_some() {
                    return !self.steps.is_empty();
                }
                (Of::Part, s)
            }
            Step::Losses => {
                let s = without_losses(&self.scenario);
                self.found.losses = Some(self.part(Source::Losses, &s));
                (Of::Losses, s)
            }
            Step::UnlimitedTraps => (Of::UnlimitedTraps, unlimited_traps(&self.scenario)),
            Step::Years(years) => (Of::Years(years), floor_in(&self.scenario, years)),
        };
        self.search = Some((of, s, Gradual::default()));
        true
    }

    /// Notes what a search has found.
    fn note(&mut self, of: Of, search: &Gradual) {
        let smallest = finite(search.smallest);
        match of {
            Of::Plan => self.found.smallest = smallest,
            Of::Part => {
                if let Some(part) = self.found.parts.last_mut() {
                    part.smallest_without = smallest;
                }
            }
            Of::Losses => {
                if let Some(part) = &mut self.found.losses {
                    part.smallest_without = smallest;
                }
            }
            Of::UnlimitedTraps => self.found.unlimited_traps = smallest,
            Of::Years(years) => self.by_years.push(FloorOfYears {
                years,
                smallest,
                power: search.power,
            }),
        }
    }

    /// What has been found, when all steps are done.
    pub fn finish(mut self) -> Limiting {
        while self.step() {}
        let mut found = self.found;
        let detection = found.parts.iter().find(|p| p.source == Source::Detection);
        let left = detection.and_then(|p| p.share).map(|share| 1.0 - share);
        for part in found
            .parts
            .iter_mut()
            .filter(|p| p.source == Source::Occupied)
        {
            part.share = left;
        }
        found.parts.sort_by(|a, b| {
            let share = |p: &Part| p.share.unwrap_or(0.0);
            share(b).total_cmp(&share(a))
        });
        found.sum = found.parts.iter().filter_map(|p| p.share).sum();
        found.additive = (found.sum - 1.0).abs() < 0.02;
        if let Some(floor) = &mut found.floor {
            *floor = Floor::of(&self.scenario, self.by_years);
        }
        found
    }
}

/// What limits the scenario's plan.
///
/// # Errors
/// For an inventory.
pub fn limiting(scenario: &Checked) -> Result<Limiting, NotTold> {
    Ok(Work::new(scenario)?.finish())
}
