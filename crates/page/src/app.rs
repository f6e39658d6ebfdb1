//! The whole page, read from top to bottom.

use crate::browser;
use crate::demos::DEMOS;
use crate::state::{Model, Notice};
use crate::views::{contents, files, meaning, notice, question, report, show, strip, ways};
use crate::words::{page as words, parts};
use engine::scenario::{Scenario, read};
use leptos::prelude::*;

/// The scenario to begin with: the one kept by an earlier visit, or the first demo.
fn first() -> Result<(Scenario, Option<Notice>), String> {
    if let Some(kept) = browser::kept() {
        match read(&kept) {
            Ok(scenario) => return Ok((scenario, None)),
            Err(fault) => {
                let lines = vec![format!(
                    "The scenario kept from an earlier visit could not be read ({fault}); a demo is shown."
                )];
                return demo().map(|s| (s, Some(Notice { bad: true, lines })));
            }
        }
    }
    demo().map(|s| (s, None))
}

fn demo() -> Result<Scenario, String> {
    read(DEMOS[0].1).map_err(|fault| fault.to_string())
}

/// The whole page.
#[component]
pub fn App() -> impl IntoView {
    match first() {
        Ok((scenario, notice)) => {
            let model = Model::new(scenario);
            model.notice.set(notice);
            model.drive();
            page(model).into_any()
        }
        Err(fault) => {
            view! { <p role="alert">{format!("The demo could not be read: {fault}")}</p> }
                .into_any()
        }
    }
}

fn page(model: Model) -> impl IntoView {
    view! {
        <a class="skip" href="#answer">{words::SKIP}</a>
        <header class="top">
            <div class="brand">
                <img class="mark" src="icon.svg" alt="" width="44" height="44" />
                <div>
                    <h1>{words::NAME}</h1>
                    <p class="tagline">{words::TAGLINE}</p>
                </div>
            </div>
            {ways::choice(model)}
            {files::view(model)}
        </header>
        <main class=move || format!("way-{}", model.layout.way.get().key())>
            {notice::view(model)}
            {ways::lead(model)}
            {question::view(model)}
            {strip::view(model)}
            {report::view(model)}
            <div class="desk">
                <aside class="controls" aria-labelledby="input-title">
                    <h2 id="input-title">{parts::INPUT}</h2>
                    {contents::panels(model)}
                </aside>
                <div class="chapters">
                    {ways::bar(model)}
                    {contents::chapters(model)}
                </div>
            </div>
        </main>
        {show::view(model)}
        {meaning::view(model)}
        <footer>
            {words::CAUTIONS.map(|c| view! { <p>{c}</p> })}
        </footer>
    }
}
