//! The method sheet: how the numbers are made, and what is known of each test's false alarms.

use crate::words::method as words;
use figures::locale::retold;
use leptos::prelude::*;
use paper::method;

/// The sheet, folded away.
pub fn view() -> impl IntoView {
    let k = RwSignal::new("2".to_string());
    let options = method::DISPERSIONS
        .map(|name| view! { <option value=name prop:selected=move || k.with(|k| k == name)>{name}</option> });
    let tests = method::tests()
        .into_iter()
        .map(|(name, about)| view! { <dt>{name}</dt><dd>{about}</dd> })
        .collect_view();
    view! {
        <div id="method">
            <details>
                <summary>{words::TITLE}</summary>
                {method::SENTENCES.map(|s| view! { <p>{retold(s)}</p> })}
                <div class="scroll" id="size-summary" tabindex="0" role="region" aria-label=words::SUMMARY_TABLE inner_html=method::size_summary().html()></div>
                <dl class="tests">{tests}</dl>
                <details>
                    <summary>{words::WORLDS}</summary>
                    <p class="control">
                        <label for="size-k">{words::DISPERSION}</label>
                        <select id="size-k" on:change=move |e| k.set(event_target_value(&e))>{options}</select>
                    </p>
                    <div class="scroll" id="size-cells" tabindex="0" role="region" aria-label=words::WORLDS_TABLE inner_html=move || k.with(|k| method::size_cells(k).html())></div>
                </details>
            </details>
        </div>
    }
}
