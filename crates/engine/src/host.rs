//! The engine as a worker sees it: bytes in, bytes out, by postcard.

use crate::runner::Runner;
use crate::task::{Courses, Outcome, Task};
use serde::{Deserialize, Serialize};
use survey::evaluate::Replicate;
use survey::scenario::{Checked, reread};
use survey::search::{Candidate, Relaxed, Screen};

/// Call it first in a program for browsers with vector instructions.
#[cfg(target_arch = "wasm32")]
pub use numerics::random::use_vectors;

/// What a shell says to a worker.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum ToWorker {
    /// A new job begins: later tasks with this number belong to this scenario (as JSON) and seed.
    Begin {
        /// Number of the job.
        job: u64,
        /// The scenario as its file's text.
        scenario: String,
        /// The seed.
        seed: u64,
    },
    /// Run a task.
    Run {
        /// Number of the job.
        job: u64,
        /// The task.
        task: Task,
    },
}

/// What a worker says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum FromWorker {
    /// It is up; said first, and after each `Begin`.
    Ready,
    /// Replicates of a task.
    Replicates {
        /// Number of the job.
        job: u64,
        /// The task.
        id: u64,
        /// Its replicates, for each size.
        replicates: Vec<Vec<Replicate>>,
    },
    /// What closed forms found, as JSON (plans have optional parts, which only JSON carries).
    Searched {
        /// Number of the job.
        job: u64,
        /// The task.
        id: u64,
        /// A [`Searched`] as JSON.
        found: String,
    },
    /// The lines of surveys.
    Courses {
        /// Number of the job.
        job: u64,
        /// The task.
        id: u64,
        /// The lines.
        courses: Courses,
    },
    /// A task could not be done.
    Problem {
        /// Number of the job.
        job: u64,
        /// The task, when one was meant.
        id: Option<u64>,
        /// What is wrong.
        text: String,
    },
}

impl FromWorker {
    /// The outcome it carries: job, task and outcome.
    pub fn outcome(self) -> Option<(u64, u64, Outcome)> {
        match self {
            Self::Replicates {
                job,
                id,
                replicates,
            } => Some((job, id, Outcome::Replicates(replicates))),
            Self::Searched { job, id, found } => {
                let outcome = match serde_json::from_str(&found).ok()? {
                    Searched::Screen(s) => Outcome::Screen(s),
                    Searched::Challengers(c) => Outcome::Challengers(c),
                    Searched::Relaxed(r) => Outcome::Relaxed(r),
                };
                Some((job, id, outcome))
            }
            Self::Courses { job, id, courses } => Some((job, id, Outcome::Courses(courses))),
            Self::Ready | Self::Problem { .. } => None,
        }
    }
}

/// Bytes of a message to a worker.
pub fn encode(message: &ToWorker) -> Vec<u8> {
    postcard::to_allocvec(message).unwrap_or_default()
}

/// A worker's message from its bytes; `None` when they are none.
pub fn decode(bytes: &[u8]) -> Option<FromWorker> {
    postcard::from_bytes(bytes).ok()
}

fn say(message: &FromWorker) -> Vec<u8> {
    postcard::to_allocvec(message).unwrap_or_default()
}

/// What a worker says first.
pub fn ready() -> Vec<u8> {
    say(&FromWorker::Ready)
}

/// Runs tasks for one worker.
#[derive(Default)]
pub struct Host {
    current: Option<(u64, Runner)>,
}

impl Host {
    /// A host that has been told nothing yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Answers one message.
    pub fn handle(&mut self, message: &[u8]) -> Vec<u8> {
        let reply = match postcard::from_bytes(message) {
            Ok(ToWorker::Begin {
                job,
                scenario,
                seed,
            }) => match checked(&scenario) {
                Ok(scenario) => {
                    self.current = Some((job, Runner::new(scenario, seed)));
                    FromWorker::Ready
                }
                Err(text) => FromWorker::Problem {
                    job,
                    id: None,
                    text,
                },
            },
            Ok(ToWorker::Run { job, task }) => self.run(job, &task),
            Err(e) => FromWorker::Problem {
                job: 0,
                id: None,
                text: format!("unreadable message: {e}"),
            },
        };
        say(&reply)
    }

    fn run(&mut self, job: u64, task: &Task) -> FromWorker {
        let id = task.id;
        let problem = |text: &str| FromWorker::Problem {
            job,
            id: Some(id),
            text: text.into(),
        };
        let Some((current, runner)) = &mut self.current else {
            return problem("no job has begun");
        };
        if *current != job {
            return problem("the task belongs to another job");
        }
        match runner.run(task) {
            Ok(Outcome::Replicates(replicates)) => FromWorker::Replicates {
                job,
                id,
                replicates,
            },
            Ok(Outcome::Screen(s)) => searched(job, id, &Searched::Screen(s)),
            Ok(Outcome::Challengers(c)) => searched(job, id, &Searched::Challengers(c)),
            Ok(Outcome::Relaxed(r)) => searched(job, id, &Searched::Relaxed(r)),
            Ok(Outcome::Courses(courses)) => FromWorker::Courses { job, id, courses },
            Err(text) => problem(&text),
        }
    }
}

/// What closed forms over many plans found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Searched {
    /// The screened plans.
    Screen(Screen),
    /// Plans that may still be the least.
    Challengers(Vec<Candidate>),
    /// The limits that bind.
    Relaxed(Vec<Relaxed>),
}

fn searched(job: u64, id: u64, found: &Searched) -> FromWorker {
    match serde_json::to_string(found) {
        Ok(found) => FromWorker::Searched { job, id, found },
        Err(e) => FromWorker::Problem {
            job,
            id: Some(id),
            text: e.to_string(),
        },
    }
}

fn checked(text: &str) -> Result<Checked, String> {
    let scenario = reread(text).map_err(|e| e.to_string())?;
    scenario.check().map_err(|faults| {
        faults
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("; ")
    })
}
