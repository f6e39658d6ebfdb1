//! By-catch groups: any number of them.

use super::binding::of_group;
use super::field::control;
use crate::state::Model;
use crate::words::{bycatch as words, shared};
use engine::scenario::{Bycatch, Class, Premise, Scenario, Source};
use leptos::prelude::*;
use paper::sentences;

const CLASSES: [Class; 3] = [Class::Arthropod, Class::Vertebrate, Class::Protected];

fn new_group(s: &Scenario) -> Bycatch {
    let guess = |v| Premise::new(v, Source::Guess);
    let usual = |key, v| engine::scenario::common_practice(key).unwrap_or_else(|| guess(v));
    let target = &s.premises.target;
    let mut n = s.premises.bycatch.len() + 1;
    while s
        .premises
        .bycatch
        .iter()
        .any(|g| g.name == words::new_name(n))
    {
        n += 1;
    }
    Bycatch {
        name: words::new_name(n),
        class: Class::Arthropod,
        catch_per_trap_week: guess(1.0),
        dispersion_k: usual("dispersion_k", 2.0),
        site_sd: usual("site_sd", 0.6),
        year_sd: usual("year_sd", 0.2),
        season_peak_week: guess(target.season_peak_week.value),
        season_width_weeks: guess(target.season_width_weeks.value),
    }
}

/// The groups.
pub fn view(model: Model) -> impl IntoView {
    let count = Memo::new(move |_| model.scenario.with(|s| s.premises.bycatch.len()));
    view! {
        <div>
            <For each=move || 0..count.get() key=|i| *i let:i>{group(model, i)}</For>
            <button type="button" id="add-group" on:click=move |_| {
                model.edit(|s| {
                    let group = new_group(s);
                    s.premises.bycatch.push(group);
                });
            }>{words::ADD}</button>
        </div>
    }
}

fn group(model: Model, i: usize) -> impl IntoView {
    let name = Memo::new(move |_| {
        model.scenario.with(|s| {
            s.premises
                .bycatch
                .get(i)
                .map_or(String::new(), |g| g.name.clone())
        })
    });
    let class = Memo::new(move |_| {
        model
            .scenario
            .with(|s| s.premises.bycatch.get(i).map(|g| g.class))
    });
    let path = format!("premises.bycatch[{i}].name");
    let problem = Memo::new(move |_| model.problem(&path));
    let edit = move |f: &dyn Fn(&mut Bycatch)| {
        model.edit(|s| {
            if let Some(g) = s.premises.bycatch.get_mut(i) {
                f(g);
            }
        });
    };
    let rate = of_group(i)
        .into_iter()
        .take(1)
        .map(|b| control(model, b))
        .collect_view();
    let rest = of_group(i)
        .into_iter()
        .skip(1)
        .map(|b| control(model, b))
        .collect_view();
    view! {
        <fieldset class="group">
            <legend>{move || name.get()}</legend>
            <div class="control">
                <label for=format!("group-{i}-name")>{shared::NAME}</label>
                <input id=format!("group-{i}-name") class="name" prop:value=move || name.get()
                    on:change=move |e| { let typed = event_target_value(&e); edit(&|g| g.name = typed.clone()); } />
                <span class="problem" role="status">{move || problem.get()}</span>
            </div>
            <div class="control">
                <label for=format!("group-{i}-class")>{shared::CLASS}</label>
                <select id=format!("group-{i}-class") on:change=move |e| {
                    let word = event_target_value(&e);
                    if let Some(class) = CLASSES.into_iter().find(|c| sentences::class(*c) == word) {
                        edit(&|g| g.class = class);
                    }
                }>
                    {CLASSES.map(|c| view! { <option value=sentences::class(c) prop:selected=move || class.get() == Some(c)>{sentences::class(c)}</option> })}
                </select>
            </div>
            {rate}
            <details><summary>{shared::SPREAD_AND_SEASON}</summary>{rest}</details>
            <button type="button" class="remove" on:click=move |_| {
                model.edit_without("premises.bycatch", i, |s| {
                    if i < s.premises.bycatch.len() {
                        s.premises.bycatch.remove(i);
                    }
                });
            }>{shared::REMOVE} {move || name.get()}</button>
        </fieldset>
    }
}
