//! Values of a picture, read by pointer, touch or key: every place in it that tells something has a title of its own.

use crate::browser;
use crate::state::{Model, Notice};
use crate::words::reading as words;
use leptos::ev::{KeyboardEvent, PointerEvent};
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::JsCast;
use web_sys::Element;

/// What is read, and where on the screen, in pixels from its left and top edge.
#[derive(Clone, PartialEq)]
struct Read {
    text: String,
    left: f64,
    top: f64,
    by: By,
}

/// What chose the place that is read.
#[derive(Clone, Copy, PartialEq)]
enum By {
    /// Keys, which leave a mark on it.
    Key,
    /// A pointer, in pixels from the screen's left and top edge.
    Pointer(f32, f32),
}

/// Places of a picture that tell something.
const SPOTS: &str = ".fg-spot";
/// The one that is read by key.
const NOW: &str = "fg-spot fg-read";
const MARKED: &str = ".fg-read";

fn read(spot: &Element, by: By) -> Option<Read> {
    let text = spot.query_selector("title").ok()??.text_content()?;
    let place = spot.get_bounding_client_rect();
    Some(Read {
        text,
        left: place.left() + 0.5 * place.width(),
        top: place.top(),
        by,
    })
}

/// What is read once the page has been scrolled: the same place, where it is now, or nothing if it is no longer there
/// or another one lies below the pointer.
fn after_scroll(before: &Read) -> Option<Read> {
    let document = document();
    let spot = match before.by {
        By::Key => document.query_selector(MARKED).ok().flatten(),
        By::Pointer(x, y) => document
            .element_from_point(x, y)
            .and_then(|below| below.closest(SPOTS).ok().flatten()),
    };
    read(&spot?, before.by).filter(|now| now.text == before.text)
}

fn all(frame: &Element) -> Vec<Element> {
    let Ok(list) = frame.query_selector_all(SPOTS) else {
        return Vec::new();
    };
    let each = (0..list.length()).filter_map(|i| list.get(i));
    each.filter_map(|n| n.dyn_into().ok()).collect()
}

fn mark(frame: &Element, spot: Option<&Element>) {
    for other in all(frame) {
        let class = if spot == Some(&other) { NOW } else { "fg-spot" };
        // A place that cannot be marked is read all the same.
        let _ = other.set_attribute("class", class);
    }
}

/// The frame that is read by key: the event's own target, so that controls within keep their keys.
fn frame_of(event: &KeyboardEvent) -> Option<Element> {
    let target: Element = event.target()?.dyn_into().ok()?;
    target.class_list().contains("frame").then_some(target)
}

/// The label that follows pointer and key, over the whole page.
pub fn view() -> impl IntoView {
    let now = RwSignal::new(None::<Read>);
    let point = move |event: PointerEvent| {
        let target = event.target().and_then(|t| t.dyn_into::<Element>().ok());
        let spot = target.and_then(|t| t.closest(SPOTS).ok().flatten());
        let by = By::Pointer(event.client_x() as f32, event.client_y() as f32);
        let told = spot.as_ref().and_then(|spot| read(spot, by));
        if now.with_untracked(|n| *n != told) {
            now.set(told);
        }
    };
    let key = move |event: KeyboardEvent| {
        let Some(frame) = frame_of(&event) else {
            return;
        };
        let spots = all(&frame);
        let at = spots
            .iter()
            .position(|s| s.class_list().contains("fg-read"));
        let last = spots.len().saturating_sub(1);
        let to = match event.key().as_str() {
            "ArrowRight" | "ArrowDown" => at.map_or(0, |i| (i + 1).min(last)),
            "ArrowLeft" | "ArrowUp" => at.map_or(last, |i| i.saturating_sub(1)),
            "Home" => 0,
            "End" => last,
            "Escape" => {
                mark(&frame, None);
                now.set(None);
                return;
            }
            _ => return,
        };
        if let Some(spot) = spots.get(to) {
            event.prevent_default();
            mark(&frame, Some(spot));
            now.set(read(spot, By::Key));
        }
    };
    let left = move |event: leptos::ev::FocusEvent| {
        if let Some(frame) = event.target().and_then(|t| t.dyn_into::<Element>().ok())
            && frame.class_list().contains("frame")
        {
            mark(&frame, None);
            now.set(None);
        }
    };
    let scrolled = move |_| {
        if let Some(told) = now.with_untracked(|n| n.as_ref().map(after_scroll)) {
            now.set(told);
        }
    };
    let listeners = [
        window_event_listener(leptos::ev::pointermove, point),
        window_event_listener(leptos::ev::pointerdown, point),
        window_event_listener(leptos::ev::keydown, key),
        window_event_listener(leptos::ev::focusout, left),
        window_event_listener(leptos::ev::scroll, scrolled),
    ];
    on_cleanup(move || listeners.into_iter().for_each(|l| l.remove()));
    let pixels = |v: f64| format!("{v:.0}px");
    view! {
        <p
            class="reading"
            id="reading"
            role="status"
            class:shown=move || now.with(Option::is_some)
            style:left=move || now.with(|n| n.as_ref().map_or(String::new(), |r| pixels(r.left)))
            style:top=move || now.with(|n| n.as_ref().map_or(String::new(), |r| pixels(r.top)))
        >
            {move || now.with(|n| n.as_ref().map(|r| r.text.clone()))}
        </p>
    }
}

/// A button that saves the picture in a frame as pixels.
pub fn png(model: Model, frame: &'static str) -> impl IntoView {
    let save = move |_| {
        let Some(drawn) = browser::drawn_in(frame, &figures::stylesheet()) else {
            return;
        };
        let name = format!("leastcatch-{frame}.png");
        spawn_local(async move {
            if browser::save_png(&name, &drawn).await.is_err() {
                let lines = vec![words::NO_PNG.to_string()];
                model.notice.set(Some(Notice { bad: true, lines }));
            }
        });
    };
    view! { <button type="button" id=format!("save-{frame}-png") on:click=save>{words::PNG}</button> }
}
