//! Text that fields could not take, and which fields are on the page.

use super::Model;
use super::stand::Mark;
use engine::scenario::Fault;
use leptos::prelude::*;
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
    /// is around it is drawn anew, must not go on blocking what is left: its mark is taken back.
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
                if self
                    .shown
                    .with_value(|s| s.get(&path).is_none_or(|n| *n == 0))
                {
                    self.unmark(&path);
                }
            };
            set_timeout(look, Duration::ZERO);
        });
    }

    /// Takes back the marks of fields that are not on the page, once it is drawn: nobody could mend them.
    pub fn sweep_marks(self) {
        let sweep = move || {
            let lost = self.marks.with_untracked(|m| {
                let lost =
                    |p: &&String| self.shown.with_value(|s| s.get(*p).is_none_or(|n| *n == 0));
                m.keys().filter(lost).cloned().collect::<Vec<_>>()
            });
            lost.iter().for_each(|path| self.unmark(path));
        };
        set_timeout(sweep, Duration::ZERO);
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
                } if at.starts_with(path) => Some(format!("{value} does not fit: give {bound}")),
                Fault::Shape { path: at, problem } if at.starts_with(path) => Some(problem.clone()),
                _ => None,
            })
        })
    }
}
