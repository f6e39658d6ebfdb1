//! What options of traps and an end of animals need of the rest of the scenario.

use super::check::{Fault, check_field, check_text};
use super::{Effect, Rows, Scenario, fields};
use std::collections::BTreeSet;

/// Most options of traps.
pub const MOST_TRAP_OPTIONS: usize = 20;

fn bound(path: String, value: impl ToString, bound: impl Into<String>) -> Fault {
    Fault::Bound {
        path,
        value: value.to_string(),
        bound: bound.into(),
    }
}

fn shape(path: impl Into<String>, problem: impl Into<String>) -> Fault {
    Fault::Shape {
        path: path.into(),
        problem: problem.into(),
    }
}

/// Adds the faults of options and local population.
pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    options(s, faults);
    chosen(s, faults);
    population(s, faults);
}

fn options(s: &Scenario, faults: &mut Vec<Fault>) {
    let p = &s.premises;
    if p.trap_options.len() > MOST_TRAP_OPTIONS {
        faults.push(bound(
            "premises.trap_options".into(),
            format!("{} options", p.trap_options.len()),
            format!("at most {MOST_TRAP_OPTIONS} options"),
        ));
    }
    let groups = p.bycatch.iter().map(|g| &g.name);
    let known: Vec<&str> = groups
        .chain(p.others.iter().map(|t| &t.name))
        .map(|n| n.trim())
        .collect();
    let mut names = BTreeSet::new();
    for (i, option) in p.trap_options.iter().enumerate() {
        let prefix = format!("premises.trap_options[{i}].");
        check_text(&format!("{prefix}name"), &option.name, 1, 100, faults);
        check_text(&format!("{prefix}notes"), &option.notes, 0, 2_000, faults);
        if !names.insert(option.name.trim()) {
            faults.push(bound(
                format!("{prefix}name"),
                format!("{:?}", option.name),
                "a name that no other option has",
            ));
        }
        for field in fields::TRAP_OPTION {
            check_field(&prefix, field, option, faults);
        }
        let mut said = BTreeSet::new();
        for (j, of) in option.bycatch.iter().enumerate() {
            let prefix = format!("{prefix}bycatch[{j}].");
            for field in fields::CATCH_FACTOR {
                check_field(&prefix, field, of, faults);
            }
            let whom = match (&of.group, of.class) {
                (Some(name), None) => {
                    if !known.contains(&name.trim()) {
                        faults.push(bound(
                            format!("{prefix}group"),
                            format!("{name:?}"),
                            list("the name of a by-catch group or other species", &known),
                        ));
                    }
                    name.trim().to_string()
                }
                (None, Some(class)) => format!("{class:?}"),
                _ => {
                    let problem = "give either group or class, not both and not neither";
                    faults.push(shape(prefix.trim_end_matches('.'), problem));
                    continue;
                }
            };
            if !said.insert((of.group.is_some(), whom.clone())) {
                faults.push(bound(
                    prefix.trim_end_matches('.').into(),
                    format!("{whom} again"),
                    "one factor for each group and class",
                ));
            }
        }
    }
}

fn list(what: &str, known: &[&str]) -> String {
    if known.is_empty() {
        return format!("{what} (the scenario has none)");
    }
    let quoted: Vec<String> = known.iter().map(|n| format!("{n:?}")).collect();
    format!("{what}: {}", quoted.join(", "))
}

fn chosen(s: &Scenario, faults: &mut Vec<Fault>) {
    let Some(name) = &s.plan.trap_option else {
        return;
    };
    let known: Vec<&str> = s
        .premises
        .trap_options
        .iter()
        .map(|o| &o.name[..])
        .collect();
    if !known.contains(&&name[..]) {
        faults.push(bound(
            "plan.trap_option".into(),
            format!("{name:?}"),
            format!(
                "{}; left out for the trap of the premises",
                list("the name of one of premises.trap_options", &known)
            ),
        ));
    }
    if let Effect::Absence(_) = s.question.effect {
        faults.push(shape(
            "plan.trap_option",
            "the density to exclude is told as the catch of the premises' trap: leave the option out and give premises and density of the trap that is used",
        ));
    }
}

fn population(s: &Scenario, faults: &mut Vec<Fault>) {
    if s.premises.local_population.is_none() {
        return;
    }
    let path = "premises.local_population";
    let effect = &s.question.effect;
    let counted = effect.is_trend() || effect.has_groups();
    let optimum = matches!(effect, Effect::RangeShift(r) if r.of.is_optimum());
    if !counted && !optimum {
        faults.push(shape(
            path,
            format!(
                "belongs to decline, no_worse, difference, before_after and range_shift of the optimum, not to {}: remove it",
                effect.key()
            ),
        ));
    }
    if s.question.several.is_some() || !s.premises.others.is_empty() {
        faults.push(shape(
            path,
            "is of one species: remove it, or question.several and premises.others",
        ));
    }
    if s.analysis.rows == Rows::Weeks {
        faults.push(shape(
            path,
            "is of a whole year, and how a year's catch falls over its weeks is not modelled: set analysis.rows to site_years or remove it",
        ));
    }
}
