//! The question as a sentence whose numbers can be edited in place.

use super::binding;
use super::field::input;
use crate::state::Model;
use engine::scenario::{
    Decline, Direction, Effect, GradientUnit, RangeShift, Scenario, Transect, gradient_placeholder,
};
use leptos::prelude::*;

fn number(model: Model, path: &str, name: &str, scale: f64) -> Option<impl IntoView + use<>> {
    binding::of(path).map(|b| input(model, b, name.to_string(), scale))
}

/// Turns a scenario to the other question; what it lacks begins as a guess.
fn turn(s: &mut Scenario, shift: bool) {
    if shift {
        s.question.effect = Effect::RangeShift(RangeShift {
            distance_per_decade: 110.0,
        });
        let gradient = s.premises.gradient.get_or_insert_with(gradient_placeholder);
        let (optimum, tolerance) = (gradient.optimum.value, gradient.tolerance.value);
        s.plan.transect.get_or_insert(Transect {
            lowest: optimum - 2.0 * tolerance,
            highest: optimum + 2.0 * tolerance,
        });
        s.plan.sites = s.plan.sites.max(4);
        s.limits.sites = s.limits.sites.max(4);
    } else {
        s.question.effect = Effect::Decline(Decline {
            change_percent: 30.0,
            over_years: 10.0,
        });
        s.premises.gradient = None;
        s.plan.transect = None;
    }
}

/// The sentence.
pub fn view(model: Model) -> impl IntoView {
    let shift = Memo::new(move |_| {
        model
            .scenario
            .with(|s| matches!(s.question.effect, Effect::RangeShift(_)))
    });
    view! {
        <section class="question" aria-labelledby="question-title">
            <h2 id="question-title">"The question"</h2>
            <p class="sentence">
                <select
                    id="question-kind"
                    aria-label="question"
                    on:change=move |event| {
                        let shift = event_target_value(&event) == "shift";
                        model.edit(|s| turn(s, shift));
                    }
                >
                    <option value="decline" prop:selected=move || !shift.get()>"Detect a fall"</option>
                    <option value="shift" prop:selected=move || shift.get()>"Detect a range shift"</option>
                </select>
                {move || if shift.get() { shift_part(model).into_any() } else { decline_part(model).into_any() }}
                " accepting false alarms in "
                {number(model, "question.significance", "accepted false alarms in per cent", 100.0)}
                " % of surveys in which nothing changes, with a wanted power of "
                {number(model, "question.wanted_power", "wanted power in per cent", 100.0)}
                " %."
            </p>
            {move || {
                shift.get().then(|| view! { <p class="aside">"The optimum is the place of the highest catch along the gradient; the catch falls off as a bell curve on both sides."</p> })
            }}
        </section>
    }
}

fn target(model: Model) -> impl IntoView {
    let name = Memo::new(move |_| model.scenario.with(|s| s.premises.target.name.clone()));
    view! {
        <input
            class="name"
            id="target-name"
            aria-label="target"
            size=move || name.with(|n| n.chars().count().clamp(6, 30)).to_string()
            prop:value=move || name.get()
            on:change=move |event| {
                let typed = event_target_value(&event);
                model.edit(|s| s.premises.target.name = typed);
            }
        />
    }
}

fn direction(model: Model, either: &'static str, stated: &'static str) -> impl IntoView {
    let is_either = Memo::new(move |_| {
        model
            .scenario
            .with(|s| s.question.direction == Direction::Either)
    });
    view! {
        <select
            id="question-direction"
            aria-label="direction"
            on:change=move |event| {
                let direction = if event_target_value(&event) == "either" { Direction::Either } else { Direction::Stated };
                model.edit(|s| s.question.direction = direction);
            }
        >
            <option value="either" prop:selected=move || is_either.get()>{either}</option>
            <option value="stated" prop:selected=move || !is_either.get()>{stated}</option>
        </select>
    }
}

fn decline_part(model: Model) -> impl IntoView {
    let yearly = move || {
        model.scenario.with(|s| match &s.question.effect {
            Effect::Decline(d) => format!("{:.2}", d.percent_a_year()),
            Effect::RangeShift(_) => String::new(),
        })
    };
    view! {
        " of "
        {number(model, "question.effect.decline.change_percent", "fall in per cent", 1.0)}
        " % in "
        {target(model)}
        " over "
        {number(model, "question.effect.decline.over_years", "years over which it falls", 1.0)}
        " years (" {yearly} " % a year), where "
        {direction(model, "a change either way counts", "only a fall counts")}
        ","
    }
}

fn shift_part(model: Model) -> impl IntoView {
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
    }
}
