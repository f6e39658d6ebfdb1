//! The one way to change what the page holds: as a step that can be undone.

use super::{Model, Notice};
use crate::browser::now;
use crate::words::undo as words;
use engine::Axis;
use engine::scenario::Scenario;
use leptos::prelude::*;
use stand::{Change, Marks, Stand, between, marks_without};
use std::sync::Arc;

impl Model {
    /// How the page stands.
    pub fn stand(self) -> Stand {
        Stand {
            scenario: self.scenario.get_untracked(),
            marks: self.marks.get_untracked(),
            seed: self.seed.get_untracked(),
            replicates: self.replicates.get_untracked(),
            axis: self.axis.get_untracked(),
            base: self.base.get_untracked(),
        }
    }

    /// Edits the scenario and computes anew. Text that was refused gives way where the edit set another number.
    pub fn edit(self, change: impl FnOnce(&mut Scenario)) {
        let before = self.stand();
        let mut after = before.clone();
        change(&mut after.scenario);
        let changes = between(&before, &after);
        let set = |path: &String| {
            let value = format!("{path}.value");
            changes.iter().any(|c| c.path == *path || c.path == value)
        };
        after.marks.retain(|path, _| !set(path));
        self.step(before, after, &changes, None);
    }

    /// Edits the scenario by taking entry `i` out of the list at `list`; what was refused in later entries moves up
    /// with them.
    pub fn edit_without(self, list: &str, i: usize, change: impl FnOnce(&mut Scenario)) {
        let before = self.stand();
        let mut after = before.clone();
        change(&mut after.scenario);
        after.marks = marks_without(&before.marks, list, i);
        let changes = between(&before, &after);
        self.step(before, after, &changes, None);
    }

    /// Changes seed, simulated surveys or axis, and computes anew.
    pub fn settle(self, change: impl FnOnce(&mut Stand)) {
        let before = self.stand();
        let mut after = before.clone();
        change(&mut after);
        let changes = between(&before, &after);
        if changes.is_empty() {
            // Asked for again: computed again.
            self.run();
        } else {
            self.step(before, after, &changes, None);
        }
    }

    /// Turns the curve to another axis, as a step; whoever calls computes the curve.
    pub fn turn_curve(self, axis: Axis) {
        let before = self.stand();
        let after = Stand {
            axis,
            ..before.clone()
        };
        let name = words::step(&between(&before, &after));
        self.said.set(String::new());
        self.note(before, name, None, |_| String::new());
        self.axis.set(axis);
        self.keep();
        self.write_link_soon();
    }

    /// Replaces the scenario by one made of it and something from outside, such as a pilot's table.
    pub fn replace(self, scenario: Scenario, name: &str) {
        let stand = Stand {
            scenario,
            marks: Marks::new(),
            ..self.stand()
        };
        self.replace_all(stand, name);
    }

    /// Replaces the scenario by a demo or file, to which "Reset" will go back.
    pub fn load(self, scenario: Scenario, name: &str) {
        let stand = Stand {
            base: Arc::new(scenario.clone()),
            scenario,
            marks: Marks::new(),
            ..self.stand()
        };
        self.replace_all(stand, name);
    }

    /// Replaces everything.
    pub fn replace_all(self, after: Stand, name: &str) {
        let before = self.stand();
        self.notice.set(None);
        let changes = between(&before, &after);
        self.step(before, after, &changes, Some(name));
    }

    /// Back to the demo, file or link that was loaded last.
    pub fn reset(self) {
        let base = Scenario::clone(&self.base.get_untracked());
        let same = self.scenario.with_untracked(|s| *s == base);
        if same && self.marks.with_untracked(Marks::is_empty) {
            self.said.set(words::RESET_NOTHING.into());
            return;
        }
        self.replace(base, words::RESET_STEP);
        self.said.set(words::RESET_DONE.into());
    }

    /// Notes how the page stood before it began with a link.
    pub fn begin_after(self, before: Stand, name: &str) {
        self.note(before, name.to_string(), None, |_| String::new());
    }

    fn step(self, before: Stand, after: Stand, changes: &[Change], name: Option<&str>) {
        let same = changes.is_empty() && before.base == after.base;
        if same && before.marks == after.marks {
            return self.keep();
        }
        self.said.set(String::new());
        let plain = name.is_none() && changes.iter().all(Change::is_plain);
        let place = plain.then(|| changes.iter().map(|c| c.path.as_str()).collect::<String>());
        let called = name.map_or_else(|| words::step(changes), Into::into);
        self.note(before, called, place, |first| {
            words::step(&between(first, &after))
        });
        self.show(after);
    }

    fn note(
        self,
        before: Stand,
        name: String,
        place: Option<String>,
        rename: impl FnOnce(&Stand) -> String,
    ) {
        self.history
            .update_value(|h| h.record(before, name, place, now(), rename));
        self.tell_steps();
    }

    /// Shows a stand and computes it.
    fn show(self, stand: Stand) {
        self.seed.set(stand.seed);
        self.replicates.set(stand.replicates);
        self.axis.set(stand.axis);
        self.base.set(stand.base);
        self.marks.set(stand.marks);
        self.scenario.set(stand.scenario);
        self.run();
        self.sweep_marks();
    }

    /// Takes the last step back.
    pub fn undo(self) {
        let current = self.stand();
        let mut turned = None;
        self.history.update_value(|h| {
            turned = h
                .undo(current)
                .map(|(stand, name)| (stand, words::undone(&name, h.back().is_none(), h.full())));
        });
        self.turn(turned);
    }

    /// Does again what was undone last.
    pub fn redo(self) {
        let current = self.stand();
        let mut turned = None;
        self.history.update_value(|h| {
            turned = h.redo(current).map(|(s, name)| (s, words::redone(&name)));
        });
        self.turn(turned);
    }

    fn turn(self, turned: Option<(Stand, String)>) {
        let Some((stand, said)) = turned else { return };
        // What was said of the step that is taken back is no longer true; complaints stay.
        if self
            .notice
            .with_untracked(|n| n.as_ref().is_some_and(|n: &Notice| !n.bad))
        {
            self.notice.set(None);
        }
        self.show(stand);
        self.tell_steps();
        self.said.set(said);
    }

    fn tell_steps(self) {
        let name = |n: Option<&str>| n.map(Into::into);
        let told = self
            .history
            .with_value(|h| (name(h.back()), name(h.forth())));
        self.steps.set(told);
    }
}
