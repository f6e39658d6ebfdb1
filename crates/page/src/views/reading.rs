//! Values of a picture, read by pointer, touch or key: every place in it that tells something has a title of its own.

use crate::browser;
use crate::state::{Model, Notice};
use crate::words::reading as words;
use leptos::ev::{KeyboardEvent, PointerEvent};
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::prelude::{Closure, JsCast};
use web_sys::{Element, MutationObserver, MutationObserverInit};

/// What is read, and where on the screen, in pixels from its left and top edge.
#[derive(Clone, PartialEq)]
struct Read {
    text: String,
    left: f64,
    top: f64,
    by: By,
}

impl Read {
    /// The place alone.
    fn untold(&self) -> Self {
        Self {
            text: String::new(),
            ..self.clone()
        }
    }
}

/// What chose the place that is read.
#[derive(Clone, PartialEq)]
enum By {
    /// Keys, which leave a mark on it: the frame and the place's number in it.
    Key(Element, usize),
    /// A pointer, in pixels from the screen's left and top edge.
    Pointer(f32, f32),
}

/// Places of a picture that tell something.
const SPOTS: &str = ".fg-spot";
/// The one that is read by key.
const NOW: &str = "fg-spot fg-read";

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

/// What is read at the same place of a page that has been scrolled or of a picture that has been drawn anew.
fn again(before: &Read) -> Option<Read> {
    let spot = match &before.by {
        By::Key(frame, at) => {
            let spot = all(frame).into_iter().nth(*at)?;
            mark(frame, Some(&spot));
            spot
        }
        By::Pointer(x, y) => {
            let below = document().element_from_point(*x, *y)?;
            below.closest(SPOTS).ok()??
        }
    };
    read(&spot, before.by.clone())
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
    let now = RwSignal::new_local(None::<Read>);
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
            now.set(read(spot, By::Key(frame, to)));
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
        if let Some(before) = now.get_untracked() {
            let there = again(&before);
            now.set(match before.by {
                By::Key(..) => Some(there.unwrap_or_else(|| before.untold())),
                // Below a pointer that has not moved there may be another place by now, which nobody asked for.
                By::Pointer(..) => there.filter(|there| there.text == before.text),
            });
        }
    };
    // A picture that is drawn anew tells its new value: the old one would be believed of it. While nothing is drawn
    // nothing is told, and the place is kept.
    let drawn = Closure::<dyn FnMut()>::new(move || {
        if let Some(before) = now.get_untracked() {
            let there = again(&before).unwrap_or_else(|| before.untold());
            if there != before {
                now.set(Some(there));
            }
        }
    });
    if let Ok(observer) = MutationObserver::new(drawn.as_ref().unchecked_ref()) {
        let is_read = Memo::new(move |_| now.with(Option::is_some));
        Effect::new(move |_| {
            let body = document().body();
            match body.filter(|_| is_read.get()) {
                Some(body) => {
                    let what = MutationObserverInit::new();
                    what.set_child_list(true);
                    what.set_subtree(true);
                    // Without it the value stays until the pointer moves.
                    let _ = observer.observe_with_options(&body, &what);
                }
                None => observer.disconnect(),
            }
        });
    }
    // As long as the page.
    drawn.forget();
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
            class:shown=move || now.with(|n| n.as_ref().is_some_and(|r| !r.text.is_empty()))
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
