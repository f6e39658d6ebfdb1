//! The inventory of a community.

use super::{Kind, number, target};
use crate::state::Model;
use crate::words::question::{self as shared, inventory as words};
use engine::scenario::{Effect, Inventory, Recorded, Scenario, read};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "inventory",
    label: words::LABEL,
    begin,
    part,
    aside: words::ASIDE,
};

fn begin(s: &mut Scenario) {
    s.question.effect = Effect::Inventory(Inventory {
        wanted_share: 0.95,
        of: Recorded::Coverage,
    });
    s.question.significance = s.question.significance.max(0.1);
    // An invented pilot to begin with, as the part on the inventory says.
    s.premises.community = read(include_str!(
        "../../../../../demo-data/meadow-inventory.json"
    ))
    .ok()
    .and_then(|demo| demo.premises.community);
}

fn part(model: Model) -> AnyView {
    let of = Memo::new(move |_| {
        model.scenario.with(|s| match &s.question.effect {
            Effect::Inventory(i) => i.of,
            _ => Recorded::Coverage,
        })
    });
    view! {
        {shared::OF}
        {target(model)}
        {words::UNTIL}
        {number(model, "question.effect.inventory.wanted_share", words::SHARE, 100.0)}
        {words::PER_CENT_OF}
        <select
            id="inventory-of"
            aria-label=words::SHARE_OF
            on:change=move |event| {
                let of = if event_target_value(&event) == "species" { Recorded::Species } else { Recorded::Coverage };
                model.edit(|s| if let Effect::Inventory(i) = &mut s.question.effect { i.of = of; });
            }
        >
            <option value="coverage" prop:selected=move || of.get() == Recorded::Coverage>{words::COVERAGE}</option>
            <option value="species" prop:selected=move || of.get() == Recorded::Species>{words::SPECIES}</option>
        </select>
        {shared::WITH_POWER}
        {number(model, "question.wanted_power", shared::WANTED_POWER, 100.0)}
        {words::ACCEPTING}
        {number(model, "question.significance", shared::FALSE_CLAIMS, 100.0)}
        {words::END}
    }
    .into_any()
}
