//! The job of what ignoring costs: two runs for each thing this world holds, one whose analysis is told of it and one
//! whose is not.

use crate::plan_run::PlanRun;
use crate::task::{Size, Told};
use serde::Serialize;
use survey::ignoring::{Cost, relevant, telling};
use survey::scenario::{Checked, Known};
use survey::summary::Answer;

/// What ignoring costs, one thing after another.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Ignoring {
    /// One line for each thing this world holds.
    pub costs: Vec<Cost>,
    /// What this world holds and could not be compared, with the reason.
    pub not_compared: Vec<NotCompared>,
}

/// Something that could not be compared.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NotCompared {
    /// What.
    pub of: Known,
    /// Why.
    pub why: String,
}

impl Ignoring {
    /// From the runs of [`sizes`], in their order.
    pub(crate) fn of(scenario: &Checked, runs: &[PlanRun]) -> Self {
        let answers: Vec<Answer> = runs.iter().map(|r| r.answer(scenario)).collect();
        let pairs = runs.chunks_exact(2).zip(answers.chunks_exact(2));
        let costs = pairs.filter_map(|(runs, answers)| {
            let of = runs[0].size.told?.of;
            Cost::new(of, &answers[0], &answers[1])
        });
        let refusal = |of| Some((of, refused(scenario, of)?));
        Self {
            costs: costs.collect(),
            not_compared: relevant(scenario)
                .into_iter()
                .filter_map(refusal)
                .map(|(of, why)| NotCompared { of, why })
                .collect(),
        }
    }
}

/// The runs: for each thing that can be compared first the one told, then the one not told.
pub(crate) fn sizes(scenario: &Checked) -> Vec<Size> {
    relevant(scenario)
        .into_iter()
        .filter(|&of| refused(scenario, of).is_none())
        .flat_map(|of| [true, false].map(|told| Told { of, told }))
        .map(|told| Size {
            told: Some(told),
            ..Size::of(&scenario.plan)
        })
        .collect()
}

/// Why an analysis cannot be told of something.
fn refused(scenario: &Checked, of: Known) -> Option<String> {
    let faults = [true, false].map(|told| telling(scenario, of, told).err());
    let fault = faults.into_iter().flatten().flatten().next()?;
    Some(fault.to_string())
}
