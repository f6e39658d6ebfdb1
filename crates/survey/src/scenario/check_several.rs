//! What several species need of question and premises.

use super::check::{Fault, check_field, check_text};
use super::{Effect, Scenario, fields};
use std::collections::BTreeSet;

/// Most species beside the target.
pub const MOST_OTHERS: usize = 12;

impl Effect {
    /// Whether it may be asked of several species at once: questions whose answer is a test of each one's counts, with
    /// nothing in the plan or the premises that belongs to one species alone.
    pub fn asks_of_several(&self) -> bool {
        self.is_trend() || self.has_groups()
    }
}

/// Adds the faults of the list of species.
pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    let others = &s.premises.others;
    let mut shape = |path: &str, problem: String| {
        faults.push(Fault::Shape {
            path: path.into(),
            problem,
        });
    };
    match &s.question.several {
        Some(_) if others.is_empty() => shape(
            "premises.others",
            "missing: question.several asks of other species beside the target: give at least one or remove question.several".into(),
        ),
        None if !others.is_empty() => shape(
            "question.several",
            "missing: several species need answered_share and control: give them or remove premises.others".into(),
        ),
        _ => {}
    }
    let several = s.question.several.is_some() || !others.is_empty();
    if several && !s.question.effect.asks_of_several() {
        shape(
            "question.several",
            format!(
                "several species may be asked about by decline, no_worse, difference and before_after, not by {}: ask one of these or remove question.several and premises.others",
                s.question.effect.key()
            ),
        );
    }
    if others.len() > MOST_OTHERS {
        faults.push(Fault::Bound {
            path: "premises.others".into(),
            value: format!("{} species", others.len()),
            bound: format!("at most {MOST_OTHERS} species beside the target"),
        });
    }
    let groups = s.premises.bycatch.iter().map(|g| g.name.trim());
    let mut names: BTreeSet<&str> = groups.collect();
    names.insert(s.premises.target.name.trim());
    for (i, other) in others.iter().enumerate() {
        let prefix = format!("premises.others[{i}].");
        check_text(&format!("{prefix}name"), &other.name, 1, 100, faults);
        if !names.insert(other.name.trim()) {
            faults.push(Fault::Bound {
                path: format!("{prefix}name"),
                value: format!("{:?}", other.name),
                bound: "a name that neither the target nor another species or by-catch group has"
                    .into(),
            });
        }
        for field in fields::TARGET.iter().chain(fields::OTHERS_REPRODUCTIVES) {
            check_field(&prefix, field, other, faults);
        }
    }
}
