//! A move of the optimum, or of an edge of the range, along a gradient.

use super::{Kind, direction, errors, number, target};
use crate::state::Model;
use crate::words::question::{self as shared, range_shift as words};
use engine::scenario::{
    Analysis, Effect, GradientUnit, Likelihood, Placing, RangePart, RangeShift, Scenario, Transect,
    edge_placeholder, gradient_placeholder,
};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "range_shift",
    label: words::LABEL,
    begin,
    part,
    aside: words::ASIDE,
};

fn begin(s: &mut Scenario) {
    s.question.effect = Effect::RangeShift(RangeShift {
        distance_per_decade: 110.0,
        of: RangePart::Optimum,
    });
    s.premises.gradient.get_or_insert_with(gradient_placeholder);
    place(s);
}

/// A transect about the place that moves.
fn place(s: &mut Scenario) {
    let Some(moving) = s.moving(1) else { return };
    let widths = if s.edge().is_some() { 5.0 } else { 2.0 };
    s.plan.transect = Some(Transect {
        lowest: moving.first - widths * moving.width,
        highest: moving.first + widths * moving.width,
        placing: Placing::Even,
    });
}

/// Turns to the move of another part of the range; what the scenario lacks begins as a guess.
fn set_part(s: &mut Scenario, of: RangePart) {
    let Effect::RangeShift(shift) = &mut s.question.effect else {
        return;
    };
    let was_optimum = shift.of.is_optimum();
    shift.of = of;
    if was_optimum == of.is_optimum() {
        return;
    }
    let usual = gradient_placeholder();
    let g = s.premises.gradient.get_or_insert_with(gradient_placeholder);
    if of.is_optimum() {
        (g.optimum, g.tolerance, g.edge) = (usual.optimum, usual.tolerance, None);
        s.analysis = Analysis::default();
    } else {
        (g.optimum, g.tolerance, g.edge) = (None, None, Some(edge_placeholder()));
        // Restricted likelihood pulls a ratio of yes and no away from 0.
        s.analysis = Analysis {
            likelihood: Likelihood::Maximum,
            ..Analysis::default()
        };
    }
    place(s);
}

fn part(model: Model) -> AnyView {
    let unit = Memo::new(move |_| {
        model
            .scenario
            .with(|s| s.premises.gradient.as_ref().map(|g| g.unit))
    });
    let of = Memo::new(move |_| {
        model.scenario.with(|s| match &s.question.effect {
            Effect::RangeShift(shift) => shift.of,
            _ => RangePart::Optimum,
        })
    });
    let parts = [
        ("optimum", words::OPTIMUM, RangePart::Optimum),
        ("upper_edge", words::UPPER_EDGE, RangePart::UpperEdge),
        ("lower_edge", words::LOWER_EDGE, RangePart::LowerEdge),
    ];
    view! {
        {words::OF_THE}
        <select
            id="range-part"
            aria-label=words::PART
            on:change=move |event| {
                let key = event_target_value(&event);
                if let Some((_, _, of)) = parts.iter().find(|(k, _, _)| *k == key) {
                    model.edit(|s| set_part(s, *of));
                }
            }
        >
            {parts.map(|(key, name, part)| view! {
                <option value=key prop:selected=move || of.get() == part>{name}</option>
            }).into_iter().collect_view()}
        </select>
        {shared::OF}
        {target(model)}
        {words::BY}
        {number(model, "question.effect.range_shift.distance_per_decade", words::SHIFT, 1.0)}
        " "
        <select
            id="gradient-unit"
            aria-label=words::GRADIENT
            on:change=move |event| {
                let unit = if event_target_value(&event) == "m" { GradientUnit::Metres } else { GradientUnit::Kilometres };
                model.edit(|s| {
                    if let Some(g) = &mut s.premises.gradient {
                        g.unit = unit;
                    }
                });
            }
        >
            <option value="m" prop:selected=move || unit.get() == Some(GradientUnit::Metres)>{words::UPWARDS}</option>
            <option value="km" prop:selected=move || unit.get() == Some(GradientUnit::Kilometres)>{words::NORTHWARDS}</option>
        </select>
        {words::A_DECADE}
        {direction(model, words::EITHER_MOVE, words::ONLY_THIS_WAY)}
        ","
        {errors(model)}
    }
    .into_any()
}
