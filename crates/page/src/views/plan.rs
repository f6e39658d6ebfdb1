//! The plan, its limits and its analysis.

use super::binding;
use super::field::control;
use crate::state::Model;
use engine::scenario::{Analysis, Counts, Effect, Known, Likelihood, Rows, Test, TrapPoints};
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
                vec![("the same every year", TrapPoints::Same), ("new every year (they add to the scatter)", TrapPoints::NewEachYear)],
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
    options: Vec<(&'static str, T)>,
    get: impl Fn() -> T + Copy + Send + Sync + 'static,
    set: impl Fn(T) + 'static,
) -> impl IntoView {
    let shown = options.clone();
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
                {shown
                    .into_iter()
                    .map(|(name, value)| view! { <option value=name prop:selected=move || get() == value>{name}</option> })
                    .collect_view()}
            </select>
        </div>
    }
}

/// Sets the test, and the likelihood where the test is made for one alone.
fn set_test(analysis: &mut Analysis, test: Test) {
    // The likelihood ratio brought maximum likelihood along, and takes it away again.
    if analysis.test == Test::LikelihoodRatio {
        analysis.likelihood = Likelihood::Restricted;
    }
    analysis.test = test;
    match test {
        Test::LikelihoodRatio => analysis.likelihood = Likelihood::Maximum,
        Test::Satterthwaite => analysis.likelihood = Likelihood::Restricted,
        Test::AnnualIndex => {
            analysis.rows = Rows::SiteYears;
            analysis.knows.remove(&Known::SharedWeeks);
        }
        Test::Calibrated | Test::T | Test::Z => {}
    }
}

/// A box for something the analysis may be told of.
fn told(model: Model, of: Known) -> impl IntoView {
    let id = format!("told-{}", sentences::known(of).replace([' ', '\''], "-"));
    let set = move |on: bool| {
        model.edit(|s| {
            if on {
                s.analysis.knows.insert(of);
                if of == Known::SharedWeeks {
                    s.analysis.rows = Rows::Weeks;
                    if s.analysis.test == Test::AnnualIndex {
                        s.analysis.test = Test::Calibrated;
                    }
                }
            } else {
                s.analysis.knows.remove(&of);
            }
        });
    };
    view! {
        <label class="told-line">
            <input
                type="checkbox"
                id=id
                prop:checked=move || model.scenario.with(|s| s.analysis.knows.contains(&of))
                on:change=move |e| set(event_target_checked(&e))
            />
            <span>{format!("{}: {}", sentences::known(of), sentences::how_told(of))}</span>
        </label>
    }
}

fn analysis(model: Model) -> impl IntoView {
    let scenario = model.scenario;
    let decline =
        Memo::new(move |_| scenario.with(|s| matches!(s.question.effect, Effect::Decline(_))));
    let tests = move || {
        let offered = |t: &Test| *t != Test::AnnualIndex || decline.get();
        let named = |t| (sentences::test(t), t);
        Test::ALL
            .into_iter()
            .filter(offered)
            .map(named)
            .collect::<Vec<_>>()
    };
    view! {
        <p class="aside">
            "Mixed model of the counts with sites and years as random effects and log trap-weeks as offset, fitted by Laplace's approximation."
        </p>
        {choice("analysis-counts", "law of the counts",
            vec![("negative binomial", Counts::NegativeBinomial), ("Poisson", Counts::Poisson)],
            move || scenario.with(|s| s.analysis.counts),
            move |v| model.edit(|s| s.analysis.counts = v))}
        {choice("analysis-likelihood", "likelihood",
            vec![("restricted", Likelihood::Restricted), ("maximum", Likelihood::Maximum)],
            move || scenario.with(|s| s.analysis.likelihood),
            move |v| model.edit(|s| s.analysis.likelihood = v))}
        {choice("analysis-rows", "rows of the analysis",
            vec![("site-year totals", Rows::SiteYears), ("weekly counts of a site", Rows::Weeks)],
            move || scenario.with(|s| s.analysis.rows),
            move |v| model.edit(|s| {
                s.analysis.rows = v;
                if v == Rows::SiteYears {
                    s.analysis.knows.remove(&Known::SharedWeeks);
                }
            }))}
        {move || choice("analysis-test", "test", tests(),
            move || scenario.with(|s| s.analysis.test),
            move |v| model.edit(|s| set_test(&mut s.analysis, v)))}
        <p class="aside">{move || scenario.with(|s| sentences::about_test(s.analysis.test))}</p>
        <fieldset class="told">
            <legend>"The analysis is told of"</legend>
            {Known::ALL.map(|of| told(model, of))}
        </fieldset>
    }
}
