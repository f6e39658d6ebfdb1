//! Rules of the limits: lists within bounds, groups that exist, and a search that is not too large.

use super::check::Fault;
use super::check_ways;
use super::{Class, Plan, Scenario};
use crate::search::{size, slices};

/// Most plans of one search.
pub const MOST_PLANS: u64 = 400_000;
/// Most combinations of years, exposures, kinds of trap, patterns of revisits and schemes of visits.
const MOST_SLICES: usize = 500;
/// Most entries of one list.
pub(super) const MOST_ENTRIES: usize = 50;

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
        ("limits.revisits", l.revisits.len()),
        ("limits.schemes", l.schemes.len()),
        ("limits.toll", l.toll.len()),
        ("limits.weights", l.weights.len()),
    ] {
        if entries > MOST_ENTRIES {
            let most = format!("at most {MOST_ENTRIES} entries");
            faults.push(bound(path.into(), format!("{entries} entries"), most));
        }
    }
    for (i, &years) in l.years.iter().enumerate().take(MOST_ENTRIES) {
        if let Some(fault) = refused(s, s.plan.over_years(years)) {
            let stands = format!("a number of years whose plan stands ({fault})");
            faults.push(bound(format!("limits.years[{i}]"), years, stands));
        }
    }
    for (i, &exposure_days) in l.exposure_days.iter().enumerate().take(MOST_ENTRIES) {
        let plan = Plan {
            exposure_days,
            ..s.plan.clone()
        };
        if let Some(fault) = refused(s, plan) {
            let stands = format!("days a week whose plan stands ({fault})");
            faults.push(bound(
                format!("limits.exposure_days[{i}]"),
                exposure_days,
                stands,
            ));
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
            continue;
        }
        let plan = Plan {
            trap_option: (!name.is_empty()).then(|| name.clone()),
            ..s.plan.clone()
        };
        if let Some(fault) = refused(s, plan) {
            let stands = format!("a kind of trap whose plan stands ({fault})");
            faults.push(bound(format!("limits.trap_options[{i}]"), name, stands));
        }
    }
    check_ways::check(s, faults);
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
    combinations(s, faults);
    let plans = size(s);
    if plans > MOST_PLANS {
        faults.push(Fault::Size {
            size: plans,
            what: "plans within its limits",
            most: MOST_PLANS,
            lower: "limits.sites, limits.traps_per_site, limits.weeks, or list fewer years, exposures, kinds of trap, patterns and schemes",
        });
    }
}

/// Why another plan of the scenario could not be run; none when its own could not either, which is told elsewhere.
pub(super) fn refused(s: &Scenario, plan: Plan) -> Option<String> {
    let mut alone = s.clone();
    alone.limits.clear_lists();
    let own = alone.clone();
    alone.plan = plan;
    let faults = alone.check().err()?;
    own.check().ok()?;
    faults.first().map(ToString::to_string)
}

/// Where several lists are given, each of their combinations has to stand: none is left out of a search in silence.
fn combinations(s: &Scenario, faults: &mut Vec<Fault>) {
    if s.limits.lists() < 2 {
        return;
    }
    let all = slices(s);
    if all.len() > MOST_SLICES {
        faults.push(Fault::Size {
            size: all.len() as u64,
            what: "combinations of years, exposures, kinds of trap, patterns of revisits and schemes of visits",
            most: MOST_SLICES as u64,
            lower: "list fewer of limits.years, limits.exposure_days, limits.trap_options, limits.revisits or limits.schemes",
        });
        return;
    }
    for slice in all {
        if let Some(fault) = refused(s, slice.on(&s.plan)) {
            let trap = slice.trap_option.as_deref().unwrap_or("the premises' trap");
            let ways = check_ways::words(s, &slice);
            faults.push(bound(
                "limits".into(),
                format!(
                    "{} years, {} days a week, {trap}{ways}",
                    slice.years, slice.exposure_days
                ),
                format!("lists whose combinations all stand ({fault})"),
            ));
            return;
        }
    }
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
