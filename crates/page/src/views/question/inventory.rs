//! The inventory of a community.

use super::{Kind, number, target};
use crate::state::Model;
use engine::scenario::{Effect, Inventory, Recorded, Scenario, read};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "inventory",
    label: "Make an inventory",
    begin,
    part,
    aside: "A survey answers when it has truly recorded the wanted share of the community that the pilot makes one believe in, completed for species not seen. The survey stands by itself: the pilot's own catch is not counted. Species have the same shares at all sites and weeks.",
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
        " of "
        {target(model)}
        " until "
        {number(model, "question.effect.inventory.wanted_share", "share to be recorded in per cent", 100.0)}
        " % of "
        <select
            id="inventory-of"
            aria-label="what the share is of"
            on:change=move |event| {
                let of = if event_target_value(&event) == "species" { Recorded::Species } else { Recorded::Coverage };
                model.edit(|s| if let Effect::Inventory(i) = &mut s.question.effect { i.of = of; });
            }
        >
            <option value="coverage" prop:selected=move || of.get() == Recorded::Coverage>"the individuals belong to recorded species"</option>
            <option value="species" prop:selected=move || of.get() == Recorded::Species>"the species reckoned to be there are recorded"</option>
        </select>
        ", with a wanted power of "
        {number(model, "question.wanted_power", "wanted power in per cent", 100.0)}
        " %, accepting that "
        {number(model, "question.significance", "accepted false claims in per cent", 100.0)}
        " % of surveys claim it by their own estimate without having reached it."
    }
    .into_any()
}
