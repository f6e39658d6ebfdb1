//! Futures: the same simulated surveys under several plans, one by one or all at once, for people to look at.

use super::frame::measured;
use crate::browser;
use crate::state::Model;
use crate::words::{futures as words, reading};
use engine::FUTURES;
use leptos::html::Div;
use leptos::prelude::*;
use paper::{PlanFutures, futures_beside, sentences};
use std::time::Duration;

/// Time between two surveys while they play.
const BEAT: Duration = Duration::from_millis(700);

/// The plans whose surveys are there, from the smallest on.
fn plans(model: Model) -> Vec<PlanFutures> {
    let own = model.futures.get().map(|futures| PlanFutures {
        beside: None,
        plan: model.scenario.with(|s| s.plan.clone()),
        futures,
    });
    let others = model.futures_beside.get();
    let others = others
        .into_iter()
        .map(|(beside, plan, futures)| PlanFutures {
            beside: Some(beside),
            plan,
            futures,
        });
    let mut all: Vec<PlanFutures> = own.into_iter().chain(others).collect();
    // Those that kill least stand first.
    all.sort_by(|a, b| {
        let toll = |p: &PlanFutures| p.futures.toll.unwrap_or(0.0);
        toll(a).total_cmp(&toll(b))
    });
    all.retain(|p| !p.futures.change.is_empty());
    all
}

/// The part with its button.
pub fn view(model: Model) -> impl IntoView {
    let most = FUTURES as usize;
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let shown = RwSignal::new(most);
    let playing = RwSignal::new(false);
    let all = Memo::new(move |_| plans(model));
    let figure = Memo::new(move |_| {
        let (width, shown) = (width.get(), shown.get());
        all.with(|all| {
            let mut figure = model.scenario.with(|s| futures_beside(s, all, shown))?;
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
    let save = move |_| {
        if let Some(mut f) = figure.get_untracked() {
            f.show_title = true;
            model.save("leastcatch-futures.svg", "image/svg+xml", &f.svg());
        }
    };
    let save_csv = move |_| {
        if let Some(f) = figure.get_untracked() {
            model.save("leastcatch-futures.csv", "text/csv", &f.csv());
        }
    };
    let step = move |by: i32| {
        playing.set(false);
        shown.update(|n| *n = n.saturating_add_signed(by as isize).clamp(1, most));
    };
    let beat = set_interval_with_handle(
        move || {
            if playing.get_untracked() {
                shown.update(|n| *n = (*n + 1).min(most));
                if shown.get_untracked() == most {
                    playing.set(false);
                }
            }
        },
        BEAT,
    );
    if let Ok(beat) = beat {
        on_cleanup(move || beat.clear());
    }
    let play = move |_| {
        if playing.get_untracked() {
            playing.set(false);
        } else {
            if shown.get_untracked() == most {
                shown.set(1);
            }
            playing.set(true);
        }
    };
    let still = browser::wants_stillness();
    let there = Memo::new(move |_| all.with(|a| !a.is_empty()));
    view! {
            <div id="futures-part">
                <p class="aside">{words::ABOUT}</p>
                <p class="buttons"><button type="button" class="first-choice" id="find-futures" on:click=move |_| model.run_futures()>{words::BEGIN}</button></p>
                <div aria-live="polite"><p id="futures-told">{told}</p></div>
                {move || there.get().then(|| view! {
                    <p class="buttons player" role="group" aria-label=words::PLAYER>
                        // Whoever asks for stillness steps by hand.
                        {(!still).then(|| view! {
                            <button type="button" id="futures-play" on:click=play>{move || if playing.get() { words::PAUSE } else { words::PLAY }}</button>
                        })}
                        <button type="button" id="futures-back" disabled=move || shown.get() == 1 on:click=move |_| step(-1)>{words::BACK}</button>
                        <button type="button" id="futures-next" disabled=move || shown.get() == most on:click=move |_| step(1)>{words::NEXT}</button>
                        <button type="button" id="futures-all" disabled=move || shown.get() == most on:click=move |_| step(most as i32)>{words::ALL}</button>
                        <span class="note" id="futures-shown">{move || words::shown(shown.get(), most)}</span>
                    </p>
                })}
                <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="futures-frame" node_ref=frame inner_html=move || figure.with(|f| f.as_ref().map_or(String::new(), figures::SmallMultiples::svg_unstyled))></div>
                {move || there.get().then(|| view! {
                    <p class="buttons"><button type="button" id="save-futures" on:click=save>{reading::SVG}</button>
    {super::reading::png(model, "futures-frame")}
                        <button type="button" id="save-futures-csv" on:click=save_csv>{reading::CSV}</button></p>
                    <details>
                        <summary>{words::READ}</summary>
                        <div class="scroll" id="futures-table" tabindex="0" role="region" aria-label=words::TABLE inner_html=move || figure.with(|f| f.as_ref().map_or(String::new(), |f| f.table().html()))></div>
                    </details>
                })}
            </div>
        }
}
