//! The whole page, read from top to bottom.

use crate::browser;
use crate::demos::DEMOS;
use crate::state::{Model, Notice};
use crate::views::{
    bycatch, cost, curve, files, futures, gentle, ignoring, inventory, least, looks, method,
    mistakes, notice, others, plan, premises, question, revisit, season, several, stop_lines,
    strip, toll, traps,
};
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
        <a class="skip" href="#answer">"Skip to the answer"</a>
        <header class="top">
            <div class="brand">
                <h1>"Leastcatch"</h1>
                <p class="tagline">"the smallest catch that answers the question"</p>
            </div>
            {files::view(model)}
        </header>
        <main>
            {notice::view(model)}
            {question::view(model)}
            {strip::view(model)}
            <div class="desk">
                <div class="pictures">
                    {curve::view(model)}
                    {revisit::view(model)}
                    {futures::view(model)}
                    {inventory::view(model)}
                    {season::view(model)}
                    {toll::view(model)}
                    {cost::view(model)}
                    {gentle::view(model)}
                    {several::view(model)}
                    {least::view(model)}
                    {stop_lines::view(model)}
                    {looks::view(model)}
                    {ignoring::view(model)}
                    {mistakes::view(model)}
                    {method::view()}
                </div>
                <div class="controls">
                    {plan::view(model)}
                    {premises::view(model)}
                    {others::view(model)}
                    {bycatch::view(model)}
                    {cost::rates(model)}
                    {traps::view(model)}
                </div>
            </div>
        </main>
        <footer>
            <p>
                "A planning aid only: local law, the ethics body, site safety rules and qualified or licensed people decide. "
                "Vertebrates and protected animals: ask the regulator before setting a trap. "
                "Trapping needs the landowner's consent and whatever permits hold locally; preserving fluids can be toxic or flammable: follow their safety data sheets and leave nothing open off season. "
                "Everything is computed in this browser; nothing is sent anywhere."
            </p>
        </footer>
    }
}
