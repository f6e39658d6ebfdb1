//! The plan, its limits and its analysis.

use super::binding;
use super::field::control;
use super::limits;
use super::tick::tick;
use crate::state::Model;
use crate::words::{analysis, plan as words};
use engine::scenario::{
    Analysis, Counts, Detection, EdgeBy, Known, Likelihood, Placing, Premise, Rows, Scenario,
    Scheme, Seasons, Source, Test, TrapPoints,
};
use leptos::prelude::*;
use paper::sentences;

pub(super) fn fields(model: Model, paths: &[&str]) -> impl IntoView {
    paths
        .iter()
        .filter_map(|p| binding::of(p))
        .map(|b| control(model, b))
        .collect_view()
}

/// The controls.
pub fn view(model: Model) -> impl IntoView {
    let has = move |part: fn(&Scenario) -> bool| Memo::new(move |_| model.scenario.with(part));
    let gradient = has(|s| s.plan.transect.is_some());
    let groups = has(|s| s.plan.groups.is_some());
    let visits = has(|s| s.plan.visits.is_some());
    view! {
        <div>
            <p class="aside" id="plan-phrase">{move || model.scenario.with(|s| sentences::plan(&s.plan))}</p>
            {fields(model, &["plan.sites", "plan.traps_per_site", "plan.first_week", "plan.weeks", "plan.exposure_days", "plan.years"])}
            {super::revisit::controls(model)}
            {choice("plan-trap-points", words::TRAP_POINTS,
                vec![(words::SAME_POINTS, TrapPoints::Same), (words::NEW_POINTS, TrapPoints::NewEachYear)],
                move || model.scenario.with(|s| s.plan.trap_points),
                move |v| model.edit(|s| s.plan.trap_points = v))}
            {move || gradient.get().then(|| along(model))}
            {move || groups.get().then(|| divided(model))}
            {move || visits.get().then(|| visited(model))}
            {limits::view(model)}
            <details>
                <summary>{words::ANALYSIS}</summary>
                {analysis(model)}
            </details>
        </div>
    }
}

pub(super) fn choice<T: Copy + PartialEq + Send + Sync + 'static>(
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

/// Where sites stand along a gradient.
fn along(model: Model) -> impl IntoView {
    let placing = move || {
        let transect = model.scenario.with(|s| s.plan.transect.clone());
        transect.map_or(Placing::Even, |t| t.placing)
    };
    let named = |p| (sentences::placing(p), p);
    // Where places are listed, that list is shown in its stead.
    let listed = Memo::new(move |_| placing() == Placing::Listed);
    view! {
        {fields(model, &["plan.transect.lowest", "plan.transect.highest"])}
        {move || (!listed.get()).then(|| choice("plan-placing", words::PLACING, Placing::ALL.map(named).to_vec(),
            placing,
            move |v| model.edit(|s| if let Some(t) = &mut s.plan.transect { t.placing = v; })))}
    }
}

/// How sites are divided into two groups.
fn divided(model: Model) -> impl IntoView {
    let paired = Memo::new(move |_| {
        model
            .scenario
            .with(|s| s.plan.groups.as_ref().is_some_and(|g| g.paired))
    });
    let pair = move |s: &mut Scenario, on: bool| {
        let Some(g) = &mut s.plan.groups else { return };
        g.paired = on;
        if on {
            g.treated_share = 0.5;
            // Pairs come in twos.
            s.plan.sites = s.plan.sites.next_multiple_of(2).max(4);
            s.limits.sites = s.limits.sites.max(4);
        }
        s.premises.pair_correlation = on.then(|| Premise::new(0.4, Source::Guess));
    };
    view! {
        {move || (!paired.get()).then(|| fields(model, &["plan.groups.treated_share"]))}
        {choice("plan-paired", words::TREATED,
            vec![(words::ALONE, false), (words::PAIRED, true)],
            move || paired.get(),
            move |v| model.edit(|s| pair(s, v)))}
    }
}

/// How sites are visited.
fn visited(model: Model) -> impl IntoView {
    let of = move |s: &Scenario| s.plan.visits.clone();
    let scheme = move || {
        let visits = model.scenario.with(of);
        visits.map_or(Scheme::Standard, |v| v.scheme)
    };
    let seasons = move || {
        let visits = model.scenario.with(of);
        visits.map_or(Seasons::EveryYear, |v| v.seasons)
    };
    view! {
        {choice("plan-scheme", words::SCHEME,
            vec![
                (words::STANDARD, Scheme::Standard),
                (words::REMOVAL, Scheme::Removal),
                (words::CONDITIONAL, Scheme::Conditional),
            ],
            scheme,
            move |v| model.edit(|s| if let Some(visits) = &mut s.plan.visits { visits.scheme = v; }))}
        {choice("plan-seasons", words::SEASONS,
            vec![(words::FIRST_AND_LAST, Seasons::FirstAndLast), (words::EVERY_YEAR, Seasons::EveryYear)],
            seasons,
            move |v| model.edit(|s| {
                if let Some(visits) = &mut s.plan.visits {
                    visits.seasons = v;
                }
                s.plan.years = if v == Seasons::FirstAndLast { 2 } else { s.plan.years.max(10) };
            }))}
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
    tick(
        id,
        analysis::told(sentences::known(of), sentences::how_told(of)),
        move || model.scenario.with(|s| s.analysis.knows.contains(&of)),
        set,
    )
}

fn analysis(model: Model) -> impl IntoView {
    let key = Memo::new(move |_| model.scenario.with(|s| s.question.effect.key()));
    let edge = Memo::new(move |_| model.scenario.with(|s| s.edge().is_some()));
    move || match key.get() {
        "range_shift" if edge.get() => of_edge(model).into_any(),
        "occupancy" => of_occupancy(model).into_any(),
        "absence" => view! {
            <p class="aside">{analysis::OF_ABSENCE}</p>
        }
        .into_any(),
        "baseline" => view! {
            <p class="aside">{sentences::INTERVAL}</p>
        }
        .into_any(),
        "inventory" => view! {
            <p class="aside">{analysis::OF_INVENTORY}</p>
        }
        .into_any(),
        _ => of_counts(model).into_any(),
    }
}

/// Of an edge: seen by presence, or by detection.
fn of_edge(model: Model) -> impl IntoView {
    let by = Memo::new(move |_| model.scenario.with(|s| s.analysis.edge));
    // Each has its own tests; maximum likelihood goes with presence alone.
    let set = move |edge: EdgeBy| {
        model.edit(|s| {
            s.analysis = Analysis {
                edge,
                likelihood: match edge {
                    EdgeBy::Presence => Likelihood::Maximum,
                    EdgeBy::Detection => Likelihood::Restricted,
                },
                ..Analysis::default()
            };
        });
    };
    view! {
        {choice("analysis-edge", analysis::EDGE,
            vec![
                (analysis::BY_PRESENCE, EdgeBy::Presence),
                (analysis::BY_DETECTION, EdgeBy::Detection),
            ],
            move || by.get(),
            set)}
        {move || if by.get() == EdgeBy::Detection {
            of_occupancy(model).into_any()
        } else {
            of_presence(model).into_any()
        }}
    }
}

fn of_presence(model: Model) -> impl IntoView {
    let scenario = model.scenario;
    let named = |t| (sentences::test(t), t);
    let tests = [
        Test::Calibrated,
        Test::T,
        Test::Satterthwaite,
        Test::Z,
        Test::LikelihoodRatio,
    ]
    .map(named);
    view! {
        <p class="aside">
            {analysis::OF_PRESENCE}
        </p>
        {choice("analysis-likelihood", analysis::LIKELIHOOD,
            vec![(analysis::RESTRICTED, Likelihood::Restricted), (analysis::MAXIMUM, Likelihood::Maximum)],
            move || scenario.with(|s| s.analysis.likelihood),
            move |v| model.edit(|s| s.analysis.likelihood = v))}
        {choice("analysis-test", analysis::TEST, tests.to_vec(),
            move || scenario.with(|s| s.analysis.test),
            move |v| model.edit(|s| match v {
                Test::LikelihoodRatio | Test::Satterthwaite => set_test(&mut s.analysis, v),
                // Maximum likelihood stays where it is.
                _ => s.analysis.test = v,
            }))}
        <p class="aside">{move || scenario.with(|s| sentences::about_test(s.analysis.test))}</p>
    }
}

fn of_occupancy(model: Model) -> impl IntoView {
    let scenario = model.scenario;
    let named = |t| (sentences::test(t), t);
    let tests = [Test::Calibrated, Test::Z, Test::LikelihoodRatio].map(named);
    view! {
        <p class="aside">
            {analysis::OF_OCCUPANCY}
        </p>
        {choice("analysis-detection", analysis::DETECTION,
            vec![
                (analysis::EACH_YEAR, Detection::EachYear),
                (analysis::CONSTANT, Detection::Constant),
                (analysis::VARYING, Detection::Varying),
            ],
            move || scenario.with(|s| s.analysis.detection),
            move |v| model.edit(|s| s.analysis.detection = v))}
        {choice("analysis-test", analysis::TEST, tests.to_vec(),
            move || scenario.with(|s| s.analysis.test),
            move |v| model.edit(|s| s.analysis.test = v))}
        <p class="aside">{move || scenario.with(|s| sentences::about_test(s.analysis.test))}</p>
    }
}

fn of_counts(model: Model) -> impl IntoView {
    let scenario = model.scenario;
    let trend = Memo::new(move |_| scenario.with(|s| s.question.effect.is_trend()));
    let tests = move || {
        let offered = |t: &Test| *t != Test::AnnualIndex || trend.get();
        let named = |t| (sentences::test(t), t);
        Test::ALL
            .into_iter()
            .filter(offered)
            .map(named)
            .collect::<Vec<_>>()
    };
    view! {
        <p class="aside">
            {analysis::OF_COUNTS}
        </p>
        {choice("analysis-counts", analysis::COUNTS,
            vec![(analysis::NEGATIVE_BINOMIAL, Counts::NegativeBinomial), (analysis::POISSON, Counts::Poisson)],
            move || scenario.with(|s| s.analysis.counts),
            move |v| model.edit(|s| s.analysis.counts = v))}
        {choice("analysis-likelihood", analysis::LIKELIHOOD,
            vec![(analysis::RESTRICTED, Likelihood::Restricted), (analysis::MAXIMUM, Likelihood::Maximum)],
            move || scenario.with(|s| s.analysis.likelihood),
            move |v| model.edit(|s| s.analysis.likelihood = v))}
        {choice("analysis-rows", analysis::ROWS,
            vec![(analysis::SITE_YEARS, Rows::SiteYears), (analysis::WEEKS, Rows::Weeks)],
            move || scenario.with(|s| s.analysis.rows),
            move |v| model.edit(|s| {
                s.analysis.rows = v;
                if v == Rows::SiteYears {
                    s.analysis.knows.remove(&Known::SharedWeeks);
                }
            }))}
        {move || choice("analysis-test", analysis::TEST, tests(),
            move || scenario.with(|s| s.analysis.test),
            move |v| model.edit(|s| set_test(&mut s.analysis, v)))}
        <p class="aside">{move || scenario.with(|s| sentences::about_test(s.analysis.test))}</p>
        <fieldset class="told">
            <legend>{analysis::TOLD}</legend>
            {Known::ALL.map(|of| told(model, of))}
        </fieldset>
    }
}
