//! The plan's first surveys, one by one, with what each comes to.

use crate::plan_run::PlanRun;
use crate::task::Courses;
use survey::futures::{Future, Futures, Shown, Stamp};
use survey::scenario::Checked;

/// Surveys shown of each world.
pub const FUTURES: u64 = 20;

/// The surveys of a run that has `courses`.
pub(crate) fn futures(scenario: &Checked, run: &PlanRun, courses: &Courses) -> Futures {
    let answer = run.answer(scenario);
    let (change, still) = run.stamps(scenario, FUTURES as usize);
    let each = |lines: &[Vec<Vec<Option<f64>>>], stamps: Vec<Stamp>| -> Vec<Future> {
        let pairs = lines.iter().zip(stamps).zip(1..);
        pairs
            .map(|((lines, stamp), number)| Future {
                number,
                stamp,
                lines: lines.clone(),
            })
            .collect()
    };
    Futures {
        shown: Shown::of(scenario),
        test: answer.test,
        power: answer.power,
        false_alarm: answer.false_alarm,
        toll: answer.toll.as_ref().map(|t| t.total.mean),
        cost: answer.cost.map(|c| c.total),
        change: each(&courses.change, change),
        still: each(&courses.still, still),
    }
}
