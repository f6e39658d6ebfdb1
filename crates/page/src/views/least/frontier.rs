//! What more kills buy: toll and power of the surest plans, as picture and table, from which any plan can be opened.

use super::super::frame::measured;
use super::super::in_turn::in_turn;
use super::take;
use crate::state::Model;
use crate::words::{least as words, numbers, reading};
use engine::least::FrontPoint;
use leptos::html::Div;
use leptos::prelude::*;
use paper::number::{count, percent, percent_fine};
use paper::{least_figure, sentences};

/// The picture of toll and power with its table, from which any plan can be opened.
pub fn view(model: Model) -> impl IntoView {
    let has = Memo::new(move |_| {
        model
            .least
            .with(|l| l.as_ref().is_some_and(|l| !l.frontier.is_empty()))
    });
    move || has.get().then(|| front_part(model))
}

fn front_part(model: Model) -> impl IntoView {
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    // The picture and its tables, each in turn.
    let pictured = in_turn(Memo::new(move |_| model.least.get()));
    let listed = in_turn(Memo::new(move |_| pictured.get()));
    let figure = move |on_page: bool| {
        model.checked.with(|c| {
            let scenario = c.as_ref().ok()?;
            pictured.with(|l| {
                let mut figure = least_figure(scenario, &l.as_ref()?.frontier)?;
                if on_page {
                    figure.show_title = false;
                    figure.width = width.get();
                }
                Some(figure)
            })
        })
    };
    let save_svg = move |_| {
        if let Some(f) = untrack(|| figure(false)) {
            model.save("leastcatch-frontier.svg", "image/svg+xml", &f.svg());
        }
    };
    let save_csv = move |_| {
        if let Some(f) = untrack(|| figure(false)) {
            model.save("leastcatch-frontier.csv", "text/csv", &f.csv());
        }
    };
    view! {
        <h4 id="frontier-title">{words::FRONTIER}</h4>
        <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="least-figure" node_ref=frame inner_html=move || figure(true).map(|f| f.svg_unstyled()).unwrap_or_default()></div>
        <p class="buttons">
            <button type="button" on:click=save_svg>{reading::SVG}</button>
            {super::super::reading::png(model, "least-figure")}
            <button type="button" on:click=save_csv>{words::SAVE_TABLE}</button>
        </p>
        <details>
            <summary>{words::READ_FRONTIER}</summary>
            {move || listed.with(|l| l.as_ref().map(|l| points(model, &l.frontier, "least-frontier", words::FRONTIER_TABLE)))}
        </details>
        {move || listed.with(|l| l.as_ref().filter(|l| !l.thrifty.is_empty()).map(|l| view! {
            <details>
                <summary>{words::THRIFTY}</summary>
                {points(model, &l.thrifty, "least-thrifty", words::THRIFTY_TABLE)}
            </details>
        }))}
    }
}

fn points(
    model: Model,
    points: &[FrontPoint],
    id: &'static str,
    caption: &'static str,
) -> impl IntoView + use<> {
    let rows = points
        .iter()
        .map(|p| {
            let plan = p.plan.clone();
            let power = p.power.filter(|s| s.replicates > 0).map_or("—".to_string(), |s| {
                numbers::estimate(&percent(s.estimate), &percent(s.low), &percent(s.high))
            });
            let alarms = p.false_alarm.filter(|s| s.replicates > 0);
            let alarms = alarms.map_or("—".to_string(), |s| percent_fine(s.estimate));
            let money = p.cost.as_ref().map_or("—".to_string(), |c| {
                model
                    .scenario
                    .with_untracked(|s| paper::cost::phrase(s, c))
            });
            let name = words::open_plan(&sentences::plan(&p.plan));
            view! {
                <tr class:chosen=p.least>
                    <td class="words">{sentences::plan(&p.plan)}</td>
                    <td>{count(p.expected_toll)}</td>
                    <td>{percent(p.preview_power)}</td>
                    <td>{power}</td>
                    <td>{alarms}</td>
                    <td>{money}</td>
                    <td><button type="button" aria-label=name on:click=move |_| take(model, &plan)>{words::OPEN}</button></td>
                </tr>
            }
        })
        .collect_view();
    let alarms_name = model.scenario.with_untracked(sentences::false_alarms);
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=caption>
            <table id=id>
                <caption>{caption}</caption>
                <thead><tr>
                    <th scope="col" class="words">{words::PLAN}</th><th scope="col">{words::EXPECTED_TOLL}</th>
                    <th scope="col">{words::PREVIEW_POWER}</th><th scope="col">{words::SIMULATED}</th><th scope="col">{alarms_name}</th><th scope="col">{words::COST}</th><th scope="col">{words::OPENS}</th>
                </tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
}
