//! The job of planned looks: one survey analysed after each year that can be tested.

use crate::plan_run::PlanRun;
use crate::task::Size;
use survey::looks::{LooksPlan, LooksPreview, Trouble, looks_plan, looks_preview};
use survey::scenario::Checked;
use survey::summary::{Evidence, LooksAnswer, analysed_years, looks_answer};

/// What hangs on the scenario alone: worked out once, when the job begins.
#[derive(Clone, Debug)]
pub(crate) struct Planned {
    plan: LooksPlan,
    preview: LooksPreview,
}

impl Planned {
    pub fn new(scenario: &Checked) -> Result<Self, Trouble> {
        let plan = looks_plan(scenario)?;
        let preview = looks_preview(scenario, &plan);
        Ok(Self { plan, preview })
    }

    /// The answer from the runs of [`sizes`], in their order.
    pub fn answer(&self, scenario: &Checked, runs: &[PlanRun]) -> LooksAnswer {
        let evidence: Vec<Evidence> = runs.iter().map(PlanRun::evidence).collect();
        looks_answer(scenario, &self.plan, &self.preview, &evidence)
    }
}

/// The runs: parts of one survey, which are drawn together.
pub(crate) fn sizes(scenario: &Checked) -> Vec<Size> {
    // Looks are those of one number of years.
    let of = |years| {
        let mut size = Size::of(&scenario.plan);
        size.plan.looks = size.plan.looks.filter(|_| years == scenario.plan.years);
        size.plan.years = years;
        size
    };
    analysed_years(scenario).into_iter().map(of).collect()
}

/// What is known of a scenario's looks before anything is simulated: lines and closed forms.
///
/// # Errors
/// When it plans none, or none that can be.
pub fn looks_foreseen(scenario: &Checked) -> Result<LooksAnswer, Trouble> {
    let planned = Planned::new(scenario)?;
    let nothing = || Evidence {
        change: Vec::new(),
        still: Vec::new(),
        complete: false,
    };
    let evidence: Vec<Evidence> = sizes(scenario).iter().map(|_| nothing()).collect();
    Ok(looks_answer(
        scenario,
        &planned.plan,
        &planned.preview,
        &evidence,
    ))
}
