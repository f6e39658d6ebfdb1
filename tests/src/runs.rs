//! Jobs run to their end, one task after the other.

use engine::least::Least;
use engine::{Job, Kind, Report, Runner};
use survey::scenario::Checked;

/// What a job reports once it is finished, with the usual seed.
pub fn report(scenario: &Checked, kind: Kind, replicates: u64) -> Report {
    finish(
        Job::new(scenario.clone(), kind, Some(replicates)).unwrap(),
        scenario,
    )
}

/// The same of a job that is there already.
pub fn finish(job: Job, scenario: &Checked) -> Report {
    told(job, scenario).report()
}

/// A job once everything is told.
pub fn told(mut job: Job, scenario: &Checked) -> Job {
    let mut runner = Runner::new(scenario.clone(), engine::USUAL_SEED);
    while !job.finished() {
        let task = job.ask().unwrap();
        let outcome = runner.run(&task).unwrap();
        job.tell(task.id, outcome);
    }
    job
}

/// The least plan.
pub fn least(scenario: &Checked, replicates: u64) -> Least {
    match report(scenario, Kind::Least, replicates) {
        Report::Least(l) => *l,
        other => panic!("{other:?}"),
    }
}
