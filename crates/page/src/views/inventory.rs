//! The inventory so far: what the pilot's species tell, and what further trapping would add and kill.

use super::frame::measured;
use super::whole;
use crate::browser::{bytes, chosen};
use crate::state::{Model, Notice};
use crate::words::{inventory as words, reading};
use engine::inventory::{Form, Report, USUAL_FURTHER, report};
use engine::pilot;
use engine::scenario::Effect as Asked;
use figures::locale::retold;
use leptos::html::{Div, Input, Textarea};
use leptos::prelude::*;
use leptos::task::spawn_local;
use paper::sentences;

fn refuse(model: Model, lines: Vec<String>) {
    model.notice.set(Some(Notice { bad: true, lines }));
}

/// Puts a species table into the scenario, or says what is wrong with it.
fn take(model: Model, name: &str, table: &[u8]) {
    let read = match pilot::species_table(table, name) {
        Ok(read) => read,
        Err(errors) => return refuse(model, errors.iter().map(ToString::to_string).collect()),
    };
    let mut scenario = model.scenario.get_untracked();
    read.put_into(&mut scenario);
    match scenario.clone().check() {
        Err(faults) => refuse(
            model,
            faults
                .iter()
                .map(|f| words::with_species(name, &f.to_string()))
                .collect(),
        ),
        Ok(_) => {
            model.replace(scenario, crate::words::undo::SPECIES_STEP);
            let said = words::species_taken(
                name,
                read.strata.iter().map(|s| s.species.len()).sum(),
                read.strata.len(),
            );
            let lines = std::iter::once(said)
                .chain(read.notes.iter().map(|n| retold(n)))
                .collect();
            model.notice.set(Some(Notice { bad: false, lines }));
        }
    }
}

/// The form that is drawn: individuals where there are any.
fn drawn(report: &Report) -> Option<&Form> {
    report.individuals.as_ref().or(report.incidences.as_ref())
}

/// The part; nothing with other questions.
pub fn view(model: Model) -> impl IntoView {
    let asked = Memo::new(move |_| {
        model
            .scenario
            .with(|s| matches!(s.question.effect, Asked::Inventory(_)))
    });
    move || asked.get().then(|| part(model))
}

fn part(model: Model) -> impl IntoView {
    let further = RwSignal::new(USUAL_FURTHER);
    // What the report rests on, so that edits of the plan do not make it anew.
    let pilot = Memo::new(move |_| {
        model.checked.with(|c| {
            let s = c.as_ref().ok()?;
            Some((s.question.effect.clone(), s.premises.community.clone()))
        })
    });
    let told = Memo::new(move |_| {
        let n = further.get();
        if pilot.with(Option::is_none) {
            return None;
        }
        let checked = model.checked;
        checked.with_untracked(|c| report(c.as_ref().ok()?, n))
    });
    view! {
        <div id="inventory">
            <ul class="fits" id="inventory-told">
                {move || told.with(|t| t.as_ref().map(|t| sentences::inventory(t).into_iter().map(|l| view! { <li>{l}</li> }).collect_view()))}
            </ul>
            {picture(model, told)}
            {gains(model, told, further)}
            {table(model)}
        </div>
    }
}

/// The curve with its table, and both as files.
fn picture(model: Model, told: Memo<Option<Report>>) -> impl IntoView {
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let figure = move |titled: bool| {
        told.with(|t| {
            let t = t.as_ref()?;
            let form = drawn(t)?;
            let mut f = model.scenario.with(|s| paper::inventory_figure(s, t, form));
            f.width = width.get();
            f.show_title = titled;
            Some(f)
        })
    };
    let save_svg = move |_| {
        if let Some(f) = untrack(|| figure(true)) {
            model.save("leastcatch-inventory.svg", "image/svg+xml", &f.svg());
        }
    };
    let save_csv = move |_| {
        let csv = told.with_untracked(|t| t.as_ref().and_then(drawn).map(paper::inventory_csv));
        if let Some(csv) = csv {
            model.save("leastcatch-inventory.csv", "text/csv", &csv);
        }
    };
    view! {
            <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="inventory-curve" node_ref=frame inner_html=move || figure(false).map_or(String::new(), |f| f.svg_unstyled())></div>
            <p class="buttons">
                <button type="button" id="inventory-svg" on:click=save_svg>{reading::SVG}</button>
    {super::reading::png(model, "inventory-curve")}
                <button type="button" id="inventory-csv" on:click=save_csv>{reading::CSV}</button>
            </p>
            <details>
                <summary>{words::READ}</summary>
                <div class="scroll" tabindex="0" role="region" aria-label=words::TABLE inner_html=move || told.with(|t| t.as_ref().map_or(String::new(), |t| {
                    [&t.individuals, &t.incidences].into_iter().flatten().map(|f| paper::inventory_table(f).html()).collect()
                }))></div>
            </details>
        }
}

/// What further trap-weeks add.
fn gains(model: Model, told: Memo<Option<Report>>, further: RwSignal<u32>) -> impl IntoView {
    let strata =
        Memo::new(move |_| told.with(|t| t.as_ref().is_some_and(|t| !t.next_trap_week.is_empty())));
    move || {
        strata.get().then(|| {
            let (input, problem) = whole::input(
                model,
                "inventory-further",
                || (1, 10_000),
                move || u64::from(further.get()),
                move |v| further.set(u32::try_from(v).unwrap_or(u32::MAX)),
            );
            view! {
                <div class="scroll" tabindex="0" role="region" aria-label=words::GAIN_TABLE id="inventory-gain"
                    inner_html=move || told.with(|t| t.as_ref().map_or(String::new(), |t| paper::gain_table(t).html()))></div>
                <p class="settings">
                    <label>{words::FURTHER}
                        {input}
                    </label>
                    {problem}
                </p>
                <ul class="fits" id="inventory-shared">
                    {move || told.with(|t| t.as_ref().map(|t| sentences::further(t).into_iter().map(|l| view! { <li>{l}</li> }).collect_view()))}
                </ul>
            }
        })
    }
}

/// A species table, opened or pasted.
fn table(model: Model) -> impl IntoView {
    let picker = NodeRef::<Input>::new();
    let pasted = NodeRef::<Textarea>::new();
    let open = move |_| {
        let Some(input) = picker.get_untracked() else {
            return;
        };
        let Some(file) = chosen(&input) else { return };
        spawn_local(async move {
            match bytes(&file).await {
                Ok(table) => take(model, &file.name(), &table),
                Err(problem) => refuse(model, vec![problem]),
            }
            // So that the same file can be opened again after mending it.
            input.set_value("");
        });
    };
    let paste = move |_| {
        if let Some(area) = pasted.get_untracked() {
            take(model, words::PASTED_FILE, area.value().as_bytes());
        }
    };
    view! {
        <details>
            <summary>{words::OWN}</summary>
            <p class="aside">
                {words::FORMAT}
            </p>
            <p class="buttons">
                <label class="button">{words::OPEN}
                    <input type="file" id="open-species" accept=".csv,.tsv,.txt,text/csv" node_ref=picker on:change=open />
                </label>
            </p>
            <textarea class="notes" id="species-table" aria-label=words::PASTED rows="5" node_ref=pasted></textarea>
            <p class="buttons"><button type="button" id="use-species" on:click=paste>{words::USE_PASTED}</button></p>
        </details>
    }
}
