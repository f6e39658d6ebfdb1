//! What stands on paper in place of the controls: question, plan and premises as text.

use crate::state::Model;
use crate::words::page as words;
use leptos::prelude::*;
use paper::sentences;

/// Whether the page is being printed.
fn printing() -> RwSignal<bool> {
    let printing = RwSignal::new(false);
    let begin = window_event_listener_untyped("beforeprint", move |_| printing.set(true));
    let end = window_event_listener_untyped("afterprint", move |_| printing.set(false));
    on_cleanup(move || {
        begin.remove();
        end.remove();
    });
    printing
}

/// The question above the answer; not seen on a screen, and worked out when the page is printed.
pub fn question(model: Model) -> impl IntoView {
    let printing = printing();
    view! {
        <section class="on-paper" id="on-paper">
            {move || printing.get().then(|| model.scenario.with(|s| view! {
                <h2>{words::QUESTION}</h2>
                <p>{sentences::question(s)}</p>
                <p>{sentences::plan(&s.plan)} "."</p>
            }))}
        </section>
    }
}

/// The premises below it.
pub fn premises(model: Model) -> impl IntoView {
    let printing = printing();
    view! {
        <section class="on-paper" id="premises-on-paper">
            {move || printing.get().then(|| model.scenario.with(|s| view! {
                <h2>{words::PREMISES}</h2>
                <div inner_html=paper::premises::table(s).html()></div>
            }))}
        </section>
    }
}
