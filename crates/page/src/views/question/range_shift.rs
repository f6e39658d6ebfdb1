//! A move of the optimum along a gradient.

use super::{Kind, direction, errors, number, target};
use crate::state::Model;
use engine::scenario::{
    Effect, GradientUnit, RangeShift, Scenario, Transect, gradient_placeholder,
};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "range_shift",
    label: "Detect a range shift",
    begin,
    part,
    aside: "The optimum is the place of the highest catch along the gradient; the catch falls off as a bell curve on both sides.",
};

fn begin(s: &mut Scenario) {
    s.question.effect = Effect::RangeShift(RangeShift {
        distance_per_decade: 110.0,
    });
    let gradient = s.premises.gradient.get_or_insert_with(gradient_placeholder);
    let (optimum, tolerance) = (gradient.optimum.value, gradient.tolerance.value);
    s.plan.transect = Some(Transect {
        lowest: optimum - 2.0 * tolerance,
        highest: optimum + 2.0 * tolerance,
    });
}

fn part(model: Model) -> AnyView {
    let unit = Memo::new(move |_| {
        model
            .scenario
            .with(|s| s.premises.gradient.as_ref().map(|g| g.unit))
    });
    view! {
        " of the optimum of "
        {target(model)}
        " by "
        {number(model, "question.effect.range_shift.distance_per_decade", "shift a decade", 1.0)}
        " "
        <select
            id="gradient-unit"
            aria-label="gradient"
            on:change=move |event| {
                let unit = if event_target_value(&event) == "m" { GradientUnit::Metres } else { GradientUnit::Kilometres };
                model.edit(|s| {
                    if let Some(g) = &mut s.premises.gradient {
                        g.unit = unit;
                    }
                });
            }
        >
            <option value="m" prop:selected=move || unit.get() == Some(GradientUnit::Metres)>"m upwards"</option>
            <option value="km" prop:selected=move || unit.get() == Some(GradientUnit::Kilometres)>"km northwards"</option>
        </select>
        " a decade, where "
        {direction(model, "a move either way counts", "only a move this way counts")}
        ","
        {errors(model)}
    }
    .into_any()
}
