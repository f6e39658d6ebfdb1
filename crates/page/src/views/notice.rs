//! Messages.

use crate::state::Model;
use crate::words::shared;
use leptos::prelude::*;

/// The last message, until it is closed.
pub fn view(model: Model) -> impl IntoView {
    move || {
        model.notice.get().map(|n| {
            let role = if n.bad { "alert" } else { "status" };
            let class = if n.bad { "notice notice-bad" } else { "notice" };
            view! {
                <div class=class role=role>
                    <ul>{n.lines.into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}</ul>
                    <button type="button" on:click=move |_| model.notice.set(None)>{shared::CLOSE}</button>
                </div>
            }
        })
    }
}
