//! Scenario files in and out, and the demos.

use super::{drop, steps};
use crate::browser::{bytes, chosen};
use crate::demos::{NAMES, is_title_of_demo};
use crate::state::{Model, Notice};
use crate::words::{files as words, undo};
use engine::pilot::{self, Options};
use engine::scenario::{read, write};
use figures::locale::retold;
use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;
use paper::sentences;

fn refuse(model: Model, lines: Vec<String>) {
    model.notice.set(Some(Notice { bad: true, lines }));
}

/// Takes the text of a scenario (a file's name, the text, the step's name), or says what is wrong with it and leaves the
/// page as it was. Whether it was taken.
pub fn take(model: Model, name: &str, text: &str, step: &str) -> bool {
    match read(text) {
        Err(fault) => {
            let mut lines = vec![words::fault_of(name, &fault.to_string())];
            if name.to_lowercase().ends_with(".csv") {
                lines.push(words::LOOKS_LIKE_A_TABLE.into());
            }
            refuse(model, lines);
        }
        Ok(scenario) => match scenario.clone().check() {
            Err(faults) => refuse(
                model,
                faults
                    .iter()
                    .map(|f| words::fault_of(name, &f.to_string()))
                    .collect(),
            ),
            Ok(_) => {
                model.load(scenario, step);
                return true;
            }
        },
    }
    false
}

/// Takes a scenario file's bytes, and goes on with `then` if they were taken.
pub(super) fn take_bytes(
    model: Model,
    name: String,
    bytes: Vec<u8>,
    then: impl FnOnce(&str) + 'static,
) {
    match String::from_utf8(bytes) {
        Ok(text) => model.with_apart(move |rest| {
            if (rest.take)(model, &name, &text, &undo::file_step(&name)) {
                then(&name);
            }
        }),
        Err(_) => refuse(model, vec![words::no_text(&name)]),
    }
}

/// [`learn`] by the file it comes in.
pub(super) fn learn_apart(model: Model, name: String, table: Vec<u8>) {
    model.with_apart(move |rest| (rest.learn)(model, &name, &table));
}

/// Puts the premises of pilot catches into the scenario and says what the table told.
pub fn learn(model: Model, name: &str, table: &[u8]) {
    let options = Options {
        file: name.to_string(),
        ..Options::default()
    };
    match pilot::premises(table, &options) {
        Err(errors) => refuse(model, errors.iter().map(ToString::to_string).collect()),
        Ok(premises) => {
            let scenario = premises.into_scenario(model.scenario.get_untracked());
            match scenario.clone().check() {
                Err(faults) => {
                    refuse(
                        model,
                        faults
                            .iter()
                            .map(|f| words::with_premises(name, &f.to_string()))
                            .collect(),
                    );
                }
                Ok(_) => {
                    let inventions = scenario.inventions();
                    model.replace(scenario, undo::PILOT_STEP);
                    let read = words::premises_taken(
                        name,
                        premises.counts.rows,
                        premises.counts.sites,
                        premises.counts.years,
                    );
                    let lines = std::iter::once(read)
                        .chain(premises.notes.iter().map(|n| retold(n)))
                        .chain((inventions > 0).then(|| words::still_invented(inventions)))
                        .collect();
                    model.notice.set(Some(Notice { bad: false, lines }));
                }
            }
        }
    }
}

/// Makes the scenario one of the user's own, without what was invented for a demo, and says what that did. A title that
/// is no demo's stays.
pub fn own(model: Model) {
    let title = model.scenario.with_untracked(|s| s.title.clone());
    let title = if is_title_of_demo(&title) {
        words::OWN_TITLE
    } else {
        &title
    };
    match model.scenario.with_untracked(|s| s.own(title)) {
        Err(fault) => refuse(model, vec![fault.to_string()]),
        Ok(own) => {
            let lines = sentences::own(&own);
            if !own.is_unchanged() {
                model.load(own.scenario, undo::OWN_STEP);
            }
            model.notice.set(Some(Notice { bad: false, lines }));
        }
    }
}

/// A file name made of the title's letters and digits.
fn file_name(title: &str) -> String {
    let parts: Vec<&str> = title
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .take(6)
        .collect();
    let name = parts.join("-").to_lowercase();
    if name.is_empty() {
        "leastcatch-scenario.json".into()
    } else {
        format!("{name}.json")
    }
}

/// Demos, open, save.
pub fn view(model: Model) -> impl IntoView {
    let picker = NodeRef::<Input>::new();
    let open = move |_| {
        let Some(input) = picker.get_untracked() else {
            return;
        };
        let Some(file) = chosen(&input) else { return };
        spawn_local(async move {
            let name = file.name();
            match bytes(&file).await {
                Ok(content) => take_bytes(model, name, content, |_| {}),
                Err(problem) => refuse(model, vec![problem]),
            }
            // So that the same file can be opened again after mending it.
            input.set_value("");
        });
    };
    let pilot_picker = NodeRef::<Input>::new();
    let open_pilot = move |_| {
        let Some(input) = pilot_picker.get_untracked() else {
            return;
        };
        let Some(file) = chosen(&input) else { return };
        spawn_local(async move {
            match bytes(&file).await {
                Ok(table) => learn_apart(model, file.name(), table),
                Err(problem) => refuse(model, vec![problem]),
            }
            input.set_value("");
        });
    };
    let save_scenario = move |_| {
        let text = model.scenario.with_untracked(write);
        let name = model.scenario.with_untracked(|s| file_name(&s.title));
        model.save(&name, "application/json", &text);
    };
    let title = Memo::new(move |_| model.scenario.with(|s| s.title.clone()));
    let entitle = move |typed: String| {
        let typed = typed.lines().collect::<Vec<_>>().join(" ");
        model.edit(|s| s.title = typed);
    };
    let notes = Memo::new(move |_| model.scenario.with(|s| s.notes.clone()));
    view! {
        <nav class="files" aria-label=words::SCENARIO>
            // One line, but shown on as many as a narrow screen needs.
            <textarea class="title" id="scenario-title" aria-label=words::TITLE rows="1"
                prop:value=move || title.get()
                on:keydown=move |event| {
                    if event.key() == "Enter" && !event.is_composing() {
                        event.prevent_default();
                        entitle(event_target_value(&event));
                    }
                }
                on:change=move |event| entitle(event_target_value(&event))></textarea>
            <textarea class="notes" id="scenario-notes" aria-label=words::NOTES rows="2" placeholder=words::NOTES_HINT
                prop:value=move || notes.get()
                on:change=move |event| {
                    let typed = event_target_value(&event);
                    model.edit(|s| s.notes = typed);
                }></textarea>
            <p class="buttons">
                <label class="button">{words::OPEN}
                    <input type="file" id="open" accept=".json,application/json" node_ref=picker on:change=open />
                </label>
                <button type="button" id="save" on:click=save_scenario>{words::SAVE}</button>
                <label class="button">{words::PILOT}
                    <input type="file" id="open-pilot" accept=".csv,.tsv,.txt,text/csv" node_ref=pilot_picker on:change=open_pilot />
                </label>
                <select id="demo" aria-label=words::BEGIN_LIST on:change=move |event| {
                    let name = event_target_value(&event);
                    model.with_apart(move |rest| {
                        if name == words::OWN {
                            (rest.own)(model);
                        } else if let Some((name, text)) = rest.demos.iter().find(|d| d.0 == name) {
                            (rest.take)(model, name, text, &undo::demo_step(name));
                        }
                    });
                    // Back to the heading, so that the same demo can be loaded again.
                    event_target::<web_sys::HtmlSelectElement>(&event).set_selected_index(0);
                }>
                    <option value="" selected>{words::BEGIN}</option>
                    <optgroup label=words::DEMOS>
                        {NAMES.map(|name| view! { <option value=name>{name}</option> })}
                    </optgroup>
                    <optgroup label=words::YOURS>
                        <option value=words::OWN>{words::OWN}</option>
                    </optgroup>
                </select>
            </p>
            {steps::view(model)}
            {drop::view(model)}
        </nav>
    }
}
