//! What the plan costs: tables and picture, and the rates behind them.

use super::binding::of_stepped;
use super::field::control;
use super::frame::measured;
use super::plan::{choice, fields};
use crate::state::Model;
use crate::words::{cost as words, reading, shared};
use engine::cost::{PlanCost, expected_cost};
use engine::scenario::{Costs, MOST_STEPPED, Paid, Sample, Scenario, Stepped, SteppedBy};
use leptos::html::Div;
use leptos::prelude::*;
use paper::cost as told;

fn has_costs(model: Model) -> Memo<bool> {
    Memo::new(move |_| model.scenario.with(|s| s.premises.costs.is_some()))
}

/// Tables and picture; nothing without costs.
pub fn view(model: Model) -> impl IntoView {
    let has = has_costs(model);
    move || has.get().then(|| part(model))
}

fn part(model: Model) -> impl IntoView {
    // No simulation is needed: it follows every edit at once.
    let cost = Memo::new(move |_| {
        model.checked.with(|c| {
            let s = c.as_ref().ok()?;
            expected_cost(s, &s.plan)
        })
    });
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let figure = Memo::new(move |_| {
        let width = width.get();
        cost.with(|c| {
            let cost = c.as_ref()?;
            let mut figure = model.scenario.with(|s| told::figure(s, cost))?;
            figure.width = width;
            figure.show_title = false;
            Some(figure)
        })
    });
    let save_svg = move |_| {
        if let Some(mut f) = figure.get_untracked() {
            f.show_title = true;
            model.save("leastcatch-cost.svg", "image/svg+xml", &f.svg());
        }
    };
    let save_csv = move |_| {
        cost.with_untracked(|c| {
            if let Some(cost) = c {
                let text = told::all_months(cost).csv();
                model.save("leastcatch-cost.csv", "text/csv", &text);
            }
        });
    };
    view! {
            <div id="cost">
                <div aria-live="polite"><p id="cost-told">{move || cost.with(|c| {
                    let c = c.as_ref()?;
                    Some(model.scenario.with(|s| words::told(&told::phrase(s, &c.total), &told::by_kind(&c.total.hours))))
                })}</p></div>
                <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="cost-figure" node_ref=frame inner_html=move || figure.with(|f| f.as_ref().map_or(String::new(), figures::StackedBars::svg_unstyled))></div>
                <p class="buttons">
                    <button type="button" id="save-cost-svg" on:click=save_svg>{reading::SVG}</button>
    {super::reading::png(model, "cost-figure")}
                    <button type="button" id="save-cost-csv" on:click=save_csv>{words::MONTHS_CSV}</button>
                </p>
                {move || cost.with(|c| c.as_ref().map(|c| explained(model, c)))}
            </div>
        }
}

fn explained(model: Model, cost: &PlanCost) -> impl IntoView + use<> {
    let months = model.scenario.with(|s| {
        let costs = s.premises.costs.as_ref()?;
        Some(told::by_month(costs, cost.busiest_year()?).html())
    });
    let notes: Vec<String> = cost
        .stepped
        .iter()
        .map(|s| told::stepped(s, &cost.currency))
        .chain(told::over_staff(cost))
        .chain(model.scenario.with(told::unsourced))
        .collect();
    view! {
        <div class="scroll" id="cost-months" tabindex="0" role="region" aria-label=words::MONTHS_TABLE inner_html=months.unwrap_or_default()></div>
        <div class="scroll" id="cost-years" tabindex="0" role="region" aria-label=words::YEARS_TABLE inner_html=told::by_year(cost).html()></div>
        <ul class="fits" id="cost-notes">{notes.into_iter().map(|n| view! { <li>{n}</li> }).collect_view()}</ul>
        <ul class="aside">{told::ABOUT.map(|n| view! { <li>{n}</li> })}</ul>
    }
}

/// The rates.
pub fn rates(model: Model) -> impl IntoView {
    let has = has_costs(model);
    view! {
        <div id="rates">
            {move || if has.get() {
                stated(model).into_any()
            } else {
                view! {
                    <p class="aside">{words::NOT_TOLD}</p>
                    <button type="button" id="add-costs" on:click=move |_| model.edit(|s| s.premises.costs = Some(Costs::usual()))>{words::ADD}</button>
                }.into_any()
            }}
        </div>
    }
}

const TRAVEL: &[&str] = &[
    "premises.costs.sites_per_day",
    "premises.costs.visits_per_week",
    "premises.costs.visits_before_season",
    "premises.costs.people",
    "premises.costs.travel_hours_per_day",
    "premises.costs.travel_money_per_day",
];
const FIELD: &[&str] = &[
    "premises.costs.hours_per_site_visit",
    "premises.costs.minutes_per_trap",
    "premises.costs.minutes_to_set_up",
    "premises.costs.minutes_to_take_down",
];
const LABORATORY: &[&str] = &[
    "premises.costs.sorting_hours_per_sample",
    "premises.costs.sorting_minutes_per_100",
    "premises.costs.minutes_per_target",
    "premises.costs.minutes_per_bycatch",
    "premises.costs.kept_share",
    "premises.costs.curation_minutes",
    "premises.costs.laboratory_lag_weeks",
];
const MONEY: &[&str] = &[
    "premises.costs.field_wage",
    "premises.costs.laboratory_wage",
    "premises.costs.trap_price",
    "premises.costs.trap_life_years",
    "premises.costs.money_per_trap_week",
    "premises.costs.money_per_year",
    "premises.costs.money_once",
];
const STAFF: &[&str] = &[
    "premises.costs.field_staff_hours",
    "premises.costs.laboratory_staff_hours",
];

fn stated(model: Model) -> impl IntoView {
    let samples = [Sample::Trap, Sample::Site].map(|s| (told::sample(s), s));
    view! {
        <p class="aside">{words::ABOUT}</p>
        {currency(model)}
        <details open><summary>{words::TRAVEL}</summary>{fields(model, TRAVEL)}</details>
        <details><summary>{words::FIELD}</summary>{fields(model, FIELD)}</details>
        <details><summary>{words::LABORATORY}</summary>
            {choice("cost-sample", words::SAMPLE, samples.to_vec(),
                move || model.scenario.with(|s| s.premises.costs.as_ref().map_or(Sample::Trap, |c| c.sample)),
                move |v| model.edit(|s| if let Some(c) = &mut s.premises.costs { c.sample = v; }))}
            {fields(model, LABORATORY)}
        </details>
        <details><summary>{words::MONEY}</summary>{fields(model, MONEY)}</details>
        <details><summary>{words::STAFF}</summary>{fields(model, STAFF)}</details>
        {all_stepped(model)}
        <button type="button" class="remove" id="remove-costs" on:click=move |_| {
            model.edit(|s| s.premises.costs = None);
        }>{words::REMOVE}</button>
    }
}

fn currency(model: Model) -> impl IntoView {
    let name = Memo::new(move |_| model.scenario.with(|s| told::currency(s).to_string()));
    let problem = Memo::new(move |_| model.problem("premises.costs.currency"));
    view! {
        <div class="control">
            <label for="cost-currency">{words::CURRENCY}<span class="unit">{words::AS_TEXT}</span></label>
            <div class="entry">
                <input id="cost-currency" class="name" size="9"
                    prop:value=move || name.get()
                    on:change=move |e| {
                        let typed = event_target_value(&e);
                        model.edit(|s| if let Some(c) = &mut s.premises.costs { c.currency = typed; });
                    } />
                <span class="problem" role="status">{move || problem.get()}</span>
            </div>
        </div>
    }
}

/// A further stepped cost, under a name that is free.
fn add_stepped(s: &mut Scenario) {
    let Some(c) = &mut s.premises.costs else {
        return;
    };
    let mut new = Stepped::usual();
    let mut n = 2;
    while c.stepped.iter().any(|other| other.name == new.name) {
        new.name = words::new_name(n);
        n += 1;
    }
    c.stepped.push(new);
}

fn all_stepped(model: Model) -> impl IntoView {
    let count = Memo::new(move |_| {
        let of = |s: &Scenario| s.premises.costs.as_ref().map_or(0, |c| c.stepped.len());
        model.scenario.with(of)
    });
    view! {
        <details open=move || { count.get() > 0 }>
            <summary>{words::STEPPED}</summary>
            <p class="aside">{words::ABOUT_STEPPED}</p>
            <For each=move || 0..count.get() key=|i| *i let:i>{stepped(model, i)}</For>
            {move || (count.get() < MOST_STEPPED).then(|| view! {
                <button type="button" id="add-stepped" on:click=move |_| model.edit(add_stepped)>{words::ADD_STEPPED}</button>
            })}
        </details>
    }
}

fn stepped(model: Model, i: usize) -> impl IntoView {
    let get = move || {
        model.scenario.with(|s| {
            let costs = s.premises.costs.as_ref()?;
            costs.stepped.get(i).cloned()
        })
    };
    let now = Memo::new(move |_| get());
    let name =
        Memo::new(move |_| now.with(|s| s.as_ref().map_or(String::new(), |s| s.name.clone())));
    let path = format!("premises.costs.stepped[{i}].name");
    let problem = Memo::new(move |_| model.problem(&path));
    let edit = move |f: &dyn Fn(&mut Stepped)| {
        model.edit(|s| {
            let costs = s.premises.costs.as_mut();
            if let Some(one) = costs.and_then(|c| c.stepped.get_mut(i)) {
                f(one);
            }
        });
    };
    let controls = of_stepped(i)
        .into_iter()
        .map(|b| control(model, b))
        .collect_view();
    view! {
        <fieldset class="group">
            <legend>{move || name.get()}</legend>
            <div class="control">
                <label for=format!("stepped-{i}-name")>{shared::NAME}</label>
                <input id=format!("stepped-{i}-name") class="name" prop:value=move || name.get()
                    on:change=move |e| { let typed = event_target_value(&e); edit(&|s| s.name = typed.clone()); } />
                <span class="problem" role="status">{move || problem.get()}</span>
            </div>
            <div class="control">
                <label for=format!("stepped-{i}-of")>{words::FOLLOWS}</label>
                <select id=format!("stepped-{i}-of") on:change=move |e| {
                    let word = event_target_value(&e);
                    if let Some(of) = SteppedBy::ALL.into_iter().find(|o| told::stepped_by(*o) == word) {
                        edit(&|s| s.of = of);
                    }
                }>
                    {SteppedBy::ALL.map(|o| view! { <option value=told::stepped_by(o) prop:selected=move || now.with(|s| s.as_ref().is_some_and(|s| s.of == o))>{told::stepped_by(o)}</option> })}
                </select>
            </div>
            <div class="control">
                <label for=format!("stepped-{i}-paid")>{words::PAID}</label>
                <select id=format!("stepped-{i}-paid") on:change=move |e| {
                    let word = event_target_value(&e);
                    if let Some(paid) = Paid::ALL.into_iter().find(|p| told::paid(*p) == word) {
                        edit(&|s| s.paid = paid);
                    }
                }>
                    {Paid::ALL.map(|p| view! { <option value=told::paid(p) prop:selected=move || now.with(|s| s.as_ref().is_some_and(|s| s.paid == p))>{told::paid(p)}</option> })}
                </select>
            </div>
            {controls}
            <button type="button" class="remove" on:click=move |_| {
                model.edit_without("premises.costs.stepped", i, |s| if let Some(c) = s.premises.costs.as_mut().filter(|c| i < c.stepped.len()) {
                    c.stepped.remove(i);
                });
            }>{shared::REMOVE} {move || name.get()}</button>
        </fieldset>
    }
}
