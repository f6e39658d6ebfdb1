//! Pieces of the sentence that several questions share.

use crate::state::Model;
use crate::views::binding;
use crate::views::field::input;
use crate::words::question as words;
use engine::scenario::Direction;
use leptos::prelude::*;

/// A number of the scenario in place; `scale` 100 shows a share in per cent.
pub(super) fn number(
    model: Model,
    path: &str,
    name: &str,
    scale: f64,
) -> Option<impl IntoView + use<>> {
    binding::of(path).map(|b| input(model, b, name.to_string(), scale))
}

/// The target's name.
pub(super) fn target(model: Model) -> impl IntoView {
    let name = Memo::new(move |_| model.scenario.with(|s| s.premises.target.name.clone()));
    view! {
        <input
            class="name"
            id="target-name"
            aria-label=words::TARGET
            size=move || name.with(|n| n.chars().count().clamp(6, 30)).to_string()
            prop:value=move || name.get()
            on:change=move |event| {
                let typed = event_target_value(&event);
                model.edit(|s| s.premises.target.name = typed);
            }
        />
    }
}

/// Which results count.
pub(super) fn direction(model: Model, either: &'static str, stated: &'static str) -> impl IntoView {
    let is_either = Memo::new(move |_| {
        model
            .scenario
            .with(|s| s.question.direction == Direction::Either)
    });
    view! {
        <select
            id="question-direction"
            aria-label=words::DIRECTION
            on:change=move |event| {
                let direction = if event_target_value(&event) == "either" { Direction::Either } else { Direction::Stated };
                model.edit(|s| s.question.direction = direction);
            }
        >
            <option value="either" prop:selected=move || is_either.get()>{either}</option>
            <option value="stated" prop:selected=move || !is_either.get()>{stated}</option>
        </select>
    }
}
