//! What the driver knows of its workers and jobs.

use engine::scenario::Plan;
use engine::{Beside, Job};
use std::collections::VecDeque;

/// The jobs that wait and the workers that do them.
#[derive(Default)]
pub(super) struct Desk {
    pub(super) workers: Vec<Seat>,
    pub(super) queue: VecDeque<Active>,
    pub(super) next_job: u64,
    /// Grows whenever all jobs are dropped: what was to follow them is then pointless.
    pub(super) round: u64,
    /// When the next look is due.
    pub(super) look: f64,
    /// Since when no work is handed out, because the user paused.
    pub(super) paused: Option<f64>,
}

/// What is known of a worker.
#[derive(Clone, Default)]
pub(super) struct Seat {
    pub(super) up: bool,
    /// The job whose scenario it has.
    pub(super) begun: Option<u64>,
    /// The jobs and tasks it has, [`super::AHEAD`] at most.
    pub(super) busy: Vec<(u64, u64)>,
    /// How often in a row it ended before it was up.
    pub(super) failed_starts: u32,
}

/// A job with what is known of it.
pub(super) struct Active {
    pub(super) number: u64,
    pub(super) what: &'static str,
    /// The plan it is of, when that is not the present one.
    pub(super) beside: Option<(Beside, Plan)>,
    pub(super) job: Job,
    pub(super) text: String,
    pub(super) seed: u64,
    pub(super) started: Option<f64>,
    /// A look at its results is on its way.
    pub(super) due: bool,
    /// Its first results have been looked at.
    pub(super) looked: bool,
    pub(super) deaths: u32,
}

impl Desk {
    /// A worker is done with a task.
    pub(super) fn done(&mut self, worker: usize, task: (u64, u64)) {
        self.workers[worker].busy.retain(|one| *one != task);
    }
}
