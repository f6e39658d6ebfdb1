//! Several species at once: one power for each, and what is found over the list.

use crate::state::Model;
use crate::words::{several as words, shared};
use engine::summary::Several;
use leptos::prelude::*;
use paper::sentences;

/// The part with its button; nothing when one species is asked about.
pub fn view(model: Model) -> impl IntoView {
    let asked = Memo::new(move |_| model.scenario.with(sentences::asked_of_several));
    move || {
        asked.get().map(|asked| {
            view! {
                <div id="several">
                    <p class="aside">{asked} " " {sentences::INDEPENDENT}</p>
                    <p class="buttons"><button type="button" id="find-several" on:click=move |_| model.run_several()>{words::COMPUTE}</button></p>
                    <div aria-live="polite">{move || model.several.get().map(|s| result(model, &s))}</div>
                </div>
            }
        })
    }
}

fn result(model: Model, several: &Several) -> impl IntoView + use<> {
    let (table, lines) = model.scenario.with_untracked(|s| {
        (
            sentences::species_table(s, several).html(),
            sentences::several(s, several),
        )
    });
    let digest = if several.result_digest.is_empty() {
        shared::NO_DIGEST.to_owned()
    } else {
        several.result_digest.clone()
    };
    view! {
        <div class="scroll" id="several-table" tabindex="0" role="region" aria-label=words::TABLE inner_html=table></div>
        <ul class="fits" id="several-lines">
            {lines.into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}
        </ul>
        <p class="aside">{words::DIGEST} <code id="several-digest">{digest}</code></p>
    }
}
