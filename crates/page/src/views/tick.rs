//! A box to tick, with its words beside it.

use leptos::prelude::*;

/// A box with that id.
pub fn tick(
    id: String,
    shown: String,
    is_on: impl Fn() -> bool + Send + Sync + 'static,
    set: impl Fn(bool) + Send + Sync + 'static,
) -> AnyView {
    view! {
        <label class="told-line">
            <input
                type="checkbox"
                id=id
                prop:checked=is_on
                on:change=move |e| set(event_target_checked(&e))
            />
            <span>{shown}</span>
        </label>
    }
    .into_any()
}
