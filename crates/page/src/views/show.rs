//! For an audience: one picture at a time over the whole window, in large type, by arrow keys.

use super::apart::{self, Part};
use crate::browser;
use crate::state::Model;
use crate::words::show as words;
use leptos::html::Dialog;
use leptos::prelude::*;
use paper::audience::{Known, Slide, slides};

const ID: &str = "show";

/// The button that begins the show.
pub fn button(model: Model) -> impl IntoView {
    view! {
        <button type="button" class="first-choice" id="begin-show" on:click=move |_| {
            // The twenty surveys are wanted too.
            if model.futures.with_untracked(Option::is_none) {
                model.run_futures();
            }
            browser::open_dialog(ID);
        }>{words::BEGIN}</button>
    }
}

/// What is shown by now, for the width of the window.
fn known(model: Model, width: f64) -> Vec<Slide> {
    let (answer, curve, futures, least) = (
        model.answer.get(),
        model.curve.get(),
        model.futures.get(),
        model.least.get(),
    );
    let least = least.as_ref().and_then(|l| {
        let toll = l.toll.as_ref()?.total.mean;
        Some((l.plan.as_ref()?, toll))
    });
    let known = Known {
        answer: answer.as_ref(),
        curve: curve.as_ref(),
        futures: futures.as_ref(),
        least,
    };
    model.scenario.with(|s| slides(s, &known, width))
}

/// The dialog, empty while it is closed.
pub fn view(model: Model) -> impl IntoView {
    let dialog = NodeRef::<Dialog>::new();
    let open = RwSignal::new(false);
    view! {
        <dialog
            id=ID
            class="show"
            aria-label=words::NAME
            node_ref=dialog
            on:toggle=move |_| {
                let shown = dialog.get_untracked().is_some_and(|d| d.open());
                if shown {
                    model.fetch_apart();
                }
                open.set(shown);
            }
        >
            {move || open.get().then(|| apart::view(model, Part::Show))}
        </dialog>
    }
}

/// The show, from its first picture.
pub fn inside(model: Model) -> impl IntoView {
    let place = RwSignal::new(0_usize);
    let width = browser::show_width();
    let all = Memo::new(move |_| known(model, width));
    let count = move || all.with(Vec::len);
    let go = move |to: usize| place.set(to.min(count().saturating_sub(1)));
    let step = move |forward: bool| {
        let now = place.get_untracked();
        go(if forward {
            now + 1
        } else {
            now.saturating_sub(1)
        });
    };
    let key = window_event_listener(leptos::ev::keydown, move |event| {
        match event.key().as_str() {
            "ArrowRight" | "ArrowDown" | "PageDown" => step(true),
            "ArrowLeft" | "ArrowUp" | "PageUp" => step(false),
            "Home" => go(0),
            "End" => go(usize::MAX),
            _ => return,
        }
        event.prevent_default();
    });
    on_cleanup(move || key.remove());
    let slide = move || all.with(|a| a.get(place.get().min(a.len().saturating_sub(1))).cloned());
    let counting = move || model.running.with(|r| !r.what.is_empty() && !r.cancelled);
    view! {
        <div class="slide" aria-live="polite">
            {move || slide().map(|s| {
                let words_alone = s.picture.is_none();
                view! {
                    <h2>{s.heading}</h2>
                    {s.picture.map(|svg| view! { <div class="frame" inner_html=svg></div> })}
                    <p class="said" class:large=words_alone>{s.sentence}</p>
                }
            })}
        </div>
        <p class="show-bar">
            <button type="button" id="show-back" disabled=move || place.get() == 0 on:click=move |_| step(false)>{words::BACK}</button>
            <span id="show-place">{move || words::place(place.get() + 1, count())}</span>
            <button type="button" class="first-choice" id="show-next" disabled=move || { place.get() + 1 >= count() } on:click=move |_| step(true)>{words::NEXT}</button>
            <span class="note" class:keys=move || !counting()>{move || if counting() { words::COUNTING } else { words::KEYS }}</span>
            <button type="button" id="show-full" on:click=move |_| browser::full_screen()>{words::FULL}</button>
            <button type="button" id="show-end" on:click=move |_| browser::close_dialog(ID)>{words::END}</button>
        </p>
    }
}
