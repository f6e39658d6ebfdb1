//! The job of several species: one run for each.

use crate::plan_run::PlanRun;
use crate::task::Size;
use survey::scenario::Checked;
use survey::several::species;
use survey::summary::{OneSpecies, Several, several};

/// The runs: the plan once for each species, the target's first.
pub(crate) fn sizes(scenario: &Checked) -> Vec<Size> {
    (0..species(scenario))
        .map(|target| Size {
            target,
            ..Size::of(&scenario.plan)
        })
        .collect()
}

/// The answer from the runs of [`sizes`], in their order; `None` when the scenario asks of one species alone.
pub(crate) fn of(scenario: &Checked, runs: &[PlanRun]) -> Option<Several> {
    let scenarios: Vec<_> = runs.iter().map(|r| r.size.scenario(scenario)).collect();
    let plans: Vec<_> = runs.iter().map(|r| r.size.plan.clone()).collect();
    let each: Vec<OneSpecies> = runs
        .iter()
        .zip(&scenarios)
        .zip(&plans)
        .map(|((run, scenario), plan)| (&**scenario, plan, run.evidence()))
        .collect();
    several(&each)
}
