//! What happens when a worker or a job breaks down.

use super::{Inner, Seat};
use crate::words::{jobs, workers as words};

/// Deaths of workers in one job after which it is given up.
const DEATHS: u32 = 6;
/// Starts in a row that may fail before a worker is left alone: a file that is missing stays missing.
const STARTS: u32 = 4;

impl Inner {
    /// A worker is gone: its tasks go back, and another worker takes its place.
    pub(super) fn lose(&self, worker: usize, reason: &str) {
        let seat = std::mem::take(&mut self.desk.borrow_mut().workers[worker]);
        if !seat.up && self.start_failed(worker, seat.failed_starts + 1, reason) {
            return;
        }
        // It died of the first of its tasks; the others had not begun.
        let mut too_often = None;
        {
            let mut desk = self.desk.borrow_mut();
            for (place, &(number, id)) in seat.busy.iter().enumerate() {
                if let Some(active) = desk.queue.iter_mut().find(|a| a.number == number) {
                    active.job.give_back(id);
                    if place == 0 {
                        active.deaths += 1;
                        too_often = (active.deaths >= DEATHS).then_some(number);
                    }
                }
            }
        }
        if let Some(number) = too_often {
            self.give_up(number, reason);
        } else {
            self.complain(words::replaced(reason));
        }
        self.restart(worker);
    }

    /// Counts a start that failed; whether it was one too many, so that the worker is left alone.
    fn start_failed(&self, worker: usize, failed_starts: u32, reason: &str) -> bool {
        let all_lost = {
            let workers = &mut self.desk.borrow_mut().workers;
            workers[worker].failed_starts = failed_starts;
            workers.iter().all(lost)
        };
        if failed_starts < STARTS {
            return false;
        }
        self.complain(words::left_alone(reason));
        if all_lost {
            self.cancel();
        }
        true
    }

    /// Gives workers that were left alone another chance, because the user asks for something new.
    pub(super) fn retry_lost(&self) {
        let mut again = Vec::new();
        for (worker, seat) in self.desk.borrow_mut().workers.iter_mut().enumerate() {
            if lost(seat) {
                *seat = Seat::default();
                again.push(worker);
            }
        }
        again.into_iter().for_each(|worker| self.restart(worker));
    }

    fn restart(&self, worker: usize) {
        if let Some(pool) = &*self.pool.borrow() {
            pool.restart(worker);
        }
    }

    /// Drops a job and says what is lost.
    pub(super) fn give_up(&self, number: u64, why: &str) {
        let what = {
            let mut desk = self.desk.borrow_mut();
            let Some(place) = desk.queue.iter().position(|a| a.number == number) else {
                return;
            };
            desk.queue.remove(place).map_or(jobs::UNKNOWN, |a| a.what)
        };
        self.complain(jobs::given_up(what, why));
        self.show_progress();
    }
}

fn lost(seat: &Seat) -> bool {
    !seat.up && seat.failed_starts >= STARTS
}
