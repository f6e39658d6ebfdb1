//! Kinds of trap to choose from, with what is published about them; and an end of animals in reach of traps.

use super::binding::{of, of_factor, of_option};
use super::field::control;
use super::tick::tick;
use crate::state::Model;
use crate::words::{parts, shared, traps as words};
use engine::scenario::{
    CatchFactor, Class, LocalPopulation, MOST_TRAP_OPTIONS, Premise, Scenario, Source, TrapOption,
    trap_presets,
};
use leptos::prelude::*;

const CLASSES: [(&str, Class); 3] = [
    ("class:arthropod", Class::Arthropod),
    ("class:vertebrate", Class::Vertebrate),
    ("class:protected", Class::Protected),
];

/// Adds an option under a name that is free.
fn add(s: &mut Scenario, mut option: TrapOption) {
    let taken = |s: &Scenario, name: &str| s.premises.trap_options.iter().any(|o| o.name == name);
    let first = option.name.clone();
    let mut n = 2;
    while taken(s, &option.name) {
        option.name = format!("{first} {n}");
        n += 1;
    }
    s.premises.trap_options.push(option);
}

fn remove(s: &mut Scenario, i: usize) {
    if i < s.premises.trap_options.len() {
        let gone = s.premises.trap_options.remove(i);
        if s.plan.trap_option == Some(gone.name) {
            s.plan.trap_option = None;
        }
    }
}

/// A new name, in the plan too where it is the one used.
fn rename(s: &mut Scenario, i: usize, name: String) {
    let used = s.plan.trap_option.clone();
    if let Some(option) = s.premises.trap_options.get_mut(i) {
        if used.as_ref() == Some(&option.name) {
            s.plan.trap_option = Some(name.clone());
        }
        option.name = name;
    }
}

fn published(option: &TrapOption) -> bool {
    let cited = |p: &Premise| p.source == Source::Published;
    cited(&option.catch_factor) || option.bycatch.iter().any(|f| cited(&f.factor))
}

/// The kinds of trap.
pub fn view(model: Model) -> impl IntoView {
    let names = Memo::new(move |_| {
        model.scenario.with(|s| {
            let options = s.premises.trap_options.iter();
            options.map(|o| o.name.clone()).collect::<Vec<_>>()
        })
    });
    let used = Memo::new(move |_| model.scenario.with(|s| s.plan.trap_option.clone()));
    let problem = Memo::new(move |_| model.problem("plan.trap_option"));
    let room = move || names.with(|n| n.len() < MOST_TRAP_OPTIONS);
    view! {
        <div id="traps">
            <p class="aside">{words::ABOUT}</p>
            <div class="control">
                <label for="trap-option">{words::USED}</label>
                <select id="trap-option" aria-describedby="trap-option-problem" on:change=move |e| {
                    let name = event_target_value(&e);
                    model.edit(|s| s.plan.trap_option = (!name.is_empty()).then_some(name));
                }>
                    <option value="" prop:selected=move || used.with(Option::is_none)>{parts::USUAL_TRAP}</option>
                    {move || names.get().into_iter().map(|n| {
                        let own = n.clone();
                        view! { <option value=n.clone() prop:selected=move || used.with(|u| u.as_ref() == Some(&own))>{n.clone()}</option> }
                    }).collect_view()}
                </select>
                <span class="problem" id="trap-option-problem" role="status">{move || problem.get()}</span>
            </div>
            <For each=move || 0..names.with(Vec::len) key=|i| *i let:i>{option(model, i)}</For>
            <details id="trap-presets">
                <summary>{words::ADD}</summary>
                {trap_presets().into_iter().map(|p| preset(model, p, room)).collect_view()}
                <button type="button" id="add-trap-option" disabled=move || !room() on:click=move |_| {
                    model.edit(|s| add(s, TrapOption::unchanged(words::NEW_NAME)));
                }>{words::ADD_OWN}</button>
            </details>
            {local_population(model)}
        </div>
    }
}

/// A button that adds an option, with what is known of it.
fn preset(
    model: Model,
    option: TrapOption,
    room: impl Fn() -> bool + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let word = if published(&option) {
        Source::Published.word()
    } else {
        Source::Guess.word()
    };
    let lines = paper::gentle::option_lines(&option).join("; ");
    let name = option.name.clone();
    view! {
        <div class="control">
            <button type="button" class="preset" disabled=move || !room() on:click=move |_| {
                let option = option.clone();
                model.edit(|s| add(s, option));
            }>{words::ADD_PRESET} {name}</button>
            <span class=format!("badge badge-{word}")>{word}</span>
            <p class="aside">{lines}</p>
        </div>
    }
}

fn option(model: Model, i: usize) -> impl IntoView {
    let read = move |f: fn(&TrapOption) -> String| {
        Memo::new(move |_| {
            let options = |s: &Scenario| s.premises.trap_options.get(i).map(f);
            model.scenario.with(options).unwrap_or_default()
        })
    };
    let (name, notes) = (read(|o| o.name.clone()), read(|o| o.notes.clone()));
    let factors = Memo::new(move |_| {
        let factors = |s: &Scenario| s.premises.trap_options.get(i).map(|o| o.bycatch.len());
        model.scenario.with(factors).unwrap_or_default()
    });
    let path = format!("premises.trap_options[{i}].name");
    let problem = Memo::new(move |_| model.problem(&path));
    let controls = of_option(i).into_iter().map(|b| control(model, b));
    view! {
        <fieldset class="group">
            <legend>{move || name.get()}</legend>
            <div class="control">
                <label for=format!("option-{i}-name")>{shared::NAME}</label>
                <input id=format!("option-{i}-name") class="name" prop:value=move || name.get()
                    on:change=move |e| { let typed = event_target_value(&e); model.edit(|s| rename(s, i, typed)); } />
                <span class="problem" role="status">{move || problem.get()}</span>
            </div>
            <p class="aside">{move || notes.get()}</p>
            {controls.collect_view()}
            <For each=move || 0..factors.get() key=|j| *j let:j>{factor(model, i, j)}</For>
            {whom(model, i)}
            <button type="button" class="remove" on:click=move |_| {
                model.edit_without("premises.trap_options", i, |s| remove(s, i));
            }>{shared::REMOVE} {move || name.get()}</button>
        </fieldset>
    }
}

/// What an option does to a group or class.
fn factor(model: Model, i: usize, j: usize) -> impl IntoView {
    let path = format!("premises.trap_options[{i}].bycatch[{j}].group");
    let problem = Memo::new(move |_| model.problem(&path));
    let whom = Memo::new(move |_| {
        model.scenario.with(|s| {
            let f = s.premises.trap_options.get(i)?.bycatch.get(j)?;
            f.group.clone().or(f.class.map(|c| words::all(c.words())))
        })
    });
    view! {
        <div role="group" aria-label=move || whom.get()>
            <p class="aside">{move || whom.get()} " "
                <button type="button" class="remove" aria-label=move || words::remove_factor(&whom.get().unwrap_or_default()) on:click=move |_| {
                    model.edit_without(&format!("premises.trap_options[{i}].bycatch"), j, |s| {
                        if let Some(o) = s.premises.trap_options.get_mut(i) && j < o.bycatch.len() {
                            o.bycatch.remove(j);
                        }
                    });
                }>{words::REMOVE_FACTOR}</button>
            </p>
            {of_factor(i, j).map(|b| control(model, b))}
            <span class="problem" role="status">{move || problem.get()}</span>
        </div>
    }
}

/// Names another group or class whose catch the option changes.
fn whom(model: Model, i: usize) -> impl IntoView {
    let groups = Memo::new(move |_| {
        model.scenario.with(|s| {
            let groups = s.premises.bycatch.iter().map(|g| g.name.clone());
            let others = s.premises.others.iter().map(|t| t.name.clone());
            groups.chain(others).collect::<Vec<_>>()
        })
    });
    let id = format!("option-{i}-whom");
    view! {
        <div class="control">
            <label for=id.clone()>{words::CHANGES}</label>
            <select id=id on:change=move |e| {
                let chosen = event_target_value(&e);
                let class = CLASSES.iter().find(|(key, _)| *key == chosen).map(|(_, c)| *c);
                let group = chosen.strip_prefix("group:").map(Into::into);
                if class.is_none() && group.is_none() {
                    return;
                }
                model.edit(|s| {
                    if let Some(o) = s.premises.trap_options.get_mut(i)
                        && !o.bycatch.iter().any(|f| f.group == group && f.class == class)
                    {
                        o.bycatch.push(CatchFactor { group, class, factor: Premise::new(1.0, Source::Guess) });
                    }
                });
            }>
                <option value="">{words::CHOOSE}</option>
                {CLASSES.map(|(key, class)| view! { <option value=key>{words::all(class.words())}</option> })}
                {move || groups.get().into_iter().map(|g| view! { <option value=format!("group:{g}")>{g.clone()}</option> }).collect_view()}
            </select>
        </div>
    }
}

/// Animals in reach of a site's traps, where they have an end.
fn local_population(model: Model) -> impl IntoView {
    let has = Memo::new(move |_| {
        model
            .scenario
            .with(|s| s.premises.local_population.is_some())
    });
    let problem = Memo::new(move |_| {
        let told = model.problem("premises.local_population");
        told.filter(|_| has.get())
    });
    view! {
        <details id="local-population" prop:open=has.get_untracked()>
            <summary>{words::END}</summary>
            {tick(
                "has-local-population".into(),
                words::HAS_END.into(),
                move || has.get(),
                move |on| model.edit(|s| {
                    let usual = (s.premises.target.catch_per_trap_week.value * 100.0).clamp(1.0, 1e9);
                    s.premises.local_population = on.then(|| LocalPopulation {
                        animals: Premise::new(usual, Source::Guess),
                        recovery: None,
                    });
                }),
            )}
            <span class="problem" role="status">{move || problem.get()}</span>
            {move || has.get().then(|| view! {
                {of("premises.local_population.animals").map(|b| control(model, b))}
                {of("premises.local_population.recovery").map(|b| control(model, b))}
                <p class="aside">{words::ABOUT_END}</p>
            })}
        </details>
    }
}
