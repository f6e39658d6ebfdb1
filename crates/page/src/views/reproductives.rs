//! Whether reproductive animals are told apart, and their share.

use super::plan::fields;
use super::tick::tick;
use crate::state::Model;
use crate::words::premises as words;
use engine::scenario::{Premise, Reproductives, Scenario, Source};
use leptos::prelude::*;

/// A share of a half at the season's peak, half as wide as the season: the user's guess until it is replaced.
fn guessed(s: &Scenario) -> Reproductives {
    let guess = |v| Premise::new(v, Source::Guess);
    let t = &s.premises.target;
    Reproductives {
        share_at_peak: guess(0.5),
        peak_week: guess(t.season_peak_week.value),
        width_weeks: guess((0.5 * t.season_width_weeks.value).max(0.3)),
    }
}

/// The box with its numbers.
pub fn view(model: Model) -> impl IntoView {
    let given = Memo::new(move |_| {
        model
            .scenario
            .with(|s| s.premises.target.reproductives.is_some())
    });
    view! {
        {tick(
            "tell-reproductives".into(),
            words::REPRODUCTIVES.into(),
            move || given.get(),
            move |on| model.edit(|s| s.premises.target.reproductives = on.then(|| guessed(s))),
        )}
        {move || given.get().then(|| fields(model, &[
            "premises.target.reproductives.share_at_peak",
            "premises.target.reproductives.peak_week",
            "premises.target.reproductives.width_weeks",
        ]))}
    }
}
