//! Rules of the limits: lists within bounds, groups that exist, and a search that is not too large.

use super::check::Fault;
use super::{Class, Plan, Scenario};
use crate::search::size;

/// Most plans of one search.
pub const MOST_PLANS: u64 = 400_000;
/// Most entries of one list.
const MOST_ENTRIES: usize = 50;

fn bound(path: String, value: impl ToString, bound: impl Into<String>) -> Fault {
    Fault::Bound {
        path,
        value: value.to_string(),
        bound: bound.into(),
    }
}

pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    let l = &s.limits;
    let before = faults.len();
    for (path, entries) in [
        ("limits.years", l.years.len()),
        ("limits.exposure_days", l.exposure_days.len()),
        ("limits.trap_options", l.trap_options.len()),
        ("limits.toll", l.toll.len()),
        ("limits.weights", l.weights.len()),
    ] {
        if entries > MOST_ENTRIES {
            let most = format!("at most {MOST_ENTRIES} entries");
            faults.push(bound(path.into(), format!("{entries} entries"), most));
        }
    }
    let fewest = s.fewest_years();
    for (i, &years) in l.years.iter().enumerate().take(MOST_ENTRIES) {
        if !(fewest..=100).contains(&years) {
            let range = format!("a whole number from {fewest} to 100");
            faults.push(bound(format!("limits.years[{i}]"), years, range));
        } else if let Some(fault) = refused(s, &s.plan.over_years(years)) {
            faults.push(bound(format!("limits.years[{i}]"), years, fault));
        }
    }
    for (i, &days) in l.exposure_days.iter().enumerate().take(MOST_ENTRIES) {
        if !(days > 0.0 && days <= 7.0) {
            let range = "a number above 0, up to 7 days a week";
            faults.push(bound(format!("limits.exposure_days[{i}]"), days, range));
        }
    }
    for (i, name) in l.trap_options.iter().enumerate().take(MOST_ENTRIES) {
        let known: Vec<&str> = s
            .premises
            .trap_options
            .iter()
            .map(|o| o.name.as_str())
            .collect();
        if !name.is_empty() && !known.contains(&name.as_str()) {
            let known = format!(
                "the name of one of premises.trap_options ({}), or empty for the trap of the premises",
                if known.is_empty() {
                    "there are none".into()
                } else {
                    known.join(", ")
                }
            );
            faults.push(bound(format!("limits.trap_options[{i}]"), name, known));
        }
    }
    for (path, cap, _) in l.cost_caps() {
        let Some(cap) = cap else { continue };
        if !(cap > 0.0 && cap <= 1e12) {
            faults.push(bound(
                path.into(),
                cap,
                "a number above 0, up to 1000000000000",
            ));
        } else if s.premises.costs.is_none() {
            let needs = "no such limit as long as premises.costs is missing: without costs nothing can be held to it";
            faults.push(bound(path.into(), cap, needs));
        }
    }
    let limits = l.toll.iter().map(|t| (&t.group, t.class, t.most, "most"));
    let weights = l
        .weights
        .iter()
        .map(|w| (&w.group, w.class, w.weight, "weight"));
    for (list, entries) in [
        ("limits.toll", limits.collect::<Vec<_>>()),
        ("limits.weights", weights.collect()),
    ] {
        for (i, (group, class, number, key)) in entries.into_iter().enumerate() {
            let path = format!("{list}[{i}]");
            if !(0.0..=1e9).contains(&number) {
                faults.push(bound(
                    format!("{path}.{key}"),
                    number,
                    "a number from 0 to 1000000000",
                ));
            }
            one_of_two(s, &path, group.as_deref(), class, faults);
        }
    }
    if faults.len() > before {
        return;
    }
    let plans = size(s);
    if plans > MOST_PLANS {
        faults.push(Fault::Size {
            size: plans,
            what: "plans within its limits",
            most: MOST_PLANS,
            lower: "limits.sites, limits.traps_per_site, limits.weeks, or list fewer years and exposures",
        });
    }
}

/// Why a plan of other years could not be run; none for what the plan itself is refused for.
fn refused(s: &Scenario, plan: &Plan) -> Option<String> {
    let mut alone = s.clone();
    alone.limits.years.clear();
    alone.limits.exposure_days.clear();
    alone.limits.trap_options.clear();
    if alone.clone().check().is_err() {
        return None;
    }
    alone.plan = plan.clone();
    let faults = alone.check().err()?;
    faults
        .first()
        .map(|f| format!("a number of years whose plan stands ({f})"))
}

fn one_of_two(
    s: &Scenario,
    path: &str,
    group: Option<&str>,
    class: Option<Class>,
    faults: &mut Vec<Fault>,
) {
    let names = || {
        let others = s.premises.killed_besides();
        let mut names = vec![s.premises.target.name.clone()];
        names.extend(others.iter().map(|k| k.group.name.clone()));
        names.join(", ")
    };
    match (group, class) {
        (Some(name), None) => {
            if s.tolls_of(Some(name), None).is_empty() {
                let known = format!("one of {}", names());
                faults.push(bound(format!("{path}.group"), name, known));
            }
        }
        (None, Some(_)) => {}
        _ => faults.push(bound(
            path.into(),
            if group.is_some() { "both" } else { "neither" },
            "either a group by its name or a class",
        )),
    }
}
