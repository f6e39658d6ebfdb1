//! What is said of the patterns of revisits and schemes of visits that a search may choose among.

use crate::number::plain;
use survey::scenario::{Limits, Plan, Scheme};

/// A scheme of visits in a few words.
pub fn scheme(scheme: Scheme) -> &'static str {
    match scheme {
        Scheme::Standard => "all weeks at all sites",
        Scheme::Removal => "each site until its first catch",
        Scheme::Conditional => "all weeks only at sites with a catch in the first",
    }
}

/// What is listed, for the sentence on what a search looks at.
pub(super) fn listed(l: &Limits) -> Vec<String> {
    let mut all = Vec::new();
    if !l.revisits.is_empty() {
        let each = l.revisits_or(None).into_iter();
        let each: Vec<String> = each.map(crate::revisit::name).collect();
        all.push(format!("patterns of revisits: {}", either(&each)));
    }
    if !l.schemes.is_empty() {
        let each = l.schemes_or(None).into_iter().flatten().map(scheme);
        let each: Vec<String> = each.map(Into::into).collect();
        all.push(format!("weeks made: {}", either(&each)));
    }
    if !l.places.is_empty() {
        all.push(format!("sites among {} listed places", l.places.len()));
    }
    all
}

/// The places of a plan's sites as its phrase has them, upwards along a gradient; nothing without a list.
pub(super) fn places(plan: &Plan) -> String {
    let mut used = plan.places_used().to_vec();
    if used.is_empty() {
        return String::new();
    }
    used.sort_by(|a, b| {
        let at = |p: &survey::scenario::Place| p.position.unwrap_or(0.0);
        at(a).total_cmp(&at(b))
    });
    let each: Vec<String> = used
        .iter()
        .map(|p| match p.position {
            Some(at) => format!("{} ({})", p.name, plain(at)),
            None => p.name.clone(),
        })
        .collect();
    format!(": {}", each.join(", "))
}

/// Commas stand within the entries.
fn either(words: &[String]) -> String {
    words.join(" / ")
}

/// What tells a plan from one of the same numbers: its pattern and scheme, where it has any.
pub fn way(plan: &Plan) -> String {
    let mut words = Vec::new();
    if plan.revisit.is_some() {
        words.push(crate::revisit::name(plan.revisit));
    }
    match plan.visits.as_ref().map(|v| v.scheme) {
        None | Some(Scheme::Standard) => {}
        Some(other) => words.push(scheme(other).into()),
    }
    words.join(", ")
}
