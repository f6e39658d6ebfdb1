//! Futures: simulated surveys, one by one, for people to look at.

use super::frame::measured;
use crate::state::Model;
use leptos::html::Div;
use leptos::prelude::*;
use paper::{futures_figure, sentences};

/// The part with its button.
pub fn view(model: Model) -> impl IntoView {
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let figure = Memo::new(move |_| {
        let width = width.get();
        model.futures.with(|f| {
            let futures = f.as_ref()?;
            let mut figure = model.scenario.with(|s| futures_figure(s, futures));
            figure.show_title = false;
            figure.width = width;
            Some(figure)
        })
    });
    let told = move || {
        model.futures.with(|f| {
            let futures = f.as_ref().filter(|f| !f.change.is_empty())?;
            Some(model.scenario.with(|s| sentences::futures(s, futures)))
        })
    };
    let save_svg = move |_| {
        if let Some(mut f) = figure.get_untracked() {
            f.show_title = true;
            model.save("leastcatch-futures.svg", "image/svg+xml", &f.svg());
        }
    };
    view! {
        <section aria-labelledby="futures-title" id="futures-part">
            <h2 id="futures-title">"Futures"</h2>
            <p class="aside">"Twenty simulated surveys of this plan in each world, as they would look, each with what its analysis would say."</p>
            <p class="buttons"><button type="button" id="find-futures" on:click=move |_| model.run_futures()>"Show simulated surveys"</button></p>
            <div aria-live="polite"><p id="futures-told">{told}</p></div>
            <div class="frame" id="futures-frame" node_ref=frame inner_html=move || figure.with(|f| f.as_ref().map_or(String::new(), figures::SmallMultiples::svg_unstyled))></div>
            {move || model.futures.with(Option::is_some).then(|| view! {
                <p class="buttons"><button type="button" id="save-futures" on:click=save_svg>"Save picture (SVG)"</button></p>
                <details>
                    <summary>"Read the surveys as a table"</summary>
                    <div class="scroll" id="futures-table" tabindex="0" role="region" aria-label="table of simulated surveys" inner_html=move || figure.with(|f| f.as_ref().map_or(String::new(), |f| f.table().html()))></div>
                </details>
            })}
        </section>
    }
}
