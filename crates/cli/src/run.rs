//! Runs a job on all cores.

use crate::arguments::Simulation;
use crate::failure::Failure;
use engine::scenario::Checked;
use engine::{Job, Kind, Report, Runner};
use std::sync::{Condvar, Mutex, PoisonError};

struct Shared {
    job: Job,
    problem: Option<String>,
}

/// Runs a job to its end. The threads share nothing but the list of tasks, so their number changes no digit.
pub fn run(scenario: Checked, kind: Kind, arguments: &Simulation) -> Result<Report, Failure> {
    let job = Job::new(scenario.clone(), kind, Some(arguments.replicates))
        .map_err(|e| Failure::Refused(e.to_string()))?;
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let threads = arguments.threads.unwrap_or(cores);
    if threads == 0 {
        return Err(Failure::Usage("--threads is 0: give 1 or more".into()));
    }
    let shared = Mutex::new(Shared { job, problem: None });
    let told = Condvar::new();
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                work(
                    &shared,
                    &told,
                    Runner::new(scenario.clone(), arguments.seed),
                )
            });
        }
    });
    let shared = shared.into_inner().unwrap_or_else(PoisonError::into_inner);
    match shared.problem {
        Some(text) => Err(Failure::Refused(text)),
        None => Ok(shared.job.report()),
    }
}

fn work(shared: &Mutex<Shared>, told: &Condvar, mut runner: Runner) {
    let lock = || shared.lock().unwrap_or_else(PoisonError::into_inner);
    let mut state = lock();
    loop {
        if state.problem.is_some() || state.job.finished() {
            told.notify_all();
            return;
        }
        let Some(task) = state.job.ask() else {
            // Another thread has the last task out; its outcome may bring more.
            state = told.wait(state).unwrap_or_else(PoisonError::into_inner);
            continue;
        };
        drop(state);
        let outcome = runner.run(&task);
        state = lock();
        match outcome {
            Ok(outcome) => state.job.tell(task.id, outcome),
            Err(text) => state.problem = Some(text),
        }
        told.notify_all();
    }
}
