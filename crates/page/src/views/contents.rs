//! The parts of the page in their order, and what each tells while it is closed.

use super::apart::Part;
use super::chapter::Body::{Apart, Here};
use super::chapter::{Body, Chapter, chapter, panel};
use super::{curve, least, plan, revisit, toll};
use crate::state::Model;
use crate::words::parts::Titled;
use crate::words::{jobs, parts};
use engine::Axis;
use engine::scenario::{Class, Scenario};
use leptos::prelude::*;
use paper::number::{count, percent};
use paper::sentences;

fn always(_: &Scenario) -> bool {
    true
}

fn nothing(_: Model) -> Option<String> {
    None
}

const fn chapter_of(
    titled: Titled,
    asked: fn(&Scenario) -> bool,
    finding: fn(Model) -> Option<String>,
    body: Body,
) -> Chapter {
    Chapter {
        titled,
        asked,
        finding,
        body,
    }
}

/// Whether the plan answers.
const ANSWERS: &[Chapter] = &[
    chapter_of(
        parts::CURVE,
        always,
        enough,
        Here(|m| curve::view(m).into_any()),
    ),
    chapter_of(parts::LIMITING, always, nothing, Apart(Part::Limiting)),
    chapter_of(parts::MAP, always, nothing, Apart(Part::Map)),
    chapter_of(parts::FUTURES, always, futures_told, Apart(Part::Futures)),
    chapter_of(
        parts::SEVERAL,
        |s| sentences::asked_of_several(s).is_some(),
        nothing,
        Apart(Part::Several),
    ),
    chapter_of(
        parts::INVENTORY,
        |s| s.question.effect.key() == "inventory",
        nothing,
        Apart(Part::Inventory),
    ),
];

/// What it takes.
const COSTS: &[Chapter] = &[
    chapter_of(
        parts::TOLL,
        always,
        killed,
        Here(|m| toll::view(m).into_any()),
    ),
    chapter_of(
        parts::COST,
        |s| s.premises.costs.is_some(),
        paid,
        Apart(Part::Cost),
    ),
    chapter_of(parts::SEASON, always, weeks, Apart(Part::Season)),
];

/// How it can be less.
const SMALLER: &[Chapter] = &[
    chapter_of(
        parts::LEAST,
        always,
        least_told,
        Here(|m| least::view(m).into_any()),
    ),
    chapter_of(parts::GENTLE, always, nothing, Apart(Part::Gentle)),
    chapter_of(
        parts::REVISIT,
        revisit::takes,
        nothing,
        Apart(Part::Revisit),
    ),
    chapter_of(
        parts::LOOKS,
        Scenario::allows_looks,
        nothing,
        Apart(Part::Looks),
    ),
    chapter_of(
        parts::STOP_LINES,
        |s| s.question.effect.key() == "baseline",
        nothing,
        Apart(Part::StopLines),
    ),
];

/// How far to trust it.
const TRUST: &[Chapter] = &[
    chapter_of(parts::IGNORING, always, nothing, Apart(Part::Ignoring)),
    chapter_of(parts::MISTAKES, always, nothing, Apart(Part::Mistakes)),
    chapter_of(parts::METHOD, always, nothing, Apart(Part::Method)),
];

const GROUPS: [(&str, &str, &[Chapter]); 4] = [
    ("answers", parts::ANSWERS, ANSWERS),
    ("takes", parts::COSTS, COSTS),
    ("smaller", parts::SMALLER, SMALLER),
    ("trust", parts::TRUST, TRUST),
];

const PANELS: [(&str, &str); 6] = [
    parts::PLAN,
    parts::PREMISES,
    parts::BYCATCH,
    parts::TRAPS,
    parts::RATES,
    parts::OTHERS,
];

/// Keys of all parts.
pub fn keys() -> Vec<&'static str> {
    let chapters = GROUPS.iter().flat_map(|g| g.2).map(|c| c.titled.0);
    PANELS.iter().map(|p| p.0).chain(chapters).collect()
}

/// Links to the groups.
pub fn links() -> impl IntoView {
    let groups = GROUPS.map(|(key, title, _)| {
        view! { <li><a href=format!("#group-{key}")>{title}</a></li> }
    });
    view! { <ul class="links">{groups}</ul> }
}

/// The chapters.
pub fn chapters(model: Model) -> impl IntoView {
    GROUPS.map(|(key, title, chapters)| {
        view! {
            <section class="group-of-parts" id=format!("group-{key}") aria-labelledby=format!("group-{key}-title") tabindex="-1">
                <h2 id=format!("group-{key}-title")>{title}</h2>
                {chapters.iter().map(|c| chapter(model, *c)).collect_view()}
            </section>
        }
    })
}

/// The controls.
pub fn panels(model: Model) -> impl IntoView {
    view! {
        {panel(model, parts::PLAN, |m| m.scenario.with(|s| sentences::plan(&s.plan)), Here(|m| plan::view(m).into_any()))}
        {panel(model, parts::PREMISES, |m| m.scenario.with(|s| paper::premises::of_target(s).words()), Apart(Part::Premises))}
        {panel(model, parts::BYCATCH, |m| m.scenario.with(groups), Apart(Part::Bycatch))}
        {panel(model, parts::TRAPS, |m| m.scenario.with(|s| s.plan.trap_option.clone().unwrap_or_else(|| parts::USUAL_TRAP.into())), Apart(Part::Traps))}
        {panel(model, parts::RATES, |m| m.scenario.with(|s| paper::premises::of_costs(s).words()), Apart(Part::Rates))}
        {panel(model, parts::OTHERS, |m| m.scenario.with(|s| parts::others(s.premises.others.len())), Apart(Part::Others))}
    }
}

fn groups(s: &Scenario) -> String {
    let names: Vec<&str> = s.premises.bycatch.iter().map(|g| g.name.as_str()).collect();
    if names.is_empty() {
        parts::NO_BYCATCH.into()
    } else {
        names.join(", ")
    }
}

/// The first plan of the curve that reaches the wanted power.
fn enough(model: Model) -> Option<String> {
    if model
        .running
        .with(|r| r.what == jobs::CURVE || r.what == jobs::ANSWER)
    {
        return None;
    }
    let wanted = model.scenario.with(|s| s.question.wanted_power);
    let grows = [
        Axis::Sites,
        Axis::Traps,
        Axis::Weeks,
        Axis::Years,
        Axis::Exposure,
    ];
    let axis = Some(model.axis.get())
        .filter(|a| grows.contains(a))?
        .label();
    model.curve.with(|c| {
        let points = &c.as_ref()?.points;
        let first = points
            .iter()
            .find(|p| p.power.replicates > 0 && p.power.estimate >= wanted);
        Some(match first {
            Some(p) => parts::enough(
                axis,
                p.value(),
                &percent(wanted),
                &percent(p.power.estimate),
                &model.scenario.with(|s| {
                    format!(
                        "{} {}",
                        sentences::false_alarms(s),
                        percent(p.false_alarm.estimate)
                    )
                }),
            ),
            None => parts::not_enough(axis, &percent(wanted)),
        })
    })
}

fn futures_told(model: Model) -> Option<String> {
    model.answer.with(|a| {
        let power = &a.as_ref()?.power;
        (power.replicates > 0).then(|| parts::of_twenty((20.0 * power.estimate).round() as u32))
    })
}

fn killed(model: Model) -> Option<String> {
    model.answer.with(|a| {
        let toll = a.as_ref()?.toll.as_ref()?;
        if toll.bycatch.is_empty() {
            return Some(parts::killed_besides_unstated(&count(toll.total.mean)));
        }
        let apart = toll.bycatch.iter().filter(|g| g.class != Class::Arthropod);
        let apart: f64 = apart.map(|g| g.mean).sum();
        Some(parts::killed(&count(toll.total.mean), &count(apart)))
    })
}

fn paid(model: Model) -> Option<String> {
    model.answer.with(|a| {
        let cost = a.as_ref()?.cost.as_ref()?;
        model
            .scenario
            .with(|s| Some(paper::cost::phrase(s, &cost.total)))
    })
}

fn weeks(model: Model) -> Option<String> {
    model.scenario.with(|s| {
        let weeks = s.plan.open_weeks();
        Some(parts::trapped_in(&sentences::in_weeks(&weeks)))
    })
}

fn least_told(model: Model) -> Option<String> {
    model.least.with(|l| {
        let plan = l.as_ref()?.plan.as_ref()?;
        Some(sentences::plan(plan))
    })
}
