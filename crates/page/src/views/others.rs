//! Other species of which the same is asked: any number of them, up to what the format takes.

use super::binding::of_other;
use super::field::control;
use crate::state::Model;
use crate::words::{several as words, shared};
use engine::scenario::{Control, MOST_OTHERS, Scenario, Several, Target};
use leptos::prelude::*;

/// A further species, like the target until it is edited.
fn new_species(s: &Scenario) -> Target {
    let p = &s.premises;
    let taken = |name: &str| {
        p.target.name == name
            || p.others.iter().any(|t| t.name == name)
            || p.bycatch.iter().any(|g| g.name == name)
    };
    let names = (p.others.len() + 2..).map(words::new_name);
    let name = names.into_iter().find(|name| !taken(name));
    Target {
        name: name.unwrap_or_default(),
        reproductives: None,
        ..p.target.clone()
    }
}

fn add(s: &mut Scenario) {
    let species = new_species(s);
    s.premises.others.push(species);
    s.question.several.get_or_insert(Several {
        answered_share: 0.8,
        control: Control::Holm,
    });
}

fn remove(s: &mut Scenario, i: usize) {
    if i < s.premises.others.len() {
        s.premises.others.remove(i);
    }
    if s.premises.others.is_empty() {
        s.question.several = None;
    }
}

/// The species.
pub fn view(model: Model) -> impl IntoView {
    let count = Memo::new(move |_| model.scenario.with(|s| s.premises.others.len()));
    let asked = Memo::new(move |_| model.scenario.with(|s| s.question.effect.asks_of_several()));
    view! {
        <div id="others">
            <p class="aside">{move || if asked.get() {
                words::ASKED
            } else {
                words::NOT_ASKED
            }}</p>
            <For each=move || 0..count.get() key=|i| *i let:i>{species(model, i)}</For>
            {move || (asked.get() && count.get() < MOST_OTHERS).then(|| view! {
                <button type="button" id="add-species" on:click=move |_| model.edit(add)>{words::ADD}</button>
            })}
        </div>
    }
}

fn species(model: Model, i: usize) -> impl IntoView {
    let name = Memo::new(move |_| {
        model.scenario.with(|s| {
            s.premises
                .others
                .get(i)
                .map_or(String::new(), |t| t.name.clone())
        })
    });
    let path = format!("premises.others[{i}].name");
    let problem = Memo::new(move |_| model.problem(&path));
    let controls = of_other(i).into_iter().map(|b| control(model, b));
    let mut controls: Vec<_> = controls.collect();
    let rest = controls.split_off(2);
    view! {
        <fieldset class="group">
            <legend>{move || name.get()}</legend>
            <div class="control">
                <label for=format!("species-{i}-name")>{shared::NAME}</label>
                <input id=format!("species-{i}-name") class="name" prop:value=move || name.get()
                    on:change=move |e| {
                        let typed = event_target_value(&e);
                        model.edit(|s| {
                            if let Some(t) = s.premises.others.get_mut(i) {
                                t.name = typed;
                            }
                        });
                    } />
                <span class="problem" role="status">{move || problem.get()}</span>
            </div>
            {controls}
            <details><summary>{shared::SPREAD_AND_SEASON}</summary>{rest}</details>
            <button type="button" class="remove" on:click=move |_| {
                model.edit_without("premises.others", i, |s| remove(s, i));
            }>{shared::REMOVE} {move || name.get()}</button>
        </fieldset>
    }
}
