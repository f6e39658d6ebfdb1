//! Signals, and the one way to edit the scenario.

use crate::browser;
use crate::state::{Driver, Layout};
use engine::Axis;
use engine::closed_form::{Preview, preview};
use engine::least::Least;
use engine::scenario::{Checked, Fault, Plan, Scenario};
use engine::summary::{Answer, Curve, LooksAnswer, Several};
use engine::{Beside, Futures, Ignoring, beside};
use leptos::prelude::*;
use std::collections::BTreeMap;

/// A message to the user above the answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice {
    /// Something was refused or went wrong.
    pub bad: bool,
    /// What happened, a line each.
    pub lines: Vec<String>,
}

/// What is being computed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Running {
    /// What is computed now: "answer", "curve", "least plan", "costs of ignoring", "list of species", "futures", "looks"; empty
    /// when idle.
    pub what: &'static str,
    /// Simulated surveys done and wanted.
    pub done: u64,
    /// Simulated surveys wanted.
    pub total: u64,
    /// Seconds left at the present pace.
    pub left: Option<f64>,
    /// The user cancelled before everything was done.
    pub cancelled: bool,
}

/// The page's state; a handful of signals, copied freely.
#[derive(Clone, Copy)]
pub struct Model {
    /// The scenario as edited; every field was in its bounds when set, but fields may not fit together.
    pub scenario: RwSignal<Scenario>,
    /// Text that could not be taken, by the field's path.
    pub marks: RwSignal<BTreeMap<String, String>>,
    /// The checked scenario or what is wrong with it.
    pub checked: Memo<Result<Checked, Vec<Fault>>>,
    /// Closed-form preview of the plan.
    pub preview: Memo<Option<Preview>>,
    /// Seed of the random numbers.
    pub seed: RwSignal<u64>,
    /// Simulated surveys of each plan and world.
    pub replicates: RwSignal<u64>,
    /// What the curve runs over.
    pub axis: RwSignal<Axis>,
    /// The answer, in part or whole.
    pub answer: RwSignal<Option<Answer>>,
    /// The curve, in part or whole.
    pub curve: RwSignal<Option<Curve>>,
    /// The least plan, once asked for.
    pub least: RwSignal<Option<Least>>,
    /// What ignoring costs, once asked for.
    pub ignoring: RwSignal<Option<Ignoring>>,
    /// Simulated surveys to look at, once asked for.
    pub futures: RwSignal<Option<Futures>>,
    /// The same surveys under other plans, with what those are.
    pub futures_beside: RwSignal<Vec<(Beside, Plan, Futures)>>,
    /// All species of a list, once asked for.
    pub several: RwSignal<Option<Several>>,
    /// Planned looks, once simulated.
    pub looks: RwSignal<Option<LooksAnswer>>,
    /// What is being computed.
    pub running: RwSignal<Running>,
    /// A message.
    pub notice: RwSignal<Option<Notice>>,
    /// The way in and the open parts.
    pub layout: Layout,
    driver: StoredValue<Option<Driver>, LocalStorage>,
}

impl Model {
    /// A model of a scenario; nothing runs before [`Model::drive`].
    pub fn new(scenario: Scenario) -> Self {
        let scenario = RwSignal::new(scenario);
        let checked = Memo::new(move |_| scenario.get().check());
        let preview =
            Memo::new(move |_| checked.with(|c| c.as_ref().ok().map(|s| preview(s, &s.plan))));
        Self {
            scenario,
            marks: RwSignal::new(BTreeMap::new()),
            checked,
            preview,
            seed: RwSignal::new(engine::USUAL_SEED),
            replicates: RwSignal::new(engine::USUAL_REPLICATES),
            axis: RwSignal::new(Axis::Sites),
            answer: RwSignal::new(None),
            curve: RwSignal::new(None),
            least: RwSignal::new(None),
            ignoring: RwSignal::new(None),
            futures: RwSignal::new(None),
            futures_beside: RwSignal::new(Vec::new()),
            several: RwSignal::new(None),
            looks: RwSignal::new(None),
            running: RwSignal::new(Running::default()),
            notice: RwSignal::new(None),
            layout: Layout::begin(),
            driver: StoredValue::new_local(None),
        }
    }

    /// Starts the workers and the first job.
    pub fn drive(self) {
        self.driver.set_value(Some(Driver::start(self)));
        self.run();
    }

    /// Edits the scenario and computes anew.
    pub fn edit(self, change: impl FnOnce(&mut Scenario)) {
        self.scenario.update(change);
        self.run();
    }

    /// Replaces the scenario by one from a file or demo.
    pub fn replace(self, scenario: Scenario) {
        self.marks.set(BTreeMap::new());
        self.notice.set(None);
        self.edit(|s| *s = scenario);
    }

    /// Saves a file, or says why it could not be.
    pub fn save(self, name: &str, kind: &str, text: &str) {
        if let Err(problem) = browser::save(name, kind, text) {
            let lines = vec![problem];
            self.notice.set(Some(Notice { bad: true, lines }));
        }
    }

    /// Notes text that a field could not take; the field keeps it, the scenario stays as it was.
    pub fn mark(self, path: &str, problem: String) {
        self.marks.update(|m| {
            m.insert(path.to_string(), problem);
        });
    }

    /// Takes a mark back.
    pub fn unmark(self, path: &str) {
        if self.marks.with_untracked(|m| m.contains_key(path)) {
            self.marks.update(|m| {
                m.remove(path);
            });
        }
    }

    /// What is wrong with a field: its own text, or how it fits the others.
    pub fn problem(self, path: &str) -> Option<String> {
        if let Some(text) = self.marks.with(|m| m.get(path).cloned()) {
            return Some(text);
        }
        self.checked.with(|c| {
            let faults = c.as_ref().err()?;
            faults.iter().find_map(|fault| match fault {
                Fault::Bound {
                    path: at,
                    value,
                    bound,
                } if at.starts_with(path) => Some(format!("{value} does not fit: give {bound}")),
                Fault::Shape { path: at, problem } if at.starts_with(path) => Some(problem.clone()),
                _ => None,
            })
        })
    }

    /// Computes answer and curve of the scenario as it stands, dropping older jobs.
    pub fn run(self) {
        self.least.set(None);
        self.ignoring.set(None);
        self.futures.set(None);
        self.futures_beside.set(Vec::new());
        self.several.set(None);
        self.looks.set(None);
        self.with_driver(Driver::clear);
        match self.checked.get_untracked() {
            Ok(checked) => {
                browser::keep(&engine::scenario::write(checked.as_written()));
                self.with_driver(|d| d.answer_and_curve(&checked));
            }
            Err(_) => {
                self.answer.set(None);
                self.curve.set(None);
            }
        }
    }

    /// Computes the curve over another axis.
    pub fn run_curve(self, axis: Axis) {
        self.axis.set(axis);
        if let Ok(checked) = self.checked.get_untracked() {
            self.with_driver(|d| d.curve(&checked));
        }
    }

    /// Searches the least plan.
    pub fn run_least(self) {
        if let Ok(checked) = self.checked.get_untracked() {
            self.with_driver(|d| d.least(&checked));
        }
    }

    /// Draws surveys to look at.
    pub fn run_futures(self) {
        if let Ok(checked) = self.checked.get_untracked() {
            let least = self.least.with_untracked(|l| l.as_ref()?.plan.clone());
            let others = beside(&checked, least.as_ref());
            self.futures_beside.set(Vec::new());
            self.with_driver(|d| d.futures(&checked, &others));
        }
    }

    /// Computes what ignoring costs.
    pub fn run_ignoring(self) {
        if let Ok(checked) = self.checked.get_untracked() {
            self.with_driver(|d| d.ignoring(&checked));
        }
    }

    /// Computes all species of a list.
    pub fn run_several(self) {
        if let Ok(checked) = self.checked.get_untracked() {
            self.with_driver(|d| d.several(&checked));
        }
    }

    /// Simulates planned looks.
    pub fn run_looks(self) {
        if let Ok(checked) = self.checked.get_untracked() {
            self.with_driver(|d| d.looks(&checked));
        }
    }

    /// Cancels what runs; what has been computed stays on show.
    pub fn cancel(self) {
        // A search cut short has found nothing.
        if self.running.with_untracked(|r| r.what == "least plan") {
            self.least.set(None);
        }
        self.with_driver(Driver::cancel);
    }

    fn with_driver(self, f: impl FnOnce(&Driver)) {
        // A clone of the handle, so that the driver may call back into the model.
        if let Some(driver) = self.driver.get_value() {
            f(&driver);
        }
    }
}
