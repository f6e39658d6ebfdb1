//! Signals, and the one way to edit the scenario.

use super::address::Link;
use super::apart::{Apart, Waiting};
use crate::apart::Begin;
use crate::browser;
use crate::state::{Driver, Layout};
use engine::Axis;
use engine::closed_form::{Preview, preview};
use engine::least::Least;
use engine::scenario::{Checked, Fault, Plan, Scenario};
use engine::summary::{Answer, Curve, LooksAnswer, Several};
use engine::{Beside, Futures, Ignoring, beside};
use leptos::prelude::*;
use paper::meaning::Meaning;
use stand::{History, Marks, Stand};
use std::collections::BTreeMap;
use std::sync::Arc;

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
    /// No work is handed out until the user resumes.
    pub paused: bool,
}

/// The page's state; a handful of signals, copied freely.
#[derive(Clone, Copy)]
pub struct Model {
    /// The scenario as edited; every field was in its bounds when set, but fields may not fit together.
    pub scenario: RwSignal<Scenario>,
    /// Text that could not be taken, by the field's path.
    pub marks: RwSignal<Marks>,
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
    /// Its search was cancelled: what it had found by then is on show.
    pub least_stopped: RwSignal<bool>,
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
    /// The demo, file or link that was loaded last.
    pub base: RwSignal<Arc<Scenario>>,
    /// What undoing and doing again would do, where there is something.
    pub steps: RwSignal<(Option<String>, Option<String>)>,
    /// What was just undone, copied or reset, for the status line.
    pub said: RwSignal<String>,
    /// How the address stands to the scenario.
    pub link: RwSignal<Link>,
    /// The browser does not keep the scenario for the next visit.
    pub refused_storage: RwSignal<bool>,
    pub(super) history: StoredValue<History<Stand>, LocalStorage>,
    pub(super) later: StoredValue<Option<TimeoutHandle>, LocalStorage>,
    /// How many fields of each path are on the page.
    pub(super) shown: StoredValue<BTreeMap<String, usize>, LocalStorage>,
    /// The way in and the open parts.
    pub layout: Layout,
    /// The number whose meaning was asked for last.
    pub explained: RwSignal<Option<&'static Meaning>>,
    /// The file with what is not needed at first.
    pub apart: RwSignal<Apart>,
    pub(super) waiting: StoredValue<Vec<Waiting>, LocalStorage>,
    driver: StoredValue<Option<Driver>, LocalStorage>,
}

impl Model {
    /// A model of what the page begins with; nothing runs before [`Model::drive`].
    pub fn new(stand: Stand) -> Self {
        let scenario = RwSignal::new(stand.scenario);
        let checked = Memo::new(move |_| scenario.get().check());
        let preview =
            Memo::new(move |_| checked.with(|c| c.as_ref().ok().map(|s| preview(s, &s.plan))));
        Self {
            scenario,
            marks: RwSignal::new(stand.marks),
            checked,
            preview,
            seed: RwSignal::new(stand.seed),
            replicates: RwSignal::new(stand.replicates),
            axis: RwSignal::new(stand.axis),
            answer: RwSignal::new(None),
            curve: RwSignal::new(None),
            least: RwSignal::new(None),
            least_stopped: RwSignal::new(false),
            ignoring: RwSignal::new(None),
            futures: RwSignal::new(None),
            futures_beside: RwSignal::new(Vec::new()),
            several: RwSignal::new(None),
            looks: RwSignal::new(None),
            running: RwSignal::new(Running::default()),
            notice: RwSignal::new(None),
            base: RwSignal::new(stand.base),
            steps: RwSignal::new((None, None)),
            said: RwSignal::new(String::new()),
            link: RwSignal::new(Link::default()),
            refused_storage: RwSignal::new(false),
            history: StoredValue::new_local(History::default()),
            later: StoredValue::new_local(None),
            shown: StoredValue::new_local(BTreeMap::new()),
            layout: Layout::begin(),
            explained: RwSignal::new(None),
            apart: RwSignal::new(Apart::Unasked),
            waiting: StoredValue::new_local(Vec::new()),
            driver: StoredValue::new_local(None),
        }
    }

    /// Starts the workers and the first job.
    pub fn drive(self) {
        self.driver.set_value(Some(Driver::start(self)));
        self.run();
        self.sweep_marks();
    }

    /// Saves a file, or says why it could not be.
    pub fn save(self, name: &str, kind: &str, text: &str) {
        if let Err(problem) = browser::save(name, kind, text) {
            let lines = vec![problem];
            self.notice.set(Some(Notice { bad: true, lines }));
        }
    }

    /// Computes answer and curve of the scenario as it stands, dropping older jobs.
    pub fn run(self) {
        self.least.set(None);
        self.least_stopped.set(false);
        self.ignoring.set(None);
        self.futures.set(None);
        self.futures_beside.set(Vec::new());
        self.several.set(None);
        self.looks.set(None);
        self.with_driver(Driver::clear);
        self.keep();
        self.write_link_soon();
        match self.checked.get_untracked() {
            Ok(checked) => self.with_driver(|d| d.answer_and_curve(&checked)),
            Err(_) => {
                self.answer.set(None);
                self.curve.set(None);
            }
        }
    }

    /// Computes the curve over another axis.
    pub fn run_curve(self, axis: Axis) {
        self.turn_curve(axis);
        if let Ok(checked) = self.checked.get_untracked() {
            self.with_driver(|d| d.curve(&checked));
        }
    }

    /// Searches the least plan.
    pub fn run_least(self) {
        self.least_stopped.set(false);
        self.with_rest(Driver::least);
    }

    /// Draws surveys to look at.
    pub fn run_futures(self) {
        self.with_rest(move |driver, checked, begin| {
            let least = self.least.with_untracked(|l| l.as_ref()?.plan.clone());
            let others = beside(checked, least.as_ref());
            self.futures_beside.set(Vec::new());
            driver.futures(checked, &others, begin);
        });
    }

    /// Computes what ignoring costs.
    pub fn run_ignoring(self) {
        self.with_rest(Driver::ignoring);
    }

    /// Computes all species of a list.
    pub fn run_several(self) {
        self.with_rest(Driver::several);
    }

    /// Simulates planned looks.
    pub fn run_looks(self) {
        self.with_rest(Driver::looks);
    }

    /// Cancels what runs; what has been computed stays on show.
    pub fn cancel(self) {
        self.with_driver(Driver::cancel);
        let cut = self
            .least
            .with_untracked(|l| l.as_ref().is_some_and(|l| !l.complete));
        self.least_stopped.set(cut);
    }

    /// Hands out no more work; what is computed so far stays on show.
    pub fn pause(self) {
        self.with_driver(Driver::pause);
    }

    /// Goes on where it was paused.
    pub fn resume(self) {
        self.with_driver(Driver::resume);
    }

    /// Begins jobs of the kinds that come apart; nothing where the scenario was edited meanwhile so that it is refused.
    fn with_rest(self, f: impl FnOnce(&Driver, &Checked, Begin) + 'static) {
        self.with_apart(move |rest| {
            if let Ok(checked) = self.checked.get_untracked() {
                self.with_driver(|driver| f(driver, &checked, rest.begin));
            }
        });
    }

    fn with_driver(self, f: impl FnOnce(&Driver)) {
        // A clone of the handle, so that the driver may call back into the model.
        if let Some(driver) = self.driver.get_value() {
            f(&driver);
        }
    }
}
