//! Planned looks: after which years, with which lines, and what they come to.

use super::frame::measured;
use super::plan::{choice, fields};
use super::tick::tick;
use crate::state::Model;
use crate::words::{looks as words, reading, shared};
use engine::looks_foreseen;
use engine::scenario::{Checked, FutilityRule, LookBoundary, LookFutility, Looks, Scenario};
use engine::summary::LooksAnswer;
use leptos::html::Div;
use leptos::prelude::*;
use paper::looks as told;

/// What is shown: the scenario with what is known of its looks, or why nothing is.
type Shown = Option<(Checked, Result<LooksAnswer, String>)>;

/// The section; nothing but for the questions that allow looks.
pub fn view(model: Model) -> impl IntoView {
    let allowed = Memo::new(move |_| model.scenario.with(Scenario::allows_looks));
    move || allowed.get().then(|| section(model))
}

fn section(model: Model) -> impl IntoView {
    let planned = Memo::new(move |_| model.scenario.with(|s| s.plan.looks.is_some()));
    let switch = move |on: bool| {
        model.edit(|s| {
            s.plan.looks = if on {
                Looks::usual(s.fewest_years(), s.plan.years)
            } else {
                None
            };
        });
    };
    let possible = Memo::new(move |_| {
        model.scenario.with(|s| {
            s.plan.looks.is_some() || Looks::usual(s.fewest_years(), s.plan.years).is_some()
        })
    });
    view! {
        <div id="looks">
            <p class="aside">{words::ABOUT}</p>
            <label class="told-line">
                <input
                    type="checkbox"
                    id="looks-on"
                    prop:checked=move || planned.get()
                    prop:disabled=move || !possible.get()
                    on:change=move |e| switch(event_target_checked(&e))
                />
                <span>{move || if possible.get() { words::PLAN } else { words::TOO_FEW_YEARS }}</span>
            </label>
            {move || planned.get().then(|| parts(model))}
        </div>
    }
}

fn parts(model: Model) -> impl IntoView {
    let boundary = move || {
        model.scenario.with(|s| {
            let looks = s.plan.looks.as_ref();
            looks.map_or(LookBoundary::SpendObrienFleming, |l| l.boundary)
        })
    };
    let named = |b: LookBoundary| (told::boundary(b), b);
    view! {
        {years(model)}
        {choice("looks-boundary", words::LINES, LookBoundary::ALL.map(named).to_vec(),
            boundary,
            move |v| edit(model, |l| l.boundary = v))}
        <p class="aside">{move || told::about_boundary(boundary())}</p>
        {futility(model)}
        {result(model)}
    }
}

fn edit(model: Model, change: impl FnOnce(&mut Looks)) {
    model.edit(|s| {
        if let Some(looks) = &mut s.plan.looks {
            change(looks);
        }
    });
}

/// A box for each year before the last; years beyond the plan stay until they are taken off.
fn years(model: Model) -> impl IntoView {
    let offered = Memo::new(move |_| {
        model.scenario.with(|s| {
            let mut years: Vec<u32> = (s.fewest_years()..s.plan.years).collect();
            let chosen = s.plan.looks.iter().flat_map(|l| l.after_years.iter());
            years.extend(chosen.filter(|&&y| y != s.plan.years));
            years.sort_unstable();
            years.dedup();
            years
        })
    });
    let set = move |year: u32, on: bool| {
        edit(model, |l| {
            l.after_years.retain(|&y| y != year);
            if on {
                l.after_years.push(year);
                l.after_years.sort_unstable();
            }
        });
    };
    let chosen = move |year: u32| {
        model.scenario.with(|s| {
            let looks = s.plan.looks.as_ref();
            looks.is_some_and(|l| l.after_years.contains(&year))
        })
    };
    let problem = Memo::new(move |_| model.problem("plan.looks"));
    view! {
        <fieldset class="told" id="looks-years" aria-describedby="looks-years-problem">
            <legend>{words::AFTER}</legend>
            <div class="ticks">
                {move || offered.get().into_iter().map(|year| {
                    tick(format!("look-{year}"), year.to_string(), move || chosen(year), move |on| set(year, on))
                }).collect_view()}
                <span>{move || model.scenario.with(|s| words::last(s.plan.years))}</span>
            </div>
        </fieldset>
        <span class="problem" id="looks-years-problem" role="status">{move || problem.get()}</span>
    }
}

/// The rules of futility by their place in the list.
fn rule(place: usize) -> Option<FutilityRule> {
    match place {
        1 => Some(FutilityRule::ConditionalPower(0.1)),
        2 => Some(FutilityRule::SpendBeta(0.1)),
        _ => None,
    }
}

fn futility(model: Model) -> impl IntoView {
    let of = move || {
        model
            .scenario
            .with(|s| s.plan.looks.as_ref().and_then(|l| l.futility))
    };
    let place = Memo::new(move |_| match of().map(|f| f.rule) {
        None => 0,
        Some(FutilityRule::ConditionalPower(_)) => 1usize,
        Some(FutilityRule::SpendBeta(_)) => 2,
    });
    let binding = move || of().is_some_and(|f| f.binding);
    let set = move |place: usize| {
        edit(model, |l| {
            let binding = l.futility.is_some_and(|f| f.binding);
            l.futility = rule(place).map(|rule| LookFutility { rule, binding });
        });
    };
    const FIELDS: [&[&str]; 3] = [
        &[],
        &["plan.looks.futility.rule.conditional_power"],
        &["plan.looks.futility.rule.spend_beta"],
    ];
    view! {
        {choice("looks-futility", words::FUTILITY,
            vec![
                (words::NEVER, 0),
                (words::HARDLY, 1),
                (words::BY_A_LINE, 2),
            ],
            move || place.get(),
            set)}
        {move || fields(model, FIELDS[place.get()])}
        {move || (place.get() > 0).then(|| choice("looks-binding", words::BELOW,
            vec![(words::MAY, false), (words::MUST, true)],
            binding,
            move |v| edit(model, |l| if let Some(f) = &mut l.futility { f.binding = v; })))}
    }
}

fn result(model: Model) -> impl IntoView {
    let foreseen = Memo::new(move |_| -> Shown {
        model.checked.with(|c| {
            let s = c.as_ref().ok()?;
            s.plan.looks.as_ref()?;
            Some((s.clone(), looks_foreseen(s).map_err(|e| e.to_string())))
        })
    });
    let shown = Memo::new(move |_| -> Shown {
        let (scenario, foreseen) = foreseen.get()?;
        let simulated = model.looks.get();
        Some((scenario, simulated.map_or(foreseen, Ok)))
    });
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let figure = move |on_page: bool| {
        shown.with(|s| {
            let (scenario, answer) = s.as_ref()?;
            let mut figure = told::figure(scenario, answer.as_ref().ok()?);
            if on_page {
                figure.show_title = false;
                figure.width = width.get();
            }
            Some(figure)
        })
    };
    let save_svg = move |_| {
        if let Some(f) = figure(false) {
            model.save("leastcatch-looks.svg", "image/svg+xml", &f.svg());
        }
    };
    let save_csv = move |_| {
        shown.with_untracked(|s| {
            if let Some((_, Ok(answer))) = s {
                model.save("leastcatch-looks.csv", "text/csv", &told::csv(answer));
            }
        });
    };
    view! {
            <p class="buttons"><button type="button" id="find-looks" on:click=move |_| model.run_looks()>{words::SIMULATE}</button></p>
            <div aria-live="polite">
                {move || shown.with(|s| s.as_ref().map(|(scenario, answer)| match answer {
                    Ok(answer) => explained(scenario, answer).into_any(),
                    Err(why) => view! { <p class="notice notice-bad">{why.clone()}</p> }.into_any(),
                }))}
            </div>
            <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="looks-figure" node_ref=frame inner_html=move || figure(true).map_or(String::new(), |f| f.svg_unstyled())></div>
            <p class="buttons">
                <button type="button" id="save-looks-svg" on:click=save_svg>{reading::SVG}</button>
    {super::reading::png(model, "looks-figure")}
                <button type="button" id="save-looks-csv" on:click=save_csv>{reading::CSV}</button>
            </p>
            <p class="aside">{told::SCALES}</p>
            <p class="aside">{told::WHO_DECIDES}</p>
            <p class="aside">{told::FIXED_ELSEWHERE}</p>
        }
}

fn explained(scenario: &Checked, answer: &LooksAnswer) -> impl IntoView + use<> {
    let rules = told::rules(scenario, answer);
    let lines = told::told(scenario, answer);
    let digest = if answer.result_digest.is_empty() {
        shared::NO_DIGEST.to_owned()
    } else {
        answer.result_digest.clone()
    };
    let toll = told::toll_table(scenario, answer).map(|t| t.html());
    let cost = told::cost_table(scenario, answer).map(|t| t.html());
    view! {
        <ol class="fits" id="looks-rules">
            {rules.into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}
        </ol>
        <div class="scroll" id="looks-table" tabindex="0" role="region" aria-label=words::TABLE inner_html=told::looks_table(scenario, answer).html()></div>
        {toll.map(|html| view! {
            <div class="scroll" id="looks-toll" tabindex="0" role="region" aria-label=words::TOLL_TABLE inner_html=html></div>
        })}
        {cost.map(|html| view! {
            <div class="scroll" id="looks-cost" tabindex="0" role="region" aria-label=words::COST_TABLE inner_html=html></div>
        })}
        <ul class="fits" id="looks-lines">
            {lines.into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}
        </ul>
        <p class="aside">{words::DIGEST} <code id="looks-digest">{digest}</code></p>
    }
}
