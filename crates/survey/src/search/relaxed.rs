//! Which limits bind: one limit at a time is given way, and the closed forms look again.

use super::candidate::Candidate;
use super::screen::{Lattice, Seen};
use crate::scenario::{Checked, Scenario};
use serde::{Deserialize, Serialize};

/// A limit whose giving way would help.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Relaxed {
    /// Its path in the scenario.
    pub limit: String,
    /// What it is about, in words.
    pub about: String,
    /// Its value.
    pub value: String,
    /// The value it was given instead; `null` where it was taken away.
    pub given: Option<String>,
    /// The least plan by closed form with it.
    pub candidate: Candidate,
}

/// How far a number is raised.
fn raised(number: u32) -> u32 {
    (number + number / 2).max(number + 1)
}

struct Way {
    limit: String,
    about: String,
    value: String,
    given: Option<String>,
    scenario: Scenario,
}

fn ways(scenario: &Checked) -> Vec<Way> {
    let l = &scenario.limits;
    let mut all = Vec::new();
    let mut way = |limit: &str,
                   about: String,
                   value: String,
                   given: Option<String>,
                   change: &dyn Fn(&mut Scenario)| {
        let mut other = scenario.as_written().clone();
        change(&mut other);
        all.push(Way {
            limit: limit.into(),
            about,
            value,
            given,
            scenario: other,
        });
    };
    let sites = raised(l.sites);
    way(
        "limits.sites",
        "most sites".into(),
        l.sites.to_string(),
        Some(sites.to_string()),
        &|s| s.limits.sites = sites,
    );
    let traps = raised(l.traps_per_site).min(100);
    way(
        "limits.traps_per_site",
        "most traps per site".into(),
        l.traps_per_site.to_string(),
        Some(traps.to_string()),
        &|s| s.limits.traps_per_site = traps,
    );
    let weeks = raised(l.weeks).min(53);
    way(
        "limits.weeks",
        "most weeks".into(),
        l.weeks.to_string(),
        Some(weeks.to_string()),
        &|s| s.limits.weeks = weeks,
    );
    let years = l.years_or(scenario.plan.years);
    if let Some(&longest) = years.last() {
        let more = raised(longest).min(longest + 5).min(100);
        way(
            "limits.years",
            "years".into(),
            longest.to_string(),
            Some(more.to_string()),
            &|s| {
                s.limits.years = years.iter().copied().chain(longest + 1..=more).collect();
            },
        );
    }
    if !l.places.is_empty() {
        let there = l.places.len().to_string();
        let anywhere = |s: &mut Scenario| s.limits.places.clear();
        way(
            "limits.places",
            "sites there are".into(),
            there,
            None,
            &anywhere,
        );
    }
    for (path, cap, about) in l.cost_caps() {
        let Some(cap) = cap else { continue };
        way(path, format!("most {about}"), cap.to_string(), None, &|s| {
            let l = &mut s.limits;
            match path {
                "limits.money" => l.money = None,
                "limits.hours" => l.hours = None,
                _ => l.travel_days = None,
            }
        });
    }
    for (i, cap) in l.toll.iter().enumerate() {
        way(
            &format!("limits.toll[{i}]"),
            format!("most {}", cap.about()),
            cap.most.to_string(),
            None,
            &|s| {
                s.limits.toll.remove(i);
            },
        );
    }
    all
}

/// The plan with the smallest weighted toll among those whose margin reaches `needed`.
fn least(scenario: &Checked, needed: f64) -> Option<Candidate> {
    let lattice = Lattice::new(scenario);
    let mut best: Option<Seen> = None;
    lattice.visit(|seen| {
        if seen.margin >= needed && best.is_none_or(|b| seen.toll < b.toll) {
            best = Some(seen);
        }
    });
    best.map(|seen| lattice.candidate(&seen))
}

/// The limits that bind, those that help most first: each given way by itself (numbers raised by half, caps taken away)
/// makes room for a plan with margin `needed` and a weighted toll below `below` (infinite when no plan answers). A
/// relaxation that is larger than the format allows is left out, and so is one whose plan stands within the limits as
/// they are: that such a plan looks sure enough is the closed form's error and no limit's doing.
pub fn relaxed(scenario: &Checked, needed: f64, below: f64) -> Vec<Relaxed> {
    let within = least(scenario, needed).map_or(f64::INFINITY, |c| c.weighted_toll);
    let below = below.min(within);
    let mut all: Vec<Relaxed> = ways(scenario)
        .into_iter()
        .filter_map(|way| {
            let candidate = least(&way.scenario.check().ok()?, needed)?;
            (candidate.weighted_toll < below * (1.0 - 1e-6)).then_some(Relaxed {
                limit: way.limit,
                about: way.about,
                value: way.value,
                given: way.given,
                candidate,
            })
        })
        .collect();
    all.sort_by(|a, b| {
        a.candidate
            .weighted_toll
            .total_cmp(&b.candidate.weighted_toll)
    });
    all
}
