//! How many of several species must be answered, and how false alarms over the list are held.

use super::number;
use crate::state::Model;
use crate::words::question::several as words;
use engine::scenario::Control;
use leptos::prelude::*;
use paper::sentences;

/// The sentence below the question; nothing when one species is asked about.
pub(super) fn aside(model: Model) -> impl IntoView {
    let species = Memo::new(move |_| {
        model.scenario.with(|s| {
            let several = s.question.several.is_some();
            several.then(|| 1 + s.premises.others.len())
        })
    });
    let control = Memo::new(move |_| {
        model
            .scenario
            .with(|s| s.question.several.map(|l| l.control))
    });
    let there = Memo::new(move |_| species.with(Option::is_some));
    move || {
        there.get().then(|| view! {
            <p class="sentence" id="several-question">
                {words::SAME_OF} {move || species.get()} {words::SPECIES_OF_WHICH}
                {number(model, "question.several.answered_share", words::ANSWERED, 100.0)}
                {words::CONTROLLED_BY}
                <select id="several-control" aria-label=words::CONTROL on:change=move |event| {
                    let key = event_target_value(&event);
                    if let Some(control) = Control::ALL.into_iter().find(|c| c.key() == key) {
                        model.edit(|s| {
                            if let Some(several) = &mut s.question.several {
                                several.control = control;
                            }
                        });
                    }
                }>
                    {Control::ALL.map(|c| view! {
                        <option value=c.key() prop:selected=move || control.get() == Some(c)>{sentences::control(c)}</option>
                    })}
                </select>
                "."
            </p>
            <p class="aside">{move || control.get().map(sentences::about_control)}</p>
        })
    }
}
