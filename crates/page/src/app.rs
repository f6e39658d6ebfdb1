//! The whole page, read from top to bottom.

use crate::state::{Model, first};
use crate::views::{
    contents, files, meaning, notice, question, reading, report, show, strip, ways,
};
use crate::words::{link, page as words, parts};
use leptos::prelude::*;

/// The whole page.
#[component]
pub fn App() -> impl IntoView {
    match first() {
        Ok(start) => {
            let model = Model::new(start.stand);
            model.notice.set(start.notice);
            if let Some(before) = start.before {
                model.begin_after(before, link::STEP);
            }
            model.drive();
            model.fetch_apart_after_answer();
            page(model).into_any()
        }
        Err(fault) => view! { <p role="alert">{words::unreadable_demo(&fault)}</p> }.into_any(),
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
            {report::question(model)}
            {strip::view(model)}
            {report::premises(model)}
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
        {reading::view()}
        <footer>
            {words::CAUTIONS.map(|c| view! { <p>{c}</p> })}
        </footer>
    }
}
