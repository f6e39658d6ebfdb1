//! What limits the plan: bars of the sources of doubt, sentences, and the floor by years.

use super::frame::measured;
use super::slices::Restarted;
use crate::state::Model;
use crate::words::{limiting as words, reading};
use engine::limiting::{Limiting, Work};
use engine::scenario::Checked;
use figures::locale::in_english;
use leptos::html::Div;
use leptos::prelude::*;
use paper::limiting as told;

/// What was found, of which scenario.
type Found = Option<(Checked, Limiting)>;

/// The section: worked out anew after each edit, in slices.
pub fn view(model: Model) -> impl IntoView {
    let found: RwSignal<Found> = RwSignal::new(None);
    let message = RwSignal::new(words::WORKING);
    let work = Restarted::new();
    Effect::new(move |_| {
        let Ok(checked) = model.checked.get() else {
            work.stop();
            found.set(None);
            message.set(words::NO_PLAN);
            return;
        };
        message.set(words::WORKING);
        work.begin(move || {
            let Ok(work) = Work::new(&checked) else {
                found.set(None);
                message.set(told::NOT_TOLD);
                return None;
            };
            let mut work = Some(work);
            Some(move || {
                if work.as_mut().is_some_and(Work::step) {
                    return true;
                }
                if let Some(done) = work.take() {
                    found.set(Some((checked.clone(), done.finish())));
                    message.set("");
                }
                false
            })
        });
    });
    view! {
        <div id="limiting-part">
            <p class="aside">{words::LIMITING_ASIDE}</p>
            <p id="limiting-state" class="aside" role="status">{move || message.get()}</p>
            {move || found.with(|f| f.as_ref().map(|(s, l)| result(model, s, l)))}
        </div>
    }
}

fn result(model: Model, s: &Checked, l: &Limiting) -> impl IntoView + use<> {
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let figure = told::figure(s, l);
    let (drawn, kept) = (figure.clone(), figure.clone());
    let svg = move || {
        let mut f = drawn.clone();
        (f.show_title, f.width) = (false, width.get());
        f.svg_unstyled()
    };
    let csv = in_english(|| told::figure(s, l).table().csv());
    let save_svg = move |_| model.save("leastcatch-limiting.svg", "image/svg+xml", &kept.svg());
    let save_csv = move |_| model.save("leastcatch-limiting.csv", "text/csv", &csv);
    let lines = told::sentences(s, l).into_iter();
    let floor = told::floor_table(s, l).map(|t| {
        view! {
            <details>
                <summary>{words::READ_FLOOR}</summary>
                <div class="scroll" id="floor-table" tabindex="0" role="region" aria-label=words::FLOOR_TABLE inner_html=t.html()></div>
            </details>
        }
    });
    view! {
            <ul id="limiting-told">{lines.map(|line| view! { <li>{line}</li> }).collect_view()}</ul>
            <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="limiting" node_ref=frame inner_html=svg></div>
            <p class="aside">{told::meaning(l)}</p>
            <p class="buttons">
                <button type="button" id="save-limiting-svg" on:click=save_svg>{reading::SVG}</button>
    {super::reading::png(model, "limiting")}
                <button type="button" id="save-limiting-csv" on:click=save_csv>{reading::CSV}</button>
            </p>
            <details>
                <summary>{words::READ_LIMITING}</summary>
                <div class="scroll" id="limiting-table" tabindex="0" role="region" aria-label=words::LIMITING_TABLE inner_html=figure.table().html()></div>
            </details>
            {floor}
            <p class="aside">{told::SOURCES}</p>
        }
}
