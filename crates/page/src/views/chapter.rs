//! A part of the page that opens and closes; what is closed is not worked out.

use super::apart::{self, Part};
use crate::state::Model;
use crate::words::parts::Titled;
use engine::scenario::Scenario;
use leptos::prelude::*;
use web_sys::HtmlDetailsElement;

/// A part with a picture or a table.
#[derive(Clone, Copy)]
pub struct Chapter {
    /// Key, title and the line under it.
    pub titled: Titled,
    /// Whether it belongs to the scenario.
    pub asked: fn(&Scenario) -> bool,
    /// What it finds, in a few words that stand beside the title; `None` before it is known.
    pub finding: fn(Model) -> Option<String>,
    /// What it shows.
    pub body: Body,
}

/// What an open part shows.
#[derive(Clone, Copy)]
pub enum Body {
    /// Drawn by the page itself.
    Here(fn(Model) -> AnyView),
    /// Drawn by what comes in a file of its own.
    Apart(Part),
}

impl Body {
    fn draw(self, model: Model) -> AnyView {
        match self {
            Self::Here(draw) => draw(model),
            Self::Apart(part) => {
                model.want_apart();
                apart::view(model, part)
            }
        }
    }
}

/// A fold-out that keeps its state in the page's layout.
fn fold(
    model: Model,
    key: &'static str,
    class: &'static str,
    summary: AnyView,
    body: Body,
) -> impl IntoView {
    let open = Memo::new(move |_| model.layout.is_open(key));
    view! {
        <details
            class=class
            id=format!("part-{key}")
            prop:open=move || open.get()
            on:toggle=move |e| model.layout.set(key, event_target::<HtmlDetailsElement>(&e).open())
        >
            <summary>{summary}</summary>
            <div class="inside">{move || open.get().then(|| body.draw(model))}</div>
        </details>
    }
}

/// A chapter; nothing where the scenario does not ask for it.
pub fn chapter(model: Model, c: Chapter) -> impl IntoView {
    let asked = Memo::new(move |_| model.scenario.with(c.asked));
    let (key, title, line) = c.titled;
    move || {
        asked.get().then(|| {
            let finding = Memo::new(move |_| (c.finding)(model));
            let summary = view! {
                <h3>{title}</h3>
                <span class="line">{move || finding.get().unwrap_or_else(|| line.to_owned())}</span>
            }
            .into_any();
            fold(model, key, "chapter", summary, c.body)
        })
    }
}

/// Some controls under a heading, with their state in a few words.
pub fn panel(
    model: Model,
    (key, title): (&'static str, &'static str),
    state: fn(Model) -> String,
    body: Body,
) -> impl IntoView {
    let state = Memo::new(move |_| state(model));
    let summary = view! {
        <h3>{title}</h3>
        <span class="line">{move || state.get()}</span>
    }
    .into_any();
    fold(model, key, "panel", summary, body)
}
