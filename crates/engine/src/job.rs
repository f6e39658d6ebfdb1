//! A job: what is asked, split into tasks, merged in order.

mod search;
mod told;
mod ways;

use crate::ignoring::{self, Ignoring};
use crate::least::{Bracket, Least, Proof, SMALLER_SHOWN};
use crate::looks::{self, Planned};
use crate::plan_run::PlanRun;
use crate::several;
use crate::task::{Courses, Outcome, Size, Task, Work};
use crate::{MOST_REPLICATES, USUAL_REPLICATES, together};
use serde::Serialize;
use std::cell::OnceCell;
use std::collections::BTreeMap;
use survey::axis::{Axis, MOST_POINTS};
use survey::futures::Futures;
use survey::looks::Trouble;
use survey::scenario::{Checked, Fault, Scenario};
use survey::search::{Relaxed, Screen};
use survey::summary::{Answer, Curve, LooksAnswer, Several};
use thiserror::Error;
use ways::Ways;

/// What is asked of a scenario.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// Power and toll of the plan.
    Answer,
    /// Power and toll along an axis.
    Curve {
        /// The axis.
        over: Axis,
        /// The numbers on it.
        values: Vec<u32>,
    },
    /// The plan with the smallest toll that answers.
    Least,
    /// What it costs when the analysis is not told of what the world holds.
    Ignoring,
    /// The plan's first surveys, one by one.
    Futures,
    /// Power and toll of the plan for several species at once.
    Several,
    /// The plan's looks: where surveys stop, what that costs in power and spares in animals.
    Looks,
}

/// Why a job is not taken.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Refusal {
    /// Too few or too many replicates.
    #[error("replicates is {0}: give a whole number from 1 to {MOST_REPLICATES}")]
    Replicates(u64),
    /// A curve without points or with too many.
    #[error("the curve has {0} points: give 1 to {MOST_POINTS}")]
    Points(usize),
    /// Several species are asked about and the scenario names one.
    #[error("the scenario asks of one species alone: give premises.others and question.several")]
    OneSpecies,
    /// Looks are asked about that cannot be planned.
    #[error("{0}")]
    Looks(#[from] Trouble),
    /// A point of the curve is not a plan.
    #[error("at {axis} = {value}: {fault}")]
    Point {
        /// The axis' key.
        axis: &'static str,
        /// The number.
        value: u32,
        /// What is wrong.
        fault: Fault,
    },
}

/// How far a job is, in replicates; of a search the total is an estimate that grows with its probes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// Done.
    pub done: u64,
    /// Wanted.
    pub total: u64,
}

/// What a job says, in part while it runs and in full when finished.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Report {
    /// Of [`Kind::Answer`].
    Answer(Box<Answer>),
    /// Of [`Kind::Curve`].
    Curve(Curve),
    /// Of [`Kind::Least`].
    Least(Box<Least>),
    /// Of [`Kind::Ignoring`].
    Ignoring(Ignoring),
    /// Of [`Kind::Futures`].
    Futures(Box<Futures>),
    /// Of [`Kind::Several`].
    Several(Box<Several>),
    /// Of [`Kind::Looks`].
    Looks(Box<LooksAnswer>),
}

/// A running job.
#[derive(Clone, Debug)]
pub struct Job {
    scenario: Checked,
    kind: Kind,
    ways: Ways,
    replicates: u64,
    chunk: Option<u64>,
    runs: Vec<PlanRun>,
    /// Which of the runs known from the beginning are drawn together.
    groups: Vec<Vec<usize>>,
    screen: Option<Screen>,
    /// Degrees of freedom and noncentrality of the frontier's plans, once asked for.
    stated: Vec<OnceCell<(f64, f64)>>,
    screening: bool,
    courses: Option<Courses>,
    courses_asked: bool,
    looks: Option<Planned>,
    bracket: Bracket,
    /// What the plan found is held against.
    proof: Option<Proof>,
    /// Whether points of the frontier are simulated for the picture: the last step.
    confirming: bool,
    relaxing: bool,
    relaxed: Option<Vec<Relaxed>>,
    out: BTreeMap<u64, Task>,
    returned: Vec<Task>,
    next_id: u64,
}

impl Job {
    /// A job of `replicates` simulated surveys for each plan and world ([`USUAL_REPLICATES`] when `None`).
    ///
    /// # Errors
    /// When the replicates or the curve's points are out of bounds, or several species are asked about and there is one.
    pub fn new(scenario: Checked, kind: Kind, replicates: Option<u64>) -> Result<Self, Refusal> {
        let (sizes, ways) = match &kind {
            Kind::Answer => return Self::answer(scenario, replicates),
            Kind::Curve { over, values } => {
                return Self::curve(scenario, *over, values, replicates);
            }
            Kind::Futures => (vec![Size::of(&scenario.plan)], ways::FUTURES),
            Kind::Least => (Vec::new(), ways::LEAST),
            Kind::Ignoring => (ignoring::sizes(&scenario), ways::IGNORING),
            Kind::Several if scenario.question.several.is_none() => {
                return Err(Refusal::OneSpecies);
            }
            Kind::Several => (several::sizes(&scenario), ways::SEVERAL),
            Kind::Looks => (looks::sizes(&scenario), ways::LOOKS),
        };
        let looks = match kind {
            Kind::Looks => Some(Planned::new(&scenario)?),
            _ => None,
        };
        let job = Self::of_sizes(scenario, kind, replicates, &sizes, ways)?;
        Ok(Self { looks, ..job })
    }

    /// A job of [`Kind::Answer`]. With this and [`Job::curve`] alone, a program holds nothing of the other kinds.
    ///
    /// # Errors
    /// When the replicates are out of bounds.
    pub fn answer(scenario: Checked, replicates: Option<u64>) -> Result<Self, Refusal> {
        let sizes = [Size::of(&scenario.plan)];
        Self::of_sizes(scenario, Kind::Answer, replicates, &sizes, ways::ANSWER)
    }

    /// A job of [`Kind::Curve`].
    ///
    /// # Errors
    /// When the replicates or the points are out of bounds.
    pub fn curve(
        scenario: Checked,
        over: Axis,
        values: &[u32],
        replicates: Option<u64>,
    ) -> Result<Self, Refusal> {
        let mut sorted = values.to_vec();
        sorted.sort_unstable();
        sorted.dedup();
        if !(1..=MOST_POINTS).contains(&sorted.len()) {
            return Err(Refusal::Points(sorted.len()));
        }
        for &value in &sorted {
            let plan = over.set(&scenario.plan, value);
            if let Err(faults) = (Scenario {
                plan,
                ..(*scenario).clone()
            })
            .check()
                && let Some(fault) = faults.into_iter().next()
            {
                return Err(Refusal::Point {
                    axis: over.key(),
                    value,
                    fault,
                });
            }
        }
        let size = |&v: &u32| Size::of(&over.set(&scenario.plan, v));
        let sizes: Vec<Size> = sorted.iter().map(size).collect();
        let values = values.to_vec();
        let kind = Kind::Curve { over, values };
        Self::of_sizes(scenario, kind, replicates, &sizes, ways::CURVE)
    }

    fn of_sizes(
        scenario: Checked,
        kind: Kind,
        replicates: Option<u64>,
        sizes: &[Size],
        ways: Ways,
    ) -> Result<Self, Refusal> {
        let replicates = replicates.unwrap_or(USUAL_REPLICATES);
        if !(1..=MOST_REPLICATES).contains(&replicates) {
            return Err(Refusal::Replicates(replicates));
        }
        let (runs, groups) = together::runs(&scenario, sizes, replicates, None);
        Ok(Self {
            scenario,
            kind,
            ways,
            replicates,
            chunk: None,
            runs,
            groups,
            screen: None,
            stated: Vec::new(),
            screening: false,
            courses: None,
            courses_asked: false,
            looks: None,
            bracket: Bracket::new(0, 0),
            proof: None,
            confirming: false,
            relaxing: false,
            relaxed: None,
            out: BTreeMap::new(),
            returned: Vec::new(),
            next_id: 0,
        })
    }

    /// The same job in chunks of `replicates` (1 or more) instead of some tens of milliseconds: no result depends on it.
    /// Only before the first task is asked for.
    pub fn in_chunks_of(mut self, replicates: u64) -> Self {
        self.chunk = Some(replicates);
        let sizes: Vec<Size> = self.runs.iter().map(|r| r.size.clone()).collect();
        (self.runs, self.groups) =
            together::runs(&self.scenario, &sizes, self.replicates, self.chunk);
        self
    }

    /// The scenario asked about.
    pub fn scenario(&self) -> &Checked {
        &self.scenario
    }

    /// What is asked.
    pub fn kind(&self) -> &Kind {
        &self.kind
    }

    /// The next task; `None` when nothing can be begun now (all is out, or finished).
    pub fn ask(&mut self) -> Option<Task> {
        if let Some(task) = self.returned.pop() {
            self.out.insert(task.id, task.clone());
            return Some(task);
        }
        let work = if let Some(work) = (self.ways.first)(self) {
            work
        } else {
            // The plan that is furthest behind goes next, so that a whole curve narrows together.
            let (place, _) = self
                .runs
                .iter()
                .enumerate()
                .filter(|(_, r)| r.has_more())
                .min_by(|(_, a), (_, b)| a.asked_share().total_cmp(&b.asked_share()))?;
            self.simulate(place)?
        };
        let task = Task {
            id: self.next_id,
            work,
        };
        self.next_id += 1;
        self.out.insert(task.id, task.clone());
        Some(task)
    }

    /// The next chunk of a run and of those that are drawn with it.
    fn simulate(&mut self, place: usize) -> Option<Work> {
        let alone = vec![place];
        let group = self.groups.iter().find(|g| g.contains(&place));
        let group = group.unwrap_or(&alone);
        let sizes = group.iter().map(|&p| self.runs[p].size.clone()).collect();
        // All of a group are asked for together from the first, so that they have the same next chunk.
        let mut next = None;
        for &p in group {
            next = self.runs[p].next();
        }
        let (world, first, count) = next?;
        Some(Work::Simulate {
            sizes,
            world,
            first,
            count,
        })
    }

    /// Takes the outcome of a task; one that is not out (told twice, or of another job) is ignored.
    pub fn tell(&mut self, id: u64, outcome: Outcome) {
        let Some(task) = self.out.remove(&id) else {
            return;
        };
        match (&task.work, outcome) {
            (
                Work::Simulate {
                    sizes,
                    world,
                    first,
                    ..
                },
                Outcome::Replicates(each),
            ) if sizes.len() == each.len() => {
                for (size, replicates) in sizes.iter().zip(each) {
                    if let Some(run) = self.runs.iter_mut().find(|r| r.size == *size) {
                        run.tell(&self.scenario, *world, *first, replicates);
                    }
                }
            }
            (Work::Screen, Outcome::Screen(screen)) => {
                // When none answers by closed form the surest is tried all the same: simulation decides.
                let guess = screen
                    .first_enough(self.scenario.question.wanted_power)
                    .unwrap_or(screen.frontier.len().saturating_sub(1));
                self.bracket = Bracket::new(screen.frontier.len(), guess);
                self.stated = vec![OnceCell::new(); screen.frontier.len()];
                self.screen = Some(screen);
            }
            (Work::Challengers { below, .. }, Outcome::Challengers(found)) => {
                // Those of a plan that has been given up since are of no use.
                let wanted = |p: &&mut Proof| p.plan.weighted_toll == *below;
                if let Some(proof) = self.proof.as_mut().filter(wanted) {
                    proof.challengers = Some(found);
                }
            }
            (Work::Relax { .. }, Outcome::Relaxed(found)) => self.relaxed = Some(found),
            (Work::Courses { .. }, Outcome::Courses(courses)) => self.courses = Some(courses),
            // An outcome of the wrong sort: the task is to be done again.
            _ => self.returned.push(task),
        }
        (self.ways.advance)(self);
    }

    /// Hands a task back because its worker died; it is asked for again.
    pub fn give_back(&mut self, id: u64) {
        if let Some(task) = self.out.remove(&id) {
            self.returned.push(task);
        }
    }

    /// Whether everything is told.
    pub fn finished(&self) -> bool {
        (self.ways.finished)(self) && self.runs.iter().all(PlanRun::finished)
    }

    /// How far the job is.
    pub fn progress(&self) -> Progress {
        let done = self.runs.iter().map(PlanRun::told).sum();
        let mut total: u64 = self.runs.iter().map(PlanRun::total).sum();
        if self.kind == Kind::Least && !self.finished() {
            total = total.max(2 * self.replicates * (SMALLER_SHOWN as u64 + 5));
        }
        Progress { done, total }
    }

    /// Works out a piece of what [`Job::report`] says by now, so that a shell whose hands are needed elsewhere need not do
    /// all of it at once; whether there was such a piece. The report is the same without it.
    pub fn prepare(&self) -> bool {
        (self.ways.prepare)(self)
    }

    /// What the job says now.
    pub fn report(&self) -> Report {
        (self.ways.report)(self)
    }
}
