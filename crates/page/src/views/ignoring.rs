//! What it costs when the analysis is not told of what the world holds.

use crate::state::Model;
use crate::words::ignoring as words;
use engine::{Ignoring, relevant};
use leptos::prelude::*;
use paper::sentences;

/// The part with its button.
pub fn view(model: Model) -> impl IntoView {
    let there = Memo::new(move |_| {
        let known = |of| sentences::known(of);
        let held = |c: &engine::scenario::Checked| -> Vec<&str> {
            relevant(c).into_iter().map(known).collect()
        };
        model
            .checked
            .with(|c| c.as_ref().map(held).unwrap_or_default())
    });
    view! {
        <div id="ignoring">
            {move || {
                let there = there.get();
                if there.is_empty() {
                    return view! { <p class="aside">{sentences::NOTHING_TO_IGNORE}</p> }.into_any();
                }
                let phrase = words::about(&there.join(", "));
                view! {
                    <p class="aside">{phrase}</p>
                    <p class="buttons"><button type="button" id="find-ignoring" on:click=move |_| model.run_ignoring()>{words::COMPUTE}</button></p>
                }
                .into_any()
            }}
            <div aria-live="polite">{move || model.ignoring.get().map(result)}</div>
        </div>
    }
}

fn result(ignoring: Ignoring) -> impl IntoView {
    let none = ignoring.costs.is_empty();
    let begun = !none && ignoring.costs.iter().all(|c| c.untold.power.replicates > 0);
    let sentences: Vec<String> = if begun {
        ignoring.costs.iter().map(sentences::cost).collect()
    } else {
        Vec::new()
    };
    let refused = ignoring
        .not_compared
        .iter()
        .map(|n| words::not_compared(sentences::known(n.of), &n.why));
    let lines: Vec<String> = sentences.into_iter().chain(refused).collect();
    let table = begun.then(|| sentences::costs_table(&ignoring.costs).html());
    view! {
        {table.map(|html| view! {
            <div class="scroll" id="ignoring-table" tabindex="0" role="region" aria-label=words::TABLE inner_html=html></div>
        })}
        <ul class="fits" id="ignoring-lines">
            {lines.into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}
        </ul>
    }
}
