//! Text that fields could not take, and which fields are on the page.

use super::Model;
use super::stand::Mark;
use engine::scenario::fields::find;
use engine::scenario::{Fault, Scenario};
use figures::locale::retold;
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
        !shown && !self.scenario.with_untracked(|s| has(s, path))
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

/// Whether a scenario has the number at a path. Paths that are none of its numbers are always there.
fn has(s: &Scenario, path: &str) -> bool {
    if let Some(field) = find(path) {
        return (field.read)(s).is_some();
    }
    let p = &s.premises;
    let lists = [
        ("premises.bycatch[", p.bycatch.len()),
        ("premises.others[", p.others.len()),
        ("premises.trap_options[", p.trap_options.len()),
        (
            "premises.costs.stepped[",
            p.costs.as_ref().map_or(0, |c| c.stepped.len()),
        ),
    ];
    let found = lists.iter().find_map(|(list, length)| {
        let (at, _) = path.strip_prefix(list)?.split_once(']')?;
        Some(at.parse::<usize>().is_ok_and(|at| at < *length))
    });
    found.unwrap_or(true)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_is_there_while_the_scenario_has_its_number() {
        let s = engine::scenario::read(crate::demos::DEMOS[0].1).expect("a demo");
        let last = s.premises.bycatch.len() - 1;
        assert!(has(&s, "plan.sites") && has(&s, "limits.years") && has(&s, "seed"));
        assert!(has(&s, "question.effect.decline.change_percent"));
        assert!(!has(&s, "question.effect.no_worse.margin_percent"));
        assert!(has(&s, &format!("premises.bycatch[{last}].site_sd")));
        assert!(!has(&s, &format!("premises.bycatch[{}].site_sd", last + 1)));
    }
}
