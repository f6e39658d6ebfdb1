//! Messages.

use crate::browser;
use crate::state::Model;
use crate::words::shared;
use leptos::html::Div;
use leptos::prelude::*;

/// The last message, until it is closed. Where the page was scrolled away from it, it is scrolled back.
pub fn view(model: Model) -> impl IntoView {
    let place = NodeRef::<Div>::new();
    Effect::new(move |_| {
        if let Some(shown) = place.get() {
            browser::bring_into_view(&shown);
        }
    });
    move || {
        model.notice.get().map(|n| {
            let role = if n.bad { "alert" } else { "status" };
            let class = if n.bad { "notice notice-bad" } else { "notice" };
            view! {
                <div class=class role=role node_ref=place>
                    <ul>{n.lines.into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}</ul>
                    <button type="button" on:click=move |_| model.notice.set(None)>{shared::CLOSE}</button>
                </div>
            }
        })
    }
}
