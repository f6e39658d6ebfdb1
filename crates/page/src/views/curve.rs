//! The power curve with the toll beneath, its table, and both as files.

use super::frame::measured;
use super::in_turn::in_turn;
use crate::state::Model;
use crate::words::{curve as words, reading};
use engine::Axis;
use leptos::html::Div;
use leptos::prelude::*;
use paper::curve_figure;

/// That the curve's powers are of another test than the planned one, where they are.
fn stand_in(model: Model) -> Option<String> {
    let counting = model.running.with(|r| !r.what.is_empty() && !r.cancelled);
    model.curve.with(|c| {
        let last = c.as_ref()?.points.last()?;
        if counting {
            paper::sentences::stand_in_so_far(&last.test)
        } else {
            paper::sentences::stand_in(&last.test, last.false_alarm.replicates)
        }
    })
}

/// The curve.
pub fn view(model: Model) -> impl IntoView {
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let figure = in_turn(Memo::new(move |_| {
        let width = width.get();
        model.curve.with(|c| {
            c.as_ref().map(|c| {
                let mut figure = model.scenario.with(|s| curve_figure(s, c));
                figure.width = width;
                figure.show_title = false;
                figure
            })
        })
    }));
    let name =
        move |ending: &str| format!("leastcatch-{}.{ending}", model.axis.get_untracked().key());
    let save_svg = move |_| {
        if let Some(f) = figure.get_untracked() {
            let mut f = f;
            f.show_title = true;
            model.save(&name("svg"), "image/svg+xml", &f.svg());
        }
    };
    let save_csv = move |_| {
        if let Some(f) = figure.get_untracked() {
            model.save(&name("csv"), "text/csv", &f.csv());
        }
    };
    let axes = Memo::new(move |_| model.scenario.with(Axis::of_scenario));
    view! {
            <div>
                <p class="over"><label for="axis">{words::OVER}</label>
                    <select id="axis" on:change=move |event| {
                        let key = event_target_value(&event);
                        if let Some(axis) = Axis::ALL.into_iter().find(|a| a.key() == key) {
                            model.run_curve(axis);
                        }
                    }>
                        {move || axes.get().into_iter().map(|a| view! { <option value=a.key() prop:selected=move || model.axis.get() == a>{a.label()}</option> }).collect_view()}
                    </select>
                </p>
                <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="curve" node_ref=frame inner_html=move || figure.with(|f| f.as_ref().map_or(String::new(), |f| f.svg_unstyled()))></div>
                <p class="aside" id="curve-test">{move || stand_in(model)}</p>
                <p class="buttons">
                    <button type="button" id="save-svg" on:click=save_svg>{reading::SVG}</button>
    {super::reading::png(model, "curve")}
                    <button type="button" id="save-csv" on:click=save_csv>{reading::CSV}</button>
                </p>
                <details>
                    <summary>{words::READ}</summary>
                    <div class="scroll" tabindex="0" role="region" aria-label=words::TABLE inner_html=move || figure.with(|f| f.as_ref().map_or(String::new(), |f| f.table().html()))></div>
                </details>
            </div>
        }
}
