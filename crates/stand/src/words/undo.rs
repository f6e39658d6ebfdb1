//! Names of steps, and what undoing them says.

use crate::Change;
use engine::Axis;
use engine::scenario::fields::{BYCATCH, CATCH_FACTOR, Field, STEPPED, TARGET, TRAP_OPTION, find};
use paper::number::plain;
use serde_json::Value;

/// The buttons.
pub const UNDO: &str = "Undo";
/// See [`UNDO`].
pub const REDO: &str = "Redo";
/// See [`UNDO`].
pub const RESET: &str = "Reset";
/// What the button of [`RESET`] does.
pub const RESET_TITLE: &str = "Back to the demo, file or link that was loaded last";
/// Name of that step.
pub const RESET_STEP: &str = "resetting to what was loaded last";
/// After resetting.
pub const RESET_DONE: &str = "Back to what was loaded last. “Undo” brings your changes back.";
/// When nothing differs from what was loaded.
pub const RESET_NOTHING: &str = "Nothing to reset: the scenario is as it was loaded.";
/// Name of the step that takes a pilot's premises.
pub const PILOT_STEP: &str = "taking premises from a pilot";
/// Name of the step that takes out what was invented.
pub const OWN_STEP: &str = "beginning a survey of your own";
/// Name of the step that takes a species table.
pub const SPECIES_STEP: &str = "taking a species table";

/// Name of the step that opens a file.
pub fn file_step(name: &str) -> String {
    format!("opening {name}")
}

/// Name of the step that loads a demo.
pub fn demo_step(name: &str) -> String {
    format!("loading the demo “{name}”")
}

/// Said after undoing; `full` when older steps were dropped and none is left.
pub fn undone(name: &str, none_left: bool, full: bool) -> String {
    let end = match (none_left, full) {
        (true, true) => format!(
            " That was the oldest step kept: at most {} are.",
            crate::MOST_STEPS
        ),
        (true, false) => " Nothing is left to undo.".into(),
        _ => String::new(),
    };
    format!("Undone: {name}.{end}")
}

/// Said after doing again.
pub fn redone(name: &str) -> String {
    format!("Done again: {name}.")
}

/// What the button would undo.
pub fn would_undo(name: Option<&str>) -> String {
    name.map_or("Nothing to undo".into(), |n| format!("Undo: {n}"))
}

/// What the button would do again.
pub fn would_redo(name: Option<&str>) -> String {
    name.map_or("Nothing to do again".into(), |n| format!("Do again: {n}"))
}

fn of<T: 'static>(fields: &[Field<T>], key: &str) -> Option<String> {
    let field = fields.iter().find(|f| f.path == key)?;
    Some(field.label.to_string())
}

/// The name that a place has on the page.
fn label(path: &str) -> Option<String> {
    let path = path.strip_suffix(".value").unwrap_or(path);
    match path {
        "seed" | "title" | "notes" => return Some(path.to_string()),
        "replicates" => return Some("simulated surveys".into()),
        "axis" => return Some("curve".into()),
        "question.direction" => return Some("direction of the change".into()),
        "analysis.test" => return Some("test".into()),
        _ => {}
    }
    if let Some(field) = find(path) {
        return Some(field.label.to_string());
    }
    let (list, key) = path.rsplit_once("].")?;
    let found = match list.split('[').next()? {
        "premises.bycatch" => of(BYCATCH, key),
        "premises.others" => of(TARGET, key),
        "premises.costs.stepped" => of(STEPPED, key),
        "premises.trap_options" if list.contains(".bycatch[") => of(CATCH_FACTOR, key),
        "premises.trap_options" => of(TRAP_OPTION, key),
        _ => None,
    };
    found.or_else(|| (key == "name").then(|| "name".into()))
}

/// The name of a field, or of the part of the page that it is in.
pub fn name_of(path: &str) -> String {
    label(path).unwrap_or_else(|| part(path).to_string())
}

/// The part of the page that a place belongs to.
fn part(path: &str) -> &'static str {
    const PARTS: [(&str, &str); 11] = [
        ("premises.bycatch", "by-catch"),
        ("premises.others", "other species"),
        ("premises.costs", "costs"),
        ("premises.trap_options", "kinds of trap"),
        ("premises.departures", "what else the world may do"),
        ("premises", "premises"),
        ("plan", "plan"),
        ("limits", "limits"),
        ("analysis", "analysis"),
        ("question", "question"),
        ("notes", "notes"),
    ];
    let found = PARTS.iter().find(|(start, _)| path.starts_with(start));
    found.map_or("scenario", |(_, name)| name)
}

/// A value as a person reads it; nothing for long texts and for what is no plain value.
fn shown(path: &str, value: &Value) -> Option<String> {
    match value {
        // Whole numbers keep all their digits, seeds have up to twenty.
        Value::Number(n) => n
            .as_u64()
            .map(|n| n.to_string())
            .or_else(|| n.as_f64().map(plain)),
        Value::String(s) if path == "axis" => {
            let axis = Axis::ALL.into_iter().find(|a| a.key() == s)?;
            Some(axis.label().to_string())
        }
        Value::String(s) => (s.chars().count() < 40).then(|| format!("“{}”", s.replace('_', " "))),
        Value::Bool(on) => Some(if *on { "yes" } else { "no" }.into()),
        _ => None,
    }
}

/// The name of a step that changed these places.
pub fn step(changes: &[Change]) -> String {
    // A number changed by hand changes its source, and may drop its range.
    let about_it = |c: &&Change| {
        !["source", "citation", "low", "high"]
            .iter()
            .any(|end| c.path.ends_with(&format!(".{end}")))
    };
    let main: Vec<&Change> = changes.iter().filter(about_it).collect();
    match main[..] {
        [] => changes.first().map_or_else(
            || "what was typed".into(),
            |c| {
                let of = c.path.rsplit_once('.').and_then(|(of, _)| label(of));
                format!("source of {}", of.unwrap_or_else(|| part(&c.path).into()))
            },
        ),
        [c] => {
            let name = name_of(&c.path);
            let say = |v: &Option<Value>| v.as_ref().and_then(|v| shown(&c.path, v));
            match (say(&c.from), say(&c.to)) {
                (Some(from), Some(to)) => format!("{name} from {from} to {to}"),
                _ => format!("a change of {name}"),
            }
        }
        _ => {
            let mut parts: Vec<&str> = main.iter().map(|c| part(&c.path)).collect();
            parts.sort_unstable();
            parts.dedup();
            format!("a change of {}", parts.join(", "))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demos::DEMOS;
    use crate::{Stand, between};
    use engine::scenario::read;

    fn named(change: fn(&mut Stand)) -> String {
        let before = Stand::of(read(DEMOS[0].1).expect("a demo"));
        let mut after = before.clone();
        change(&mut after);
        step(&between(&before, &after))
    }

    #[test]
    fn steps_are_named_by_what_they_changed() {
        assert_eq!(named(|s| s.scenario.plan.sites = 12), "sites from 24 to 12");
        assert_eq!(
            named(|s| s.seed = u64::MAX),
            "seed from 1 to 18446744073709551615"
        );
        assert_eq!(named(|s| s.axis = Axis::Years), "curve from sites to years");
        assert_eq!(
            named(|s| s.scenario.premises.bycatch.truncate(1)),
            "a change of by-catch"
        );
        assert_eq!(
            named(|s| (s.scenario.plan.sites, s.scenario.limits.sites) = (30, 70)),
            "a change of limits, plan"
        );
        let of_group = named(|s| s.scenario.premises.bycatch[0].catch_per_trap_week.value = 9.5);
        assert!(
            of_group.ends_with("to 9.5") && of_group.starts_with("catch"),
            "{of_group}"
        );
        let source = named(|s| {
            s.scenario.premises.bycatch[0].site_sd.source = engine::scenario::Source::Published
        });
        assert!(source.starts_with("source of"), "{source}");
    }
}
