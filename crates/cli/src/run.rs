//! Runs a job on all cores.

use crate::arguments::Simulation;
use crate::failure::Failure;
use crate::progress::{self, Line};
use engine::scenario::Checked;
use engine::{Job, Kind, Report, Runner};
use std::sync::{Condvar, Mutex, PoisonError};
use std::thread::ScopedJoinHandle;
use std::time::Instant;

struct Shared {
    job: Job,
    problem: Option<String>,
}

impl Shared {
    fn ended(&self) -> bool {
        self.problem.is_some() || self.job.finished()
    }
}

/// Runs a job to its end. The threads share nothing but the list of tasks, so their number changes no digit.
pub fn run(scenario: Checked, kind: Kind, arguments: &Simulation) -> Result<Report, Failure> {
    let known = kind != Kind::Least;
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
        let one = || {
            let runner = Runner::new(scenario.clone(), arguments.seed);
            work(&shared, &told, runner);
        };
        let workers: Vec<_> = (0..threads).map(|_| scope.spawn(one)).collect();
        // One that broke down ends without a word, and is seen when the scope ends.
        watch(&shared, &told, known, || {
            workers.iter().all(ScopedJoinHandle::is_finished)
        });
    });
    let shared = shared.into_inner().unwrap_or_else(PoisonError::into_inner);
    match shared.problem {
        Some(text) => Err(Failure::Refused(text)),
        None => Ok(shared.job.report()),
    }
}

/// Says how far the job is until it ends, or all who work at it have left.
fn watch(shared: &Mutex<Shared>, told: &Condvar, known: bool, left: impl Fn() -> bool) {
    let lock = || shared.lock().unwrap_or_else(PoisonError::into_inner);
    let mut line = Line::new(known);
    let mut next = Instant::now();
    let mut state = lock();
    while !state.ended() && !left() {
        if Instant::now() >= next {
            next = Instant::now() + progress::EVERY;
            let progress = state.job.progress();
            // A terminal that is held keeps nobody from working.
            drop(state);
            line.show(progress);
            state = lock();
            continue;
        }
        let waited = told.wait_timeout(state, progress::EVERY);
        state = waited.unwrap_or_else(PoisonError::into_inner).0;
    }
}

fn work(shared: &Mutex<Shared>, told: &Condvar, mut runner: Runner) {
    let lock = || shared.lock().unwrap_or_else(PoisonError::into_inner);
    let mut state = lock();
    loop {
        if state.ended() {
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
