//! The plan, its limits and its analysis.

use super::binding;
use super::field::control;
use crate::state::Model;
use engine::scenario::{Counts, Likelihood, Reference, TrapPoints};
use leptos::prelude::*;
use paper::sentences;

fn fields(model: Model, paths: &[&str]) -> impl IntoView {
    paths
        .iter()
        .filter_map(|p| binding::of(p))
        .map(|b| control(model, b))
        .collect_view()
}

/// The controls.
pub fn view(model: Model) -> impl IntoView {
    let gradient = Memo::new(move |_| model.scenario.with(|s| s.plan.transect.is_some()));
    view! {
        <section aria-labelledby="plan-title">
            <h2 id="plan-title">"The plan"</h2>
            <p class="aside" id="plan-phrase">{move || model.scenario.with(|s| sentences::plan(&s.plan))}</p>
            {fields(model, &["plan.sites", "plan.traps_per_site", "plan.first_week", "plan.weeks", "plan.exposure_days", "plan.years"])}
            {choice("plan-trap-points", "trap points",
                [("the same every year", TrapPoints::Same), ("new every year (they add to the scatter)", TrapPoints::NewEachYear)],
                move || model.scenario.with(|s| s.plan.trap_points),
                move |v| model.edit(|s| s.plan.trap_points = v))}
            {move || gradient.get().then(|| fields(model, &["plan.transect.lowest", "plan.transect.highest"]))}
            <details>
                <summary>"Limits of the search for the least plan"</summary>
                {fields(model, &["limits.sites", "limits.traps_per_site", "limits.weeks"])}
            </details>
            <details>
                <summary>"Analysis"</summary>
                {analysis(model)}
            </details>
        </section>
    }
}

fn choice<T: Copy + PartialEq + Send + Sync + 'static>(
    id: &'static str,
    label: &'static str,
    options: [(&'static str, T); 2],
    get: impl Fn() -> T + Copy + Send + Sync + 'static,
    set: impl Fn(T) + 'static,
) -> impl IntoView {
    view! {
        <div class="control">
            <label for=id>{label}</label>
            <select
                id=id
                on:change=move |event| {
                    let word = event_target_value(&event);
                    if let Some((_, value)) = options.iter().find(|(name, _)| *name == word) {
                        set(*value);
                    }
                }
            >
                {options.map(|(name, value)| view! { <option value=name prop:selected=move || get() == value>{name}</option> })}
            </select>
        </div>
    }
}

fn analysis(model: Model) -> impl IntoView {
    let scenario = model.scenario;
    view! {
        <p class="aside">
            "Mixed model of site-year totals with sites and years as random effects and log trap-weeks as offset, fitted by Laplace's approximation; Wald test."
        </p>
        {choice("analysis-counts", "law of the counts",
            [("negative binomial", Counts::NegativeBinomial), ("Poisson", Counts::Poisson)],
            move || scenario.with(|s| s.analysis.counts),
            move |v| model.edit(|s| s.analysis.counts = v))}
        {choice("analysis-likelihood", "likelihood",
            [("restricted", Likelihood::Restricted), ("maximum", Likelihood::Maximum)],
            move || scenario.with(|s| s.analysis.likelihood),
            move |v| model.edit(|s| s.analysis.likelihood = v))}
        {choice("analysis-reference", "reference distribution",
            [("t", Reference::T), ("normal (too many false alarms when years are few)", Reference::Z)],
            move || scenario.with(|s| s.analysis.reference),
            move |v| model.edit(|s| s.analysis.reference = v))}
    }
}
