//! The three ways in, and what opens and closes all parts.

use super::{contents, show};
use crate::state::{Model, Way};
use crate::words::ways as words;
use leptos::prelude::*;

/// The choice of a way.
pub fn choice(model: Model) -> impl IntoView {
    let way = model.layout.way;
    view! {
        <fieldset class="ways">
            <legend>{words::CHOICE}</legend>
            {Way::ALL.map(|w| view! {
                <label class="way">
                    <input type="radio" name="way" id=format!("way-{}", w.key())
                        prop:checked=move || way.get() == w
                        on:change=move |_| model.layout.take(w) />
                    <span>{words::name(w)}</span>
                </label>
            })}
        </fieldset>
    }
}

/// What to do on the way that was taken.
pub fn lead(model: Model) -> impl IntoView {
    let way = model.layout.way;
    let showing = move || way.get() == Way::Show;
    view! {
        <p class="lead" id="lead">
            {move || words::lead(way.get())}
            " "
            {move || showing().then(|| show::button(model))}
        </p>
    }
}

/// Links to the groups of parts, and the buttons for all of them.
pub fn bar(model: Model) -> impl IntoView {
    view! {
        <nav class="bar" aria-label=words::PARTS>
            {contents::links()}
            <p class="buttons">
                <button type="button" class="plain" id="open-all" on:click=move |_| model.layout.set_all(&contents::keys(), true)>{words::OPEN_ALL}</button>
                <button type="button" class="plain" id="close-all" on:click=move |_| model.layout.set_all(&contents::keys(), false)>{words::CLOSE_ALL}</button>
            </p>
        </nav>
    }
}
