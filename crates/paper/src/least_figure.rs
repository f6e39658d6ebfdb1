//! The frontier of toll and power, with the least plan and the present one.

use crate::number::percent;
use crate::sentences;
use figures::{Choice, Tradeoff};
use survey::closed_form::{expected_toll, power_at_stated};
use survey::scenario::{Checked, Plan};
use survey::search::FrontPoint;

/// Beyond this power a larger toll buys nothing that a picture need show.
const ENOUGH: f64 = 0.985;

/// How far beyond the least plan and the present one tolls are shown.
const ROOM: f64 = 1.6;

/// A plan in as few words as name it.
pub fn short(plan: &Plan) -> String {
    let way = sentences::way(plan);
    format!(
        "{} sites, {} traps, {} weeks, {} years{}{way}",
        plan.sites,
        plan.traps_per_site,
        plan.weeks,
        plan.years,
        if way.is_empty() { "" } else { "; " }
    )
}

/// The figure; `None` before anything is known.
pub fn least_figure(scenario: &Checked, points: &[FrontPoint]) -> Option<Tradeoff> {
    let own = &scenario.plan;
    let own_toll = expected_toll(scenario, own).total();
    let least_toll = points.iter().filter(|p| p.least).map(|p| p.expected_toll);
    let room = ROOM * least_toll.fold(own_toll, f64::max);
    let last = points
        .iter()
        .position(|p| (p.preview_power > ENOUGH || p.expected_toll > room) && !p.least);
    let kept = &points[..last.map_or(points.len(), |l| l.min(points.len()))];
    let least_beyond = points.iter().skip(kept.len()).filter(|p| p.least);
    let mut choices: Vec<Choice> = kept
        .iter()
        .chain(least_beyond)
        .map(|p| Choice {
            label: short(&p.plan),
            amount: p.expected_toll,
            foreseen: p.preview_power,
            tried: p
                .power
                .filter(|s| s.replicates > 0)
                .map(|s| (s.estimate, s.low, s.high)),
            beside: p
                .false_alarm
                .filter(|s| s.replicates > 0)
                .map(|s| s.estimate),
            on_line: true,
            name: p.least.then(|| "the least plan".to_string()),
        })
        .collect();
    if choices.is_empty() {
        return None;
    }
    match points.iter().position(|p| p.plan == *own) {
        Some(place) if place < choices.len() => {
            let name = &mut choices[place].name;
            *name = Some(
                if name.is_some() {
                    "the least plan: this plan"
                } else {
                    "this plan"
                }
                .into(),
            );
        }
        _ => choices.push(Choice {
            label: short(own),
            amount: own_toll,
            foreseen: power_at_stated(scenario, own),
            tried: None,
            beside: None,
            on_line: false,
            name: Some("this plan".into()),
        }),
    }
    Some(Tradeoff {
        id: "least-frontier".into(),
        title: "What more kills buy: power of the best plan for each toll".into(),
        show_title: true,
        description: format!(
            "{} Each plan on the line is the surest for its toll; wanted power {}.",
            sentences::question(scenario),
            percent(scenario.question.wanted_power)
        ),
        x_label: "animals killed, all years, expected".into(),
        y_label: "power".into(),
        foreseen_label: "power by closed form".into(),
        tried_label: "simulated".into(),
        beside_label: sentences::false_alarms(scenario).into(),
        wanted: ("wanted power".into(), scenario.question.wanted_power),
        choices,
        width: 760.0,
        height: 420.0,
    })
}
