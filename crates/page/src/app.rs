//! The whole page, read from top to bottom.

use crate::state::{Model, first};
use crate::views::{
    bycatch, cost, curve, files, futures, gentle, ignoring, inventory, least, looks, method,
    notice, others, plan, premises, question, revisit, season, several, stop_lines, strip, toll,
    traps,
};
use crate::words;
use leptos::prelude::*;

/// The whole page.
#[component]
pub fn App() -> impl IntoView {
    match first() {
        Ok(start) => {
            let model = Model::new(start.stand);
            model.notice.set(start.notice);
            if let Some(before) = start.before {
                model.begin_after(before, words::link::STEP);
            }
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
