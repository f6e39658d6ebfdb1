//! Many light samples against few heavy ones, and kinds of trap side by side.

use crate::browser::room;
use crate::state::Model;
use crate::words::{gentle as words, reading};
use engine::gentle::{Gentle, gentle};
use engine::scenario::Checked;
use leptos::prelude::*;
use paper::gentle as told;

/// The section: worked out when asked for, and dropped when anything is edited.
pub fn view(model: Model) -> impl IntoView {
    let found = RwSignal::new(None::<(Checked, Gentle)>);
    Effect::new(move |_| {
        model.checked.track();
        found.set(None);
    });
    let compare = move |_| {
        let checked = model.checked.get_untracked();
        found.set(checked.ok().map(|s| {
            let g = gentle(&s);
            (s, g)
        }));
    };
    let removed = Memo::new(move |_| {
        model.checked.with(|c| {
            let s = c.as_ref().ok()?;
            engine::closed_form::removed(s, &s.plan)
        })
    });
    view! {
        <div id="gentle">
            <p class="aside">{told::WHY}</p>
            {move || removed.get().map(|r| view! { <p id="share-removed">{told::removed(&r)}</p> })}
            <p class="buttons">
                <button type="button" id="run-gentle" disabled=move || model.checked.with(Result::is_err) on:click=compare>{words::COMPARE}</button>
            </p>
            <div aria-live="polite" id="gentle-told">
                {move || found.with(|f| f.as_ref().map(|(s, g)| explained(model, s, g)))}
            </div>
        </div>
    }
}

fn explained(model: Model, s: &Checked, g: &Gentle) -> impl IntoView + use<> {
    let mut figure = told::figure(s, g);
    let (svg, csv) = (figure.svg(), told::csv(g));
    // On the page the heading says it.
    figure.show_title = false;
    figure.width = room();
    let keep = move |name: &'static str, kind: &'static str, text: String| {
        move |_| model.save(name, kind, &text)
    };
    let traps = (!g.traps.is_empty()).then(|| {
        view! { <div class="scroll" tabindex="0" role="region" aria-label=words::TRAPS_TABLE inner_html=told::traps_table(s, g).html()></div> }
    });
    view! {
            <ul class="fits">{told::sentences(s, g).into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}</ul>
            <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="gentle-figure" inner_html=figure.svg_unstyled()></div>
            <p class="buttons">
                <button type="button" id="save-gentle-svg" on:click=keep("light-samples.svg", "image/svg+xml", svg)>{reading::SVG}</button>
    {super::reading::png(model, "gentle-figure")}
                <button type="button" id="save-gentle-csv" on:click=keep("light-samples.csv", "text/csv", csv)>{reading::CSV}</button>
            </p>
            <div class="scroll" tabindex="0" role="region" aria-label=words::LIGHTER_TABLE inner_html=told::lighter_table(s, g).html()></div>
            <div class="scroll" tabindex="0" role="region" aria-label=words::SUB_SAMPLING_TABLE inner_html=told::sub_sampling_table(s, g).html()></div>
            {traps}
            <p class="aside">{told::CAUTION}</p>
        }
}
