//! When to stop in the field: the rule, its lines, what they do, and the card to be printed.

use super::plan::{choice, fields};
use crate::browser::room;
use crate::state::Model;
use crate::words::{reading, stop_lines as words};
use engine::scenario::{Checked, StopRule};
use engine::stop_lines::{StopPlan, stop_plan, usual};
use leptos::prelude::*;
use paper::stop_lines as told;

/// The rules by their place in the list; the first is none.
const RULES: [&str; 4] = ["none", "green", "kuno", "probability_ratio"];

/// The controls of each rule.
const FIELDS: [&[&str]; 4] = [
    &[],
    &[
        "plan.stop_rule.green.relative_error_percent",
        "plan.stop_rule.green.a",
        "plan.stop_rule.green.b",
        "plan.stop_rule.green.most_samples",
    ],
    &[
        "plan.stop_rule.kuno.relative_error_percent",
        "plan.stop_rule.kuno.most_samples",
    ],
    &[
        "plan.stop_rule.probability_ratio.low",
        "plan.stop_rule.probability_ratio.high",
        "plan.stop_rule.probability_ratio.alpha",
        "plan.stop_rule.probability_ratio.beta",
        "plan.stop_rule.probability_ratio.most_samples",
    ],
];

/// A checked scenario with its lines, or why there are none.
type Lines = Option<(Checked, Result<StopPlan, String>)>;

/// The section; nothing but for the question of a baseline.
pub fn view(model: Model) -> impl IntoView {
    let asked = Memo::new(move |_| {
        model
            .scenario
            .with(|s| s.question.effect.key() == "baseline")
    });
    move || asked.get().then(|| section(model))
}

fn section(model: Model) -> impl IntoView {
    let place = Memo::new(move |_| {
        let key = model
            .scenario
            .with(|s| s.plan.stop_rule.as_ref().map(StopRule::key));
        RULES
            .iter()
            .position(|k| Some(*k) == key)
            .unwrap_or_default()
    });
    let lines = Memo::new(move |_| -> Lines {
        model.checked.with(|c| {
            let s = c.as_ref().ok()?;
            s.plan.stop_rule.as_ref()?;
            Some((s.clone(), stop_plan(s).map_err(|e| e.to_string())))
        })
    });
    view! {
        <div id="stop-lines">
            <p class="aside">{words::ABOUT}</p>
            {choice("stop-rule", words::RULE,
                vec![
                    (words::NONE, 0),
                    (words::GREEN, 1),
                    (words::KUNO, 2),
                    (words::PROBABILITY_RATIO, 3),
                ],
                move || place.get(),
                move |v: usize| model.edit(|s| s.plan.stop_rule = usual(s, RULES[v])))}
            {move || fields(model, FIELDS[place.get()])}
            <div aria-live="polite">
                {move || lines.with(|l| l.as_ref().map(|(s, plan)| match plan {
                    Ok(plan) => explained(model, s, plan).into_any(),
                    Err(why) => view! { <p class="notice notice-bad">{why.clone()}</p> }.into_any(),
                }))}
            </div>
        </div>
    }
}

fn explained(model: Model, s: &Checked, plan: &StopPlan) -> impl IntoView + use<> {
    let mut figure = told::figure(s, plan);
    let (svg, csv, card) = (figure.svg(), told::csv(plan), told::card(s, plan));
    // On the page the heading says it.
    figure.show_title = false;
    figure.width = room();
    let keep = move |name: &'static str, kind: &'static str, text: String| {
        move |_| model.save(name, kind, &text)
    };
    let inexact: Vec<String> = plan
        .means
        .iter()
        .filter_map(|m| m.not_exact.clone())
        .take(1)
        .collect();
    view! {
            <p id="stop-rule-told">{told::rule(plan)}</p>
            <p class="aside" id="stop-sample">{told::sample(s, plan)}</p>
            <p id="stop-verdict">{told::verdict(plan)}</p>
        {told::warnings(s, plan).into_iter().map(|w| view! { <p class="warning">{w}</p> }).collect_view()}
            <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="stop-figure" inner_html=figure.svg_unstyled()></div>
            <p class="buttons">
                <button type="button" id="save-card" on:click=keep("stop-line-card.html", "text/html", card)>{words::CARD}</button>
                <button type="button" id="save-stop-svg" on:click=keep("stop-lines.svg", "image/svg+xml", svg)>{reading::SVG}</button>
    {super::reading::png(model, "stop-figure")}
                <button type="button" id="save-stop-csv" on:click=keep("stop-lines.csv", "text/csv", csv)>{reading::CSV}</button>
            </p>
            <div class="scroll" tabindex="0" role="region" aria-label=words::MEANS_TABLE inner_html=told::means(plan).html()></div>
            {inexact.into_iter().map(|why| view! { <p class="aside">{words::not_exact(&why)}</p> }).collect_view()}
            <div class="scroll" tabindex="0" role="region" aria-label=words::FIXED_TABLE inner_html=told::fixed(plan).html()></div>
            <details>
                <summary>{words::READ}</summary>
                <div class="scroll" tabindex="0" role="region" aria-label=words::TOTALS_TABLE inner_html=figure.table().html()></div>
            </details>
            <ul class="aside">{told::CAUTIONS.map(|c| view! { <li>{c}</li> })}</ul>
            <p class="aside">{told::sources(&plan.rule)}</p>
        }
}
