//! The least plan: the smallest toll that answers, why not fewer, and what more kills would buy.

mod frontier;

pub use frontier::view as frontier;

use super::apart::{self, Part};
use super::in_turn::in_turn;
use crate::state::Model;
use crate::words::{least as words, numbers, parts, shared};
use engine::least::{Least, PlanAnswer, RACE_ERROR};
use engine::scenario::Plan;
use figures::locale::retold;
use leptos::prelude::*;
use paper::number::{count, percent, percent_fine};
use paper::sentences;

/// The part with its button.
pub fn view(model: Model) -> impl IntoView {
    let sought = Memo::new(move |_| model.least.with(Option::is_some));
    view! {
        <div id="least">
            <p class="aside">{move || model.scenario.with(|s| words::about(&sentences::search_space(s)))}</p>
            <p class="buttons"><button type="button" class="first-choice" id="find-least" on:click=move |_| model.run_least()>{words::FIND}</button></p>
            <div aria-live="polite">{move || sought.get().then(|| apart::view(model, Part::LeastFound))}</div>
            {move || sought.get().then(|| apart::view(model, Part::Frontier))}
        </div>
    }
}

/// What has been found by now. The table is drawn before the rest, each in turn: what is called found is there whole.
pub fn found(model: Model) -> impl IntoView {
    let now = Memo::new(move |_| (model.least.get(), model.least_stopped.get()));
    let table = in_turn(now);
    let rest = in_turn(Memo::new(move |_| table.get()));
    view! {
        {move || rest.with(|(l, stopped)| l.as_ref().map(|l| result(model, l, *stopped)))}
        {move || table.with(|(l, _)| with_plan(l).map(|l| why_not_fewer(model, l)))}
        {move || rest.with(|(l, _)| with_plan(l).map(|l| beneath(model, l)))}
    }
}

/// What was found, where it is a plan.
fn with_plan(least: &Option<Least>) -> Option<&Least> {
    least.as_ref().filter(|l| l.plan.is_some())
}

/// The answer on top: what was found, or that none was, or how far the search is.
fn result(model: Model, least: &Least, stopped: bool) -> AnyView {
    if let Some(plan) = least.plan.clone() {
        return view! {
            <p class="verdict" id="least-plan" data-complete=least.complete.to_string()>{words::found(least.complete, stopped, &sentences::plan(&plan))}</p>
            {model.scenario.with_untracked(sentences::least_of_list).map(|text| view! { <p class="warning" id="least-of-list">{text}</p> })}
            <p class="buttons"><button type="button" id="take-least" on:click=move |_| take(model, &plan)>{words::TAKE}</button></p>
            {beside(model, least)}
        }
        .into_any();
    }
    if let Some(s) = &least.shortfall {
        let help = s
            .would_help
            .iter()
            .map(|h| view! { <li>{retold(h)}</li> })
            .collect_view();
        let rows = row(model, &s.surest, words::SUREST.into());
        let alarms = model.scenario.with_untracked(sentences::false_alarms);
        return view! {
            <p class="verdict" id="least-none">{retold(&s.reason)}</p>
            {table(rows, words::SUREST_TABLE, alarms)}
            {sentences::stand_in(&s.surest.test, s.surest.power.replicates).map(|n| view! { <p class="aside">{n}</p> })}
            {binding(least)}
            <p>{words::HELP}</p>
            <ul>{help}</ul>
            <p class="aside">{foot(least)}</p>
        }
        .into_any();
    }
    if least.complete {
        return view! {
            <p class="verdict" id="least-none">{words::NO_PLAN}</p>
            {binding(least)}
        }
        .into_any();
    }
    if stopped {
        return view! { <p class="verdict" id="least-stopped">{words::stopped(&looked(least))}</p> }
            .into_any();
    }
    view! { <p id="least-searching">{words::searching(&looked(least))}</p> }.into_any()
}

/// What stands beneath the table of a plan that was found.
fn beneath(model: Model, least: &Least) -> impl IntoView + use<> {
    view! {
        <ul class="fits" id="least-notes">{notes(model, least)}</ul>
        {binding(least)}
        <p class="aside">{foot(least)}</p>
    }
}

fn looked(least: &Least) -> String {
    words::looked(&count(least.screened as f64), &least.simulated.to_string())
}

/// How many plans were looked at and how, and what may have been missed.
fn foot(least: &Least) -> String {
    let looked = looked(least);
    let raced = sentences::race(least.stopped, RACE_ERROR, least.surveys);
    let missed = least.missed.as_ref().map(sentences::missed);
    let missed = missed.filter(|_| least.complete).unwrap_or_default();
    format!("{looked} {raced} {missed}")
}

/// The least plan as one row of the table.
fn own(least: &Least) -> Option<PlanAnswer> {
    Some(PlanAnswer {
        plan: least.plan.clone()?,
        fewer: "least",
        test: least.test.clone()?,
        power: least.power?,
        false_alarm: least.false_alarm?,
        smallest_change: least.smallest_change,
        significant: least.significant?,
        fits: least.fits.unwrap_or_default(),
        toll: least.toll.clone(),
        cost: least.cost,
        spared: None,
        within_limits: true,
        stopped: None,
    })
}

fn notes(model: Model, least: &Least) -> impl IntoView + use<> {
    let Some(own) = own(least) else {
        return Vec::new().into_iter().collect_view();
    };
    let notes: Vec<String> = model.scenario.with_untracked(|s| {
        let half = least.half_exposure.map(|h| {
            sentences::half_exposure(
                h.exposure_days,
                h.preview_power,
                h.preview_power_of_least,
                h.expected_toll,
            )
        });
        let undecided = least
            .undecided_toll
            .map(|t| sentences::undecided(t, own.power.replicates));
        sentences::stand_in(&own.test, own.power.replicates)
            .into_iter()
            .chain(sentences::one_of_several(s))
            .chain(sentences::least_warning(s, &own.false_alarm))
            .chain(undecided)
            .chain(half)
            .collect()
    });
    notes
        .into_iter()
        .map(|n| view! { <li>{n}</li> })
        .collect_view()
}

/// The least plan beside the present one.
fn beside(model: Model, least: &Least) -> impl IntoView + use<> {
    let own = own(least);
    let present = model.answer.get_untracked();
    let same = own
        .as_ref()
        .zip(present.as_ref())
        .is_some_and(|(o, p)| o.plan == p.plan);
    let cards = own.filter(|_| !same).zip(present);
    cards.map(|(own, present)| {
        let present = PlanAnswer {
            plan: present.plan.clone(),
            fewer: "present",
            test: present.test.clone(),
            power: present.power,
            false_alarm: present.false_alarm,
            smallest_change: present.smallest_change,
            significant: present.significant,
            fits: present.fits,
            toll: present.toll.clone(),
            cost: present.cost.as_ref().map(|c| c.total),
            spared: None,
            within_limits: true,
            stopped: None,
        };
        let before = present.plan.clone();
        let title = move || {
            if model.scenario.with(|s| s.plan == before) {
                words::THIS_PLAN
            } else {
                words::PLAN_BEFORE
            }
        };
        view! {
            <div class="cards" id="least-cards">
                {card(model, title, &present)}
                {card(model, || parts::LEAST.1, &own)}
            </div>
        }
    })
}

fn card(
    model: Model,
    title: impl Fn() -> &'static str + Send + Sync + 'static,
    p: &PlanAnswer,
) -> AnyView {
    let toll = p
        .toll
        .as_ref()
        .map_or("…".to_string(), |t| sentences::spread(&t.total));
    let cost = p
        .cost
        .as_ref()
        .map(|c| model.scenario.with_untracked(|s| paper::cost::phrase(s, c)));
    let power = if p.power.replicates > 0 {
        numbers::estimate(
            &percent(p.power.estimate),
            &percent(p.power.low),
            &percent(p.power.high),
        )
    } else {
        "…".into()
    };
    let alarms_name = model.scenario.with_untracked(sentences::false_alarms);
    let alarms = if p.false_alarm.replicates > 0 {
        percent_fine(p.false_alarm.estimate)
    } else {
        "…".into()
    };
    view! {
        <div class="card">
            <h4>{title}</h4>
            <p>{sentences::plan(&p.plan)}</p>
            <dl>
                <dt>{shared::ANIMALS_KILLED}</dt><dd>{toll}</dd>
                <dt>{shared::POWER}</dt><dd>{power}</dd>
                <dt>{alarms_name}</dt><dd>{alarms}</dd>
                {cost.map(|c| view! { <dt>{words::COST}</dt><dd>{c}</dd> })}
            </dl>
        </div>
    }
    .into_any()
}

fn why_not_fewer(model: Model, least: &Least) -> impl IntoView + use<> {
    let alarms = model.scenario.with_untracked(sentences::false_alarms);
    let exposure = own(least).map(|p| p.plan.exposure_days);
    let rows = own(least)
        .iter()
        .map(|p| row(model, p, words::LEAST_ROW.into()))
        .chain(least.smaller.iter().map(|p| {
            let told = model.scenario.with_untracked(|s| {
                let standing = sentences::standing_of_smaller(s, &p.power, p.within_limits);
                format!("{}: {standing}", sentences::fewer(p.fewer))
            });
            let stopped = p.stopped.map_or(String::new(), |s| {
                format!("; {}", sentences::stopped(s.after, s.of))
            });
            // The table has no column for it.
            let days = p.plan.exposure_days;
            let days = if Some(days) == exposure {
                String::new()
            } else {
                format!(", {}", sentences::days_a_week(days))
            };
            row(model, p, format!("{told}{stopped}{days}"))
        }))
        .collect_view();
    table(rows, words::WHY_NOT_FEWER, alarms)
}

fn binding(least: &Least) -> impl IntoView + use<> {
    let lines: Vec<String> = least
        .binding_limits
        .iter()
        .map(sentences::binding)
        .collect();
    (!lines.is_empty()).then(|| {
        view! {
            <p>{words::BINDING}</p>
            <ul id="least-binding">{lines.into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}</ul>
        }
    })
}

fn take(model: Model, plan: &Plan) {
    let plan = plan.clone();
    // The evidence that fewer could not answer stays on show.
    let evidence = model.least.get_untracked();
    let stopped = model.least_stopped.get_untracked();
    model.edit(|s| s.plan = plan);
    model.least.set(evidence);
    model.least_stopped.set(stopped);
}

fn table(rows: impl IntoView, caption: &'static str, alarms: &'static str) -> impl IntoView {
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=words::TABLE>
            <table id="least-table">
                <caption>{caption}</caption>
                <thead><tr>
                    <th scope="col" class="words">{words::WHAT}</th>
                    <th scope="col">{words::SITES}</th><th scope="col">{words::TRAPS}</th><th scope="col">{words::WEEKS}</th><th scope="col">{words::YEARS}</th>
                    <th scope="col">{shared::POWER}</th><th scope="col">{alarms}</th><th scope="col">{shared::ANIMALS_KILLED}</th><th scope="col">{words::SPARED}</th>
                    <th scope="col">{words::SMALLEST}</th><th scope="col">{words::WRONG_WAY}</th><th scope="col">{words::TOO_LARGE}</th>
                </tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
}

fn row(model: Model, p: &PlanAnswer, what: String) -> impl IntoView + use<> {
    let none = || "—".to_string();
    let spared = p.spared.filter(|s| *s > 0.0).map_or_else(none, count);
    let change = p.smallest_change.and_then(|c| {
        let told = model
            .scenario
            .with_untracked(|s| sentences::smallest_preview(s, c.estimate));
        told.map(|t| t.value)
    });
    let way = sentences::way(&p.plan);
    let wrong = p.significant.wrong_sign.map_or_else(none, percent_fine);
    let size = p.significant.exaggeration;
    let size = size.map_or_else(none, words::times);
    let share = |s: &engine::summary::Share| {
        numbers::estimate(
            &percent_fine(s.estimate),
            &percent_fine(s.low),
            &percent_fine(s.high),
        )
    };
    view! {
        <tr>
            <th scope="row" class="words">{if way.is_empty() { what } else { format!("{what} ({way})") }}</th>
            <td>{p.plan.sites}</td><td>{p.plan.traps_per_site}</td><td>{p.plan.weeks}</td><td>{p.plan.years}</td>
            <td>{share(&p.power)}</td><td>{share(&p.false_alarm)}</td>
            <td>{p.toll.as_ref().map_or("…".to_string(), |t| sentences::spread(&t.total))}</td>
            <td>{spared}</td><td>{change.unwrap_or_else(none)}</td><td>{wrong}</td><td>{size}</td>
        </tr>
    }
}
