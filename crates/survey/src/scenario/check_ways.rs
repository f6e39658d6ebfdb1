//! Rules of the patterns of revisits and schemes of visits that a search may choose among.

use super::check::Fault;
use super::check_limits::{MOST_ENTRIES, refused};
use super::{Effect, Plan, Revisit, Scenario, Scheme, Visits};
use crate::search::Slice;

fn bound(path: String, value: impl ToString, bound: impl Into<String>) -> Fault {
    Fault::Bound {
        path,
        value: value.to_string(),
        bound: bound.into(),
    }
}

/// A pattern as it stands in a file.
fn pattern(revisit: Option<Revisit>) -> String {
    match revisit {
        None => "null".into(),
        Some(r) => r.key().into(),
    }
}

pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    let l = &s.limits;
    for (i, &revisit) in l.revisits.iter().enumerate().take(MOST_ENTRIES) {
        let plan = Plan {
            // Looks go with no pattern, and the search plans none.
            looks: None,
            ..s.plan.with_revisit(revisit)
        };
        if let Some(fault) = refused(s, plan) {
            let stands = format!(
                "a pattern whose plan stands, null for every site in every year, or leave it out ({fault})"
            );
            faults.push(bound(
                format!("limits.revisits[{i}]"),
                pattern(revisit),
                stands,
            ));
        }
    }
    if !l.schemes.is_empty() && !matches!(s.question.effect, Effect::Occupancy(_)) {
        let none = "no such list: schemes of visits belong to the occupancy question";
        faults.push(bound(
            "limits.schemes".into(),
            format!("{} entries", l.schemes.len()),
            none,
        ));
        return;
    }
    for (i, &scheme) in l.schemes.iter().enumerate().take(MOST_ENTRIES) {
        let with = |visits: &Visits| Visits {
            scheme,
            seasons: visits.seasons,
        };
        let plan = Plan {
            visits: s.plan.visits.as_ref().map(with),
            ..s.plan.clone()
        };
        if let Some(fault) = refused(s, plan) {
            let stands = format!("a scheme whose plan stands, or leave it out ({fault})");
            faults.push(bound(format!("limits.schemes[{i}]"), scheme.key(), stands));
        }
    }
}

/// What a combination has besides years, exposure and trap, where it is listed.
pub(super) fn words(s: &Scenario, slice: &Slice) -> String {
    let mut words = String::new();
    if !s.limits.revisits.is_empty() {
        words.push_str(&format!(", revisit {}", pattern(slice.revisit)));
    }
    if let Some(scheme) = slice.scheme.filter(|_| !s.limits.schemes.is_empty()) {
        words.push_str(&format!(", scheme {}", Scheme::key(scheme)));
    }
    words
}
