//! On demand: what a number means, in a plain sentence, with its formula and the formula's source.

use crate::apart::Rest;
use crate::browser;
use crate::state::{Apart, Model};
use crate::words::meaning as words;
use figures::locale::retold;
use leptos::prelude::*;
use paper::meaning::Meaning;

const ID: &str = "meaning";

fn button(model: Model, of: &'static Meaning) -> impl IntoView {
    view! {
        <button
            type="button"
            class="ask"
            aria-haspopup="dialog"
            aria-label=words::ask(of.name)
            title=words::ask(of.name)
            on:click=move |_| {
                model.explained.set(Some(of));
                browser::show_popover(ID);
            }
        >"?"</button>
    }
}

/// The question mark beside a result.
pub fn of_result(model: Model, key: &'static str) -> AnyView {
    mark(model, move |rest| (rest.meaning_of_result)(key))
}

/// The question mark beside a number of the scenario.
pub fn of_field(model: Model, path: &str) -> AnyView {
    let path = path.to_owned();
    mark(model, move |rest| (rest.meaning_of_field)(&path))
}

/// A question mark, or room for it until what it tells is here.
fn mark(model: Model, of: impl Fn(&Rest) -> Option<&'static Meaning> + Send + 'static) -> AnyView {
    if let Apart::Here(rest) = model.apart.get_untracked() {
        return of(rest).map(|m| button(model, m)).into_any();
    }
    let later = move || match model.apart.get() {
        Apart::Here(rest) => of(rest).map(|m| button(model, m)).into_any(),
        _ => view! { <span class="ask room" aria-hidden="true"></span> }.into_any(),
    };
    later.into_any()
}

/// Where meanings are told: over the page, until it is closed or something else is looked at.
pub fn view(model: Model) -> impl IntoView {
    view! {
        <div id=ID popover="auto" role="dialog" aria-label=words::NAME tabindex="-1" class="meaning">
            {move || model.explained.get().map(|m| view! {
                <p class="meaning-name">{m.name}</p>
                <p>{retold(m.plain)}</p>
                {m.formula.map(|f| view! { <p class="formula"><span class="note">{words::FORMULA}</span> {retold(f)}</p> })}
                {m.source.map(|s| view! { <p class="note">{words::SOURCE} ": " {s}</p> })}
                <button type="button" class="plain" on:click=move |_| browser::hide_popover(ID)>{crate::words::shared::CLOSE}</button>
            })}
        </div>
    }
}
