//! Text that fields could not take, and which fields are on the page.

use super::Model;
use engine::scenario::Fault;
use figures::locale::retold;
use leptos::prelude::*;
use stand::{Mark, has_field};
use std::time::Duration;

impl Model {
    /// Notes text that a field could not take; the field keeps it, the scenario stays as it was.
    pub fn mark(self, path: &str, text: &str, problem: String) {
        let text = text.to_string();
        self.marks.update(|m| {
            m.insert(path.to_string(), Mark { text, problem });
        });
        self.keep();
    }

    /// Takes a mark back.
    pub fn unmark(self, path: &str) {
        if self.marks.with_untracked(|m| m.contains_key(path)) {
            self.marks.update(|m| {
                m.remove(path);
            });
            self.keep();
        }
    }

    /// What was typed into a field and refused.
    pub fn refused(self, path: &str) -> Option<String> {
        self.marks.with(|m| m.get(path).map(|m| m.text.clone()))
    }

    /// A field is on the page until its owner is cleaned up. One that does not come back at once, as it does when what
    /// is around it is drawn anew, and that the scenario no longer has, must not go on blocking what is left: its mark
    /// is taken back. That of a field in a part that was merely closed stays.
    pub fn on_page(self, path: String) {
        self.shown
            .update_value(|s| *s.entry(path.clone()).or_default() += 1);
        on_cleanup(move || {
            self.shown.update_value(|s| {
                if let Some(n) = s.get_mut(&path) {
                    *n -= 1;
                }
            });
            let look = move || {
                if self.is_gone(&path) {
                    self.unmark(&path);
                }
            };
            set_timeout(look, Duration::ZERO);
        });
    }

    /// Whether a field is neither on the page nor in a part of it that could be opened.
    fn is_gone(self, path: &str) -> bool {
        let shown = self
            .shown
            .with_value(|s| s.get(path).is_some_and(|n| *n > 0));
        !shown && !self.scenario.with_untracked(|s| has_field(s, path))
    }

    /// Takes back the marks of fields that are gone, once the page is drawn: nobody could mend them.
    pub fn sweep_marks(self) {
        let sweep = move || {
            let lost = self.marks.with_untracked(|m| {
                let lost = m.keys().filter(|p| self.is_gone(p));
                lost.cloned().collect::<Vec<_>>()
            });
            lost.iter().for_each(|path| self.unmark(path));
        };
        if self.marks.with_untracked(|m| !m.is_empty()) {
            // Fields may be in parts that are still to come.
            self.with_apart(move |_| set_timeout(sweep, Duration::ZERO));
        }
    }

    /// What is wrong with a field: its own text, or how it fits the others.
    pub fn problem(self, path: &str) -> Option<String> {
        if let Some(problem) = self.marks.with(|m| m.get(path).map(|m| m.problem.clone())) {
            return Some(problem);
        }
        self.checked.with(|c| {
            let faults = c.as_ref().err()?;
            faults.iter().find_map(|fault| match fault {
                Fault::Bound {
                    path: at,
                    value,
                    bound,
                } if at.starts_with(path) => Some(crate::words::numbers::number_does_not_fit(
                    &retold(value),
                    &retold(bound),
                )),
                Fault::Shape { path: at, problem } if at.starts_with(path) => Some(problem.clone()),
                _ => None,
            })
        })
    }
}
