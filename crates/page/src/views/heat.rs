//! The map of years and sites: a grid of cells to point at, to touch and to walk through with the arrow keys.

use super::slices::Restarted;
use crate::browser;
use crate::state::Model;
use crate::words::{limiting as words, reading};
use engine::heat::{Map, Work, usual_axes, with};
use engine::scenario::Checked;
use figures::locale::in_english;
use leptos::ev::KeyboardEvent;
use leptos::prelude::*;
use paper::heat as told;
use std::time::Duration;

/// The map, of which scenario.
type Found = Option<(Checked, Map)>;

/// The part: worked out in slices, and anew after each edit.
pub fn view(model: Model) -> impl IntoView {
    let found: RwSignal<Found> = RwSignal::new(None);
    let message = RwSignal::new(String::new());
    let work = Restarted::new();
    // Whether a plan was taken from the map, whose cells are then new ones.
    let taken = StoredValue::new(false);
    Effect::new(move |_| {
        let checked = model.checked.get();
        let Ok(checked) = checked else {
            work.stop();
            found.set(None);
            message.set(words::NO_PLAN.into());
            return;
        };
        message.set(words::WORKING.into());
        work.begin(move || begun(checked, found, message));
    });
    view! {
        <div id="heat-part">
            <p class="aside">{words::MAP_ASIDE}</p>
            <p id="heat-state" class="aside" role="status">{move || message.get()}</p>
            {move || found.with(|f| f.as_ref().map(|(s, map)| result(model, s, map, taken)))}
        </div>
    }
}

/// The steps of one map.
fn begun(
    checked: Checked,
    found: RwSignal<Found>,
    message: RwSignal<String>,
) -> Option<impl FnMut() -> bool + 'static> {
    let work = Work::new(&checked, usual_axes(&checked));
    let mut work = match work {
        Ok(work) => Some(work),
        Err(why) => {
            message.set(why);
            return None;
        }
    };
    let mut told = 0;
    Some(move || {
        if let Some(work) = work.as_mut()
            && work.step()
        {
            let (done, all) = work.progress();
            // Every ten cells: not each is worth a word.
            if done / 10 > told {
                told = done / 10;
                message.set(words::progress(done, all));
            }
            return true;
        }
        if let Some(done) = work.take() {
            found.set(Some((checked.clone(), done.finish())));
            message.set(String::new());
        }
        false
    })
}

fn cell_id((row, column): (usize, usize)) -> String {
    format!("heat-{row}-{column}")
}

/// Where a key leads to from a cell of so many rows and columns.
fn led(
    key: &str,
    (row, column): (usize, usize),
    (rows, columns): (usize, usize),
) -> Option<(usize, usize)> {
    Some(match key {
        "ArrowRight" => (row, (column + 1).min(columns - 1)),
        "ArrowLeft" => (row, column.saturating_sub(1)),
        "ArrowDown" => ((row + 1).min(rows - 1), column),
        "ArrowUp" => (row.saturating_sub(1), column),
        "Home" => (row, 0),
        "End" => (row, columns - 1),
        "PageUp" => (0, column),
        "PageDown" => (rows - 1, column),
        _ => return None,
    })
}

fn result(model: Model, s: &Checked, map: &Map, taken: StoredValue<bool>) -> impl IntoView + use<> {
    let figure = told::figure(s, map);
    let size = (figure.rows.len(), figure.columns.len());
    let own = told::own(s, map);
    let at = RwSignal::new(own.unwrap_or((0, 0)));
    if taken.get_value() {
        taken.set_value(false);
        // Once the new cells stand there the keyboard goes on from the plan that was taken.
        set_timeout(
            move || browser::focus(&cell_id(at.get_untracked())),
            Duration::ZERO,
        );
    }
    let texts: Vec<String> = (0..size.0 * size.1)
        .map(|i| told::told(s, map, i / size.1, i % size.1).unwrap_or_default())
        .collect();
    let texts = StoredValue::new(texts);
    let plans = StoredValue::new((s.clone(), map.axes.clone()));
    // The plan of the cell, when there is one and it is not the plan itself.
    let other = move |(row, column): (usize, usize)| {
        plans.with_value(|(s, axes)| {
            let plan = with(s.as_written(), axes.sites[row], axes.years[column]);
            let plan = plan.ok()?.as_written().plan.clone();
            (Some((row, column)) != own).then_some(plan)
        })
    };
    let take = move || {
        if let Some(plan) = other(at.get_untracked()) {
            taken.set_value(true);
            model.edit(|s| {
                s.limits.sites = s.limits.sites.max(plan.sites);
                s.plan = plan;
            });
        }
    };
    let go = move |event: KeyboardEvent| {
        if event.key() == "Enter" {
            event.prevent_default();
            take();
            return;
        }
        if let Some(to) = led(&event.key(), at.get_untracked(), size) {
            event.prevent_default();
            at.set(to);
            browser::focus(&cell_id(to));
        }
    };
    let cell = |row: usize, column: usize| {
        let place = (row, column);
        let cell = figure.at(row, column).cloned().unwrap_or_default();
        let mut class = String::from("heat-cell");
        match cell.reaches {
            Some(true) => class.push_str(&format!(" heat-good{}", cell.tint)),
            Some(false) => class.push_str(&format!(" heat-bad{}", cell.tint)),
            None => class.push_str(" heat-blank"),
        }
        if figure.line_between(place, (row, column + 1)) {
            class.push_str(" heat-line-right");
        }
        if figure.line_between(place, (row + 1, column)) {
            class.push_str(" heat-line-below");
        }
        let mine = own == Some(place);
        if mine {
            class.push_str(" heat-own");
        }
        let label = texts.with_value(|t| t[row * size.1 + column].clone());
        let label = if mine {
            format!("{}: {label}", words::OWN)
        } else {
            label
        };
        // What stands in the cell comes first, so that whoever says it by voice finds it.
        let label = if cell.short.is_empty() {
            label
        } else {
            format!("{}: {label}", cell.short)
        };
        view! {
            <td role="gridcell" id=cell_id(place) class=class aria-label=label
                tabindex=move || if at.get() == place { "0" } else { "-1" }
                on:focus=move |_| at.set(place)
                on:mouseenter=move |_| at.set(place)
                on:click=move |_| { at.set(place); browser::focus(&cell_id(place)); }
                on:keydown=go
            >{cell.short}</td>
        }
    };
    let rows = figure.rows.iter().enumerate().map(|(row, name)| {
        let cells = (0..size.1).map(|column| cell(row, column)).collect_view();
        view! { <tr><th scope="row">{name.clone()}</th>{cells}</tr> }
    });
    let rows = rows.collect_view();
    let heads = figure
        .columns
        .iter()
        .map(|c| view! { <th scope="col">{c.clone()}</th> });
    let heads = heads.collect_view();
    let corner = format!("{} ↓ {} →", figure.y_label, figure.x_label);
    let said = move || {
        let (row, column) = at.get();
        let text = texts.with_value(|t| t.get(row * size.1 + column).cloned());
        text.unwrap_or_else(|| words::NO_CELL.into())
    };
    let take_words = move || {
        let plan = other(at.get());
        plan.map_or_else(|| words::OWN.to_string(), |p| words::take(p.years, p.sites))
    };
    let (legend, sentences) = (figure.legend.clone(), told::sentences(s, map));
    let html = figure.table().html();
    let csv = in_english(|| told::figure(s, map).table().csv());
    let save_svg = move |_| model.save("leastcatch-map.svg", "image/svg+xml", &figure.svg());
    let save_csv = move |_| model.save("leastcatch-map.csv", "text/csv", &csv);
    view! {
        <ul id="heat-sentences">{sentences.into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}</ul>
        <div class="scroll" role="region" aria-label=words::MAP_REGION>
            <table role="grid" id="heat-grid" class="heat" aria-label=words::MAP_NAME>
                <thead><tr><th scope="col">{corner}</th>{heads}</tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
        <p id="heat-told">{said}</p>
        <ul class="aside" id="heat-legend">{legend.into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}</ul>
        <p class="buttons">
            <button type="button" id="heat-take" disabled=move || other(at.get()).is_none() on:click=move |_| take()>{take_words}</button>
            <button type="button" id="save-map-svg" on:click=save_svg>{reading::SVG}</button>
            <button type="button" id="save-map-csv" on:click=save_csv>{reading::CSV}</button>
        </p>
        <details>
            <summary>{words::READ_MAP}</summary>
            <div class="scroll" id="heat-table" tabindex="0" role="region" aria-label=words::MAP_TABLE inner_html=html></div>
        </details>
        <p class="aside">{told::MEANING}</p>
    }
}
