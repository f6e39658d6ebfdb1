//! A number that can be edited: with its label in a list of controls, or within a sentence.

use super::binding::Binding;
use crate::state::Model;
use crate::words::{field as words, numbers};
use engine::scenario::{Premise, Source};
use figures::locale::{Typed, retold, typed};
use leptos::prelude::*;
use paper::number::plain;

/// Reads what a person typed, in the reader's marks or with a full stop; what could be two numbers is none
/// ([`figures::locale::typed`]). Fields show numbers with the reader's decimal mark and nothing between thousands, so
/// that what stands in one is always read again as what it is.
pub(super) fn number(text: &str) -> Option<f64> {
    typed(text).number()
}

/// The input alone, named by `name` for those who cannot see its place. `scale` is 100 for shares shown as per cent.
pub fn input(model: Model, binding: Binding, name: String, scale: f64) -> impl IntoView {
    let path = binding.path.clone();
    let read = binding.read.clone();
    let value = Memo::new(move |_| model.scenario.with(|s| read(s)));
    let shown = move |v: Option<f64>| v.map_or(String::new(), |v| plain(v * scale));
    let refused = {
        let path = path.clone();
        Memo::new(move |_| model.refused(&path))
    };
    let first = refused.get_untracked();
    let text = RwSignal::new(first.unwrap_or_else(|| shown(value.get_untracked())));
    // What was refused stays as it was typed; otherwise the scenario's number, unless the text already says it.
    Effect::new(move |_| {
        let (now, refused) = (value.get(), refused.get());
        let said = text.get_untracked();
        if let Some(refused) = refused {
            if refused != said {
                text.set(refused);
            }
            return;
        }
        let typed = number(&said).map(|v| v / scale);
        let same = matches!((typed, now), (Some(a), Some(b)) if (a - b).abs() <= 1e-9 * b.abs());
        if !(same || now.is_none() && said.is_empty()) {
            text.set(shown(now));
        }
    });
    model.on_page(path.clone());
    let on_input = {
        let path = path.clone();
        move |event| {
            let said = event_target_value(&event);
            text.set(said.clone());
            match number(&said).map(|v| v / scale) {
                Some(v) if (binding.allows)(v) => {
                    model.unmark(&path);
                    model.edit(|s| (binding.write)(s, v));
                }
                _ if typed(&said) == Typed::Unclear => {
                    model.mark(&path, &said, crate::words::typed::unclear(&said));
                }
                _ => {
                    let bound = if scale == 1.0 {
                        retold(&binding.bound)
                    } else {
                        let (low, high) = binding.ends;
                        numbers::share_bound(&plain(low * scale), &plain(high * scale))
                    };
                    model.mark(&path, &said, numbers::does_not_fit(&said, &bound));
                }
            }
        }
    };
    let id = path.clone();
    let error_id = format!("{path}-problem");
    let problem = {
        let path = path.clone();
        Memo::new(move |_| model.problem(&path))
    };
    view! {
        <input
            class="number"
            type="text"
            inputmode="decimal"
            autocomplete="off"
            id=id
            aria-label=name
            aria-invalid=move || problem.with(Option::is_some).to_string()
            aria-describedby=error_id.clone()
            data-live="yes"
            data-pending=move || refused.with(Option::is_some).then_some("yes")
            size=move || text.with(|t| t.chars().count().clamp(2, 9)).to_string()
            prop:value=move || text.get()
            on:input=on_input
        />
        <span class="problem" id=error_id role="status">{move || problem.get()}</span>
    }
}

/// A labelled control, with the premise's source when it is one.
pub fn control(model: Model, binding: Binding) -> impl IntoView {
    let (label, unit) = (binding.label.clone(), binding.unit);
    let name = if unit.is_empty() {
        label.clone()
    } else {
        words::with_unit(&label, unit)
    };
    let source = binding
        .premise
        .clone()
        .map(|_| source(model, binding.clone()));
    let id = binding.path.clone();
    let asked = super::meaning::of_field(model, &id);
    view! {
        <div class="control">
            <div class="named">
                <label for=id>{label}<span class="unit">{unit}</span></label>
                {asked}
            </div>
            <div class="entry">{input(model, binding, name, 1.0)}</div>
            {source}
        </div>
    }
}

const SOURCES: [Source; 5] = [
    Source::Pilot,
    Source::Published,
    Source::CommonPractice,
    Source::Guess,
    Source::Invented,
];

/// Where the number comes from: shown beside it, and editable.
fn source(model: Model, binding: Binding) -> impl IntoView {
    let label = words::source_of(&binding.label);
    let get = binding.premise.clone();
    let premise = Memo::new(move |_| get.as_ref().and_then(|g| model.scenario.with(|s| g(s))));
    let change = binding.change_premise.clone();
    let apply = move |f: &mut dyn FnMut(&mut Premise)| {
        if let Some(change) = &change {
            model.edit(|s| change(s, f));
        }
    };
    let apply_source = apply.clone();
    let chosen = move || premise.with(|p| p.as_ref().map_or(Source::Guess, |p| p.source));
    let range = move || {
        premise.with(|p| {
            let p = p.as_ref()?;
            Some(numbers::range(&plain(p.low?), &plain(p.high?)))
        })
    };
    let citation_label = words::publication_of(&binding.label);
    view! {
        <div class="source">
            <select
                aria-label=label
                class=move || format!("badge badge-{}", chosen().word().replace(' ', "-"))
                on:change=move |event| {
                    let word = event_target_value(&event);
                    if let Some(source) = SOURCES.into_iter().find(|s| s.word() == word) {
                        apply_source(&mut |p: &mut Premise| p.source = source);
                    }
                }
            >
                {SOURCES.map(|s| view! {
                    <option value=s.word() prop:selected=move || chosen() == s>{s.word()}</option>
                })}
            </select>
            {move || paper::premises::is_unsourced(chosen()).then(|| view! { <span class="unsourced">{crate::words::page::UNSOURCED}</span> })}
            <span class="range">{range}</span>
            {move || (chosen() == Source::Published).then(|| {
                let apply = apply.clone();
                let label = citation_label.clone();
                let text = premise.with_untracked(|p| p.as_ref().and_then(|p| p.citation.clone()));
                view! {
                    <input
                        class="citation"
                        aria-label=label
                        placeholder=words::CITATION
                        prop:value=text.unwrap_or_default()
                        on:change=move |event| {
                            let typed = event_target_value(&event);
                            apply(&mut |p: &mut Premise| p.citation = Some(typed.clone()));
                        }
                    />
                }
            })}
        </div>
    }
}
