//! Hands the engine's tasks to the workers and the results to the model.

mod breakdown;
mod desk;

use crate::words::{jobs, workers as words};
use desk::{Active, Desk, Seat};

use super::model::{Model, Notice, Running};
use crate::apart::Begin;
use crate::browser::{IN_TURN, later, much_later, now};
use crate::pool::{Pool, PoolEvent, pool_size};
use engine::host::{FromWorker, ToWorker, decode, encode};
use engine::scenario::{Checked, Plan, write};
use engine::{Axis, Beside, Job, Kind, Refusal, Report};
use leptos::prelude::*;
use std::cell::RefCell;
use std::rc::Rc;

/// Milliseconds between two looks at a running job, at least.
const LOOK: f64 = 200.0;
/// The same in multiples of what the last look took, so that looking never takes up much of the time.
const LOOK_SHARE: f64 = 8.0;
/// Tasks a worker has at once: the second is at hand when the first is done.
const AHEAD: usize = 2;

/// A handle on the pool and the jobs.
#[derive(Clone)]
pub struct Driver {
    inner: Rc<Inner>,
}

struct Inner {
    model: Model,
    pool: RefCell<Option<Pool>>,
    desk: RefCell<Desk>,
}

impl Driver {
    /// Starts one worker for each core.
    pub fn start(model: Model) -> Self {
        let count = pool_size();
        let desk = Desk {
            workers: vec![Seat::default(); count],
            ..Desk::default()
        };
        let inner = Rc::new(Inner {
            model,
            pool: RefCell::new(None),
            desk: RefCell::new(desk),
        });
        let weak = Rc::downgrade(&inner);
        let pool = Pool::start(
            count,
            "worker.js",
            Rc::new(move |event| {
                if let Some(inner) = weak.upgrade() {
                    inner.hear(event);
                }
            }),
        );
        *inner.pool.borrow_mut() = Some(pool);
        Self { inner }
    }

    /// Drops all jobs; results still on their way are ignored.
    pub fn clear(&self) {
        self.inner.clear();
    }

    /// Drops all jobs because the user asked to.
    pub fn cancel(&self) {
        self.inner.cancel();
    }

    /// Hands out no more tasks; those under way are finished and counted.
    pub fn pause(&self) {
        self.inner.desk.borrow_mut().paused.get_or_insert_with(now);
        self.inner.show_progress();
    }

    /// Hands out tasks again.
    pub fn resume(&self) {
        self.inner.resume();
        self.inner.pump();
        self.inner.show_progress();
    }

    /// The answer, then the curve.
    pub fn answer_and_curve(&self, scenario: &Checked) {
        let job = Job::answer(scenario.clone(), self.inner.replicates());
        self.inner.push(jobs::ANSWER, scenario, job, Place::Last);
        self.inner.begin();
        // A list has an answer of its own, which must not stand behind that of its first species.
        if scenario.question.several.is_some() {
            let then = self.in_this_round(scenario, |inner, scenario, begin: Begin| {
                let job = begin(scenario.clone(), Kind::Several, inner.replicates());
                inner.push(jobs::SEVERAL, scenario, job, Place::BeforeCurve);
            });
            self.inner.model.with_apart(move |rest| then(rest.begin));
        }
        // The curve in a task of its own, so that the page answers the hand before it.
        self.inner.fit_axis(scenario);
        let then = self.in_this_round(scenario, |inner, scenario, ()| inner.push_curve(scenario));
        later(move || then(()));
    }

    /// What is to be pushed later, unless something else has begun by then.
    fn in_this_round<With>(
        &self,
        scenario: &Checked,
        push: impl FnOnce(&Inner, &Checked, With) + 'static,
    ) -> impl FnOnce(With) + 'static {
        let round = self.inner.desk.borrow().round;
        let (inner, scenario) = (Rc::downgrade(&self.inner), scenario.clone());
        move |with| {
            let Some(inner) = inner.upgrade() else { return };
            if inner.desk.borrow().round == round {
                push(&inner, &scenario, with);
                inner.pump();
                inner.show_progress();
            }
        }
    }

    /// The curve anew, over the model's axis.
    pub fn curve(&self, scenario: &Checked) {
        self.inner.push_curve(scenario);
        self.inner.begin();
    }

    /// The search for the least plan, before whatever else is waiting.
    pub fn least(&self, scenario: &Checked, begin: Begin) {
        self.at_once(jobs::LEAST, scenario, Kind::Least, begin);
    }

    /// What ignoring costs, before whatever else is waiting.
    pub fn ignoring(&self, scenario: &Checked, begin: Begin) {
        self.at_once(jobs::IGNORING, scenario, Kind::Ignoring, begin);
    }

    /// Surveys to look at, and the same under other plans, before whatever else is waiting.
    pub fn futures(&self, scenario: &Checked, others: &[(Beside, Checked)], begin: Begin) {
        let inner = &self.inner;
        inner.drop_all(jobs::FUTURES);
        // The last that is pushed to the front comes first.
        for (beside, other) in others.iter().rev() {
            let job = begin(other.clone(), Kind::Futures, inner.replicates());
            inner.push_of(jobs::FUTURES, other, job, Place::First, Some(*beside));
        }
        let job = begin(scenario.clone(), Kind::Futures, inner.replicates());
        inner.push(jobs::FUTURES, scenario, job, Place::First);
        inner.begin();
    }

    /// Several species at once, before whatever else is waiting.
    pub fn several(&self, scenario: &Checked, begin: Begin) {
        self.at_once(jobs::SEVERAL, scenario, Kind::Several, begin);
    }

    /// Planned looks, before whatever else is waiting.
    pub fn looks(&self, scenario: &Checked, begin: Begin) {
        self.at_once(jobs::LOOKS, scenario, Kind::Looks, begin);
    }

    fn at_once(&self, what: &'static str, scenario: &Checked, kind: Kind, begin: Begin) {
        self.inner.drop_all(what);
        let job = begin(scenario.clone(), kind, self.inner.replicates());
        self.inner.push(what, scenario, job, Place::First);
        self.inner.begin();
    }
}

/// Where a job goes among those that wait.
#[derive(Clone, Copy)]
enum Place {
    First,
    BeforeCurve,
    Last,
}

impl Inner {
    /// Ends a pause, whose time does not count as spent.
    fn resume(&self) {
        let mut desk = self.desk.borrow_mut();
        if let Some(since) = desk.paused.take() {
            let pause = now() - since;
            for active in &mut desk.queue {
                active.started = active.started.map(|s| s + pause);
            }
        }
    }

    fn clear(&self) {
        let mut desk = self.desk.borrow_mut();
        desk.round += 1;
        desk.queue.clear();
        desk.paused = None;
        drop(desk);
        self.model.running.set(Running::default());
    }

    fn cancel(&self) {
        let last = self.model.running.get_untracked();
        // What came since the last look is kept too.
        let begun: Vec<_> = {
            let desk = self.desk.borrow();
            let begun = desk.queue.iter().filter(|a| a.started.is_some());
            begun.map(|a| (a.job.report(), a.beside.clone())).collect()
        };
        for (report, beside) in begun {
            self.publish(report, beside.as_ref());
        }
        self.clear();
        self.model.running.set(Running {
            cancelled: true,
            paused: false,
            left: None,
            ..last
        });
    }

    /// Simulated surveys wanted of each plan and world.
    fn replicates(&self) -> Option<u64> {
        Some(self.model.replicates.get_untracked())
    }

    /// Drops the jobs of one sort.
    fn drop_all(&self, what: &'static str) {
        let mut desk = self.desk.borrow_mut();
        desk.queue.retain(|a| a.what != what);
    }

    /// The model's axis becomes the sites where another question's plan lacks the part that the curve ran over.
    fn fit_axis(&self, scenario: &Checked) {
        let axis = self.model.axis;
        if !axis.get_untracked().belongs_to(scenario) {
            axis.set(Axis::Sites);
        }
    }

    /// The curve over the model's axis, in place of any other.
    fn push_curve(&self, scenario: &Checked) {
        self.drop_all(jobs::CURVE);
        self.fit_axis(scenario);
        let over = self.model.axis.get_untracked();
        let values = over.around(scenario);
        let job = Job::curve(scenario.clone(), over, &values, self.replicates());
        self.push(jobs::CURVE, scenario, job, Place::Last);
    }

    fn push(
        &self,
        what: &'static str,
        scenario: &Checked,
        job: Result<Job, Refusal>,
        place: Place,
    ) {
        self.push_of(what, scenario, job, place, None);
    }

    /// Pushes a job, of another plan than the present one when `beside` says which; or says why it is refused.
    fn push_of(
        &self,
        what: &'static str,
        scenario: &Checked,
        job: Result<Job, Refusal>,
        place: Place,
        beside: Option<Beside>,
    ) {
        let job = match job {
            Ok(job) => job,
            Err(refusal) => {
                return self.complain(jobs::refused(what, &refusal.to_string()));
            }
        };
        let beside = beside.map(|b| (b, scenario.as_written().plan.clone()));
        let active = {
            let mut desk = self.desk.borrow_mut();
            desk.next_job += 1;
            let (number, text) = (desk.next_job, write(scenario.as_written()));
            let seed = self.model.seed.get_untracked();
            Active {
                number,
                what,
                beside,
                job,
                text,
                seed,
                started: None,
                due: false,
                looked: false,
                deaths: 0,
            }
        };
        self.publish(active.job.report(), active.beside.as_ref());
        let mut desk = self.desk.borrow_mut();
        let end = desk.queue.len();
        let at = match place {
            Place::First => 0,
            Place::Last => end,
            Place::BeforeCurve => {
                let curve = desk.queue.iter().position(|a| a.what == jobs::CURVE);
                curve.unwrap_or(end)
            }
        };
        desk.queue.insert(at, active);
    }

    /// Begins what was pushed. The progress is shown at once: until the first result it would otherwise
    /// read as if everything were computed.
    fn begin(&self) {
        // Whoever asks for something new wants it computed.
        self.resume();
        self.retry_lost();
        self.pump();
        self.show_progress();
    }

    fn complain(&self, line: String) {
        self.model.notice.set(Some(Notice {
            bad: true,
            lines: vec![line],
        }));
    }

    fn publish(&self, report: Report, beside: Option<&(Beside, Plan)>) {
        match report {
            Report::Futures(futures) if beside.is_some() => {
                let Some((of, plan)) = beside.cloned() else {
                    return;
                };
                self.model.futures_beside.update(|all| {
                    all.retain(|(b, _, _)| *b != of);
                    all.push((of, plan, *futures));
                });
            }
            Report::Answer(answer) => self.model.answer.set(Some(*answer)),
            Report::Curve(curve) => self.model.curve.set(Some(curve)),
            Report::Least(least) => self.model.least.set(Some(*least)),
            Report::Ignoring(ignoring) => self.model.ignoring.set(Some(ignoring)),
            Report::Futures(futures) => self.model.futures.set(Some(*futures)),
            Report::Several(several) => self.model.several.set(Some(*several)),
            Report::Looks(looks) => self.model.looks.set(Some(*looks)),
        }
    }

    /// Gives every idle worker a task, from the first job that has one.
    fn pump(&self) {
        let mut posts = Vec::new();
        {
            let mut desk = self.desk.borrow_mut();
            let desk = &mut *desk;
            if desk.paused.is_some() {
                return;
            }
            // First one task for each worker, then one ahead.
            let places =
                (1..=AHEAD).flat_map(|most| (0..desk.workers.len()).map(move |w| (most, w)));
            for (most, worker) in places.collect::<Vec<_>>() {
                let seat = &mut desk.workers[worker];
                if !seat.up || seat.busy.len() >= most {
                    continue;
                }
                let found = desk
                    .queue
                    .iter_mut()
                    .find_map(|a| a.job.ask().map(|task| (a, task)));
                let Some((active, task)) = found else {
                    continue;
                };
                active.started.get_or_insert_with(now);
                if seat.begun != Some(active.number) {
                    seat.begun = Some(active.number);
                    let (job, scenario, seed) = (active.number, active.text.clone(), active.seed);
                    posts.push((
                        worker,
                        encode(&ToWorker::Begin {
                            job,
                            scenario,
                            seed,
                        }),
                    ));
                }
                seat.busy.push((active.number, task.id));
                posts.push((
                    worker,
                    encode(&ToWorker::Run {
                        job: active.number,
                        task,
                    }),
                ));
            }
        }
        if let Some(pool) = &*self.pool.borrow() {
            for (worker, bytes) in posts {
                pool.post(worker, &bytes);
            }
        }
    }

    fn hear(self: &Rc<Self>, event: PoolEvent) {
        match event {
            PoolEvent::Message { worker, bytes } => match decode(&bytes) {
                Some(FromWorker::Ready) => {
                    let seat = &mut self.desk.borrow_mut().workers[worker];
                    (seat.up, seat.failed_starts) = (true, 0);
                }
                Some(FromWorker::Problem { job, id, text }) => {
                    if let Some(id) = id {
                        self.desk.borrow_mut().done(worker, (job, id));
                    }
                    self.give_up(job, &text);
                }
                Some(message) => self.take(worker, message),
                None => self.lose(worker, words::UNREADABLE),
            },
            PoolEvent::Died { worker, reason } => self.lose(worker, &reason),
        }
        self.pump();
    }

    fn take(self: &Rc<Self>, worker: usize, message: FromWorker) {
        let Some((number, id, outcome)) = message.outcome() else {
            return self.lose(worker, words::UNREADABLE_ANSWER);
        };
        self.desk.borrow_mut().done(worker, (number, id));
        let mut desk = self.desk.borrow_mut();
        let desk = &mut *desk;
        let Some(active) = desk.queue.iter_mut().find(|a| a.number == number) else {
            return;
        };
        active.job.tell(id, outcome);
        // The first results of a job are looked at at once.
        let wanted = active.job.finished() || !active.looked || now() > desk.look;
        if wanted && !active.due {
            active.due = true;
            self.look_later(number);
        }
    }

    fn look_later(self: &Rc<Self>, number: u64) {
        let inner = Rc::downgrade(self);
        later(move || {
            if let Some(inner) = inner.upgrade() {
                inner.look(number);
            }
        });
    }

    /// Looks at what a job says by now, in a task of its own: the page stays free for the hand between looks. A job that
    /// is finished leaves the desk with its last look.
    fn look(self: &Rc<Self>, number: u64) {
        let (report, time, beside) = {
            let mut desk = self.desk.borrow_mut();
            let desk = &mut *desk;
            // Of another round.
            let Some(place) = desk.queue.iter().position(|a| a.number == number) else {
                return;
            };
            let active = &mut desk.queue[place];
            if active.job.prepare() {
                return self.look_later(number);
            }
            active.due = false;
            let time = now();
            let told = active.job.report();
            // The world without the change may come first, which says nothing of the power.
            active.looked |= !matches!(&told, Report::Answer(a) if a.power.replicates == 0);
            let beside = active.beside.clone();
            if active.job.finished() {
                desk.queue.remove(place);
            }
            (told, time, beside)
        };
        self.publish(report, beside.as_ref());
        // After the pictures, which have tasks of their own: what is called computed is drawn too.
        let (inner, round) = (Rc::downgrade(self), self.desk.borrow().round);
        much_later(IN_TURN + 1, move || {
            if let Some(inner) = inner.upgrade()
                && inner.desk.borrow().round == round
            {
                inner.show_progress();
            }
        });
        let took = now() - time;
        self.desk.borrow_mut().look = now() + LOOK.max(LOOK_SHARE * took);
    }

    fn show_progress(&self) {
        let running = {
            let desk = self.desk.borrow();
            desk.queue.front().map_or(Running::default(), |a| {
                let p = a.job.progress();
                let until = desk.paused.unwrap_or_else(now);
                let spent = a.started.map_or(0.0, |s| until - s) / 1000.0;
                let left = (p.done > 0).then(|| spent / p.done as f64 * (p.total - p.done) as f64);
                Running {
                    what: a.what,
                    done: p.done,
                    total: p.total,
                    left,
                    cancelled: false,
                    paused: desk.paused.is_some(),
                }
            })
        };
        self.model.running.set(running);
    }
}
