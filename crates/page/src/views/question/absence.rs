//! The claim that the target is not there.

use super::{Kind, number, target};
use crate::state::Model;
use engine::scenario::{Absence, Effect, Scenario};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "absence",
    label: "Show that there are none",
    begin,
    part,
    aside: "The density is the mean catch of a trap-week at the season's peak over all sites, were the target there. Finding none never proves absence: it excludes densities. Where animals must be reported by law, the authority decides how they are looked for.",
};

fn begin(s: &mut Scenario) {
    let usual = s.premises.target.catch_per_trap_week.value;
    s.question.effect = Effect::Absence(Absence {
        // A hundredth of the usual catch.
        catch_per_trap_week: (usual / 100.0).clamp(0.000_001, 100_000.0),
    });
}

fn part(model: Model) -> AnyView {
    view! {
        " of "
        {target(model)}
        " at a density of "
        {number(model, "question.effect.absence.catch_per_trap_week", "density to exclude, animals a trap-week", 1.0)}
        " a trap-week or more, with a confidence of "
        {number(model, "question.wanted_power", "confidence in per cent", 100.0)}
        " %."
    }
    .into_any()
}
