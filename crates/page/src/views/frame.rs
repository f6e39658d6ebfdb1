//! The place of a picture on the page: as wide as there is room.

use leptos::html::Div;
use leptos::prelude::*;

/// The width of a frame in pixels, kept up to date as the window changes.
pub fn measured(frame: NodeRef<Div>) -> RwSignal<f64> {
    let width = RwSignal::new(760.0);
    let measure = move || {
        if let Some(frame) = frame.get_untracked() {
            let w = f64::from(frame.client_width());
            if w > 0.0 && (w - width.get_untracked()).abs() > 4.0 {
                width.set(w);
            }
        }
    };
    Effect::new(move |_| {
        frame.get();
        measure();
    });
    let resize = window_event_listener(leptos::ev::resize, move |_| measure());
    on_cleanup(move || resize.remove());
    width
}
