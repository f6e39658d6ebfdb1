//! The toll by group as a picture.

use super::frame::measured;
use crate::state::Model;
use crate::words::reading as words;
use engine::summary::Toll;
use figures::CountBars;
use leptos::html::Div;
use leptos::prelude::*;

/// The picture with what saves it; empty until a survey is simulated.
pub fn view(model: Model, toll: ReadSignal<Option<Toll>>) -> impl IntoView {
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let figure = Memo::new(move |_| {
        toll.with(|t| {
            let toll = t.as_ref()?;
            Some(model.scenario.with(|s| paper::toll_figure::figure(s, toll)))
        })
    });
    let svg = move || {
        let mut f = figure.get()?;
        (f.width, f.show_title) = (width.get(), false);
        Some(f.svg_unstyled())
    };
    let save = move |name: &str, kind: &str, text: fn(&CountBars) -> String| {
        if let Some(text) = figure.with_untracked(|f| f.as_ref().map(text)) {
            model.save(name, kind, &text);
        }
    };
    let save_svg = move |_| save("leastcatch-toll.svg", "image/svg+xml", CountBars::svg);
    let save_csv = move |_| save("leastcatch-toll.csv", "text/csv", |f| f.table().csv());
    view! {
        <div class="frame" tabindex="0" role="group" aria-label=words::FRAME id="toll-figure" node_ref=frame inner_html=move || svg().unwrap_or_default()></div>
        <p class="buttons">
            <button type="button" id="save-toll-svg" on:click=save_svg>{words::SVG}</button>
            {super::reading::png(model, "toll-figure")}
            <button type="button" id="save-toll-csv" on:click=save_csv>{words::CSV}</button>
        </p>
    }
}
