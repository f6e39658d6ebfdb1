//! What is believed of the target.

use super::binding;
use super::departures;
use super::field::control;
use super::reproductives;
use crate::state::Model;
use crate::words::premises as words;
use engine::scenario::Scenario;
use leptos::prelude::*;

/// The controls.
pub fn view(model: Model) -> impl IntoView {
    let has = move |part: fn(&Scenario) -> bool| Memo::new(move |_| model.scenario.with(part));
    let gradient = has(|s| {
        let gradient = s.premises.gradient.as_ref();
        gradient.is_some_and(|g| g.edge.is_none())
    });
    let edge = has(|s| {
        let gradient = s.premises.gradient.as_ref();
        gradient.is_some_and(|g| g.edge.is_some())
    });
    let paired = has(|s| s.premises.pair_correlation.is_some());
    let occupancy = has(|s| s.premises.occupancy.is_some());
    let absence = has(|s| s.question.effect.key() == "absence");
    let fields = move |paths: &[&str]| {
        paths
            .iter()
            .filter_map(|p| binding::of(p))
            .map(|b| control(model, b))
            .collect_view()
    };
    view! {
        <div>
            <p class="aside">{words::ABOUT}</p>
            {move || (!absence.get()).then(|| fields(&["premises.target.catch_per_trap_week"]))}
            {move || absence.get().then(|| view! { <p class="aside">{words::OF_QUESTION}</p> })}
            {fields(&["premises.target.dispersion_k"])}
            {move || occupancy.get().then(|| fields(&["premises.occupancy.occupied", "premises.occupancy.left_each_year"]))}
            {move || paired.get().then(|| fields(&["premises.pair_correlation"]))}
            {move || edge.get().then(|| fields(&["premises.gradient.edge.place", "premises.gradient.edge.width", "premises.gradient.edge.redrawn_each_year"]))}
            {move || gradient.get().then(|| fields(&["premises.gradient.optimum", "premises.gradient.tolerance"]))}
            {fields(&[
                "premises.target.site_sd", "premises.target.year_sd", "premises.target.site_year_sd", "premises.target.trap_sd",
                "premises.target.season_peak_week", "premises.target.season_width_weeks", "premises.trap_loss",
            ])}
            {reproductives::view(model)}
            {super::revisit::missing(model)}
            {departures::view(model)}
        </div>
    }
}
