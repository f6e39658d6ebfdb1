//! The question as a sentence whose numbers can be edited in place.

mod absence;
mod baseline;
mod decline;
mod groups;
mod inventory;
mod no_worse;
mod occupancy;
mod parts;
mod range_shift;
mod several;

use super::apart::{self, Part};
use crate::state::{Apart, Model};
use crate::words::{page, question as words};
use engine::scenario::fields::find;
use engine::scenario::{Analysis, Direction, Effect, Scenario, Seasons, Test};
use leptos::prelude::*;
use paper::sentences;
use parts::{direction, number, target};
use web_sys::HtmlSelectElement;

/// One kind of question: how a scenario turns to it, and its part of the sentence.
pub struct Kind {
    /// Its key in the scenario's file.
    pub key: &'static str,
    /// How the sentence begins.
    label: &'static str,
    /// Gives a scenario what the question needs; what the scenario lacks begins as a guess.
    begin: fn(&mut Scenario),
    /// The middle of the sentence.
    part: fn(Model) -> AnyView,
    /// What stands below it.
    aside: &'static str,
}

/// All of them, in the order of the list.
const KINDS: [Kind; 9] = [
    decline::KIND,
    no_worse::KIND,
    groups::DIFFERENCE,
    groups::BEFORE_AFTER,
    occupancy::KIND,
    range_shift::KIND,
    absence::KIND,
    baseline::KIND,
    inventory::KIND,
];

/// Key, name and what stands below, of all of them: without what comes apart.
const TITLES: [(&str, &str, &str); 9] = {
    let mut titles = [("", "", ""); 9];
    let mut i = 0;
    while i < KINDS.len() {
        titles[i] = (KINDS[i].key, KINDS[i].label, KINDS[i].aside);
        i += 1;
    }
    titles
};

/// Asks another question, by its key.
pub fn ask(model: Model, key: &'static str) {
    if let Some(kind) = KINDS.iter().find(|k| k.key == key) {
        model.edit(|s| turn(s, kind));
    }
}

/// The middle of the sentence of the question that is asked.
pub fn middle(model: Model) -> Option<AnyView> {
    let key = model.scenario.with_untracked(|s| s.question.effect.key());
    let kind = KINDS.iter().find(|k| k.key == key)?;
    Some((kind.part)(model))
}

/// The wanted power with which a question begins: absence is claimed with confidence.
fn usual_power(key: &str) -> f64 {
    if key == "absence" { 0.95 } else { 0.8 }
}

/// Turns a scenario to another question: parts that belong to none but the old one are taken out, and an analysis that
/// does not go with the new one becomes the usual one.
fn turn(s: &mut Scenario, kind: &Kind) {
    // A wanted power that was the old question's usual one goes with it.
    if s.question.wanted_power == usual_power(s.question.effect.key()) {
        s.question.wanted_power = usual_power(kind.key);
    }
    if s.edge().is_some() {
        // An edge has an analysis of its own.
        s.analysis = Analysis::default();
    }
    let ends = s.plan.visits.as_ref();
    if let (Effect::Occupancy(o), Some(Seasons::FirstAndLast)) =
        (&s.question.effect, ends.map(|v| v.seasons))
    {
        // Between two years lie as many as the plan may need of the next question.
        let most = find("plan.years").map_or(2.0, |years| years.high);
        s.plan.years = o.over_years.round().clamp(2.0, most) as u32;
    }
    s.premises.gradient = None;
    s.premises.pair_correlation = None;
    s.premises.occupancy = None;
    s.premises.community = None;
    s.plan.transect = None;
    s.plan.groups = None;
    s.plan.visits = None;
    s.plan.stop_rule = None;
    s.plan.looks = None;
    // They may not go with the new question.
    s.limits.revisits.clear();
    s.limits.schemes.clear();
    s.limits.places.clear();
    s.plan.places.clear();
    (kind.begin)(s);
    let usual = Analysis::default();
    s.analysis.detection = usual.detection;
    s.analysis.edge = usual.edge;
    let effect = &s.question.effect;
    if !effect.has_two_sides() {
        s.question.direction = Direction::Stated;
    }
    if !effect.counts() {
        s.analysis = usual;
    } else if s.analysis.test == Test::AnnualIndex && !effect.is_trend() {
        s.analysis.test = usual.test;
    }
    if !effect.asks_of_several() {
        s.question.several = None;
        s.premises.others.clear();
    }
    let years = s.fewest_years();
    s.plan.years = s.plan.years.max(years);
    let sites = s.fewest_sites();
    s.plan.sites = s.plan.sites.max(sites);
    s.limits.sites = s.limits.sites.max(sites);
}

/// The sentence.
pub fn view(model: Model) -> impl IntoView {
    let key = Memo::new(move |_| model.scenario.with(|s| s.question.effect.key()));
    let title = move || TITLES.iter().find(|t| t.0 == key.get());
    view! {
        <section class="question" aria-labelledby="question-title">
            <h2 id="question-title">{page::QUESTION}</h2>
            <p class="sentence">
                <select
                    id="question-kind"
                    aria-label=words::KIND
                    on:change=move |event| {
                        let asked = event_target_value(&event);
                        if !matches!(model.apart.get_untracked(), Apart::Here(_)) {
                            // The list shows the question that is asked, until the other one is.
                            event_target::<HtmlSelectElement>(&event).set_value(key.get_untracked());
                        }
                        if let Some((asked, ..)) = TITLES.iter().find(|t| t.0 == asked) {
                            model.with_apart(move |rest| (rest.ask)(model, asked));
                        }
                    }
                >
                    {TITLES.iter().map(|(k, label, _)| view! {
                        <option value=*k prop:selected=move || key.get() == *k>{*label}</option>
                    }).collect_view()}
                </select>
                // The usual question does not wait for what comes apart.
                {move || if key.get() == decline::KIND.key {
                    decline::part(model)
                } else {
                    model.want_apart();
                    apart::view(model, Part::Question)
                }}
            </p>
            {move || title().filter(|t| !t.2.is_empty()).map(|t| view! { <p class="aside">{t.2}</p> })}
            {several::aside(model)}
        </section>
    }
}

/// The end of the sentence of a test.
fn errors(model: Model) -> impl IntoView {
    view! {
        {words::ALARMS}
        {number(model, "question.significance", words::SIGNIFICANCE, 100.0)}
        {words::OF_SURVEYS}
        {move || model.scenario.with(sentences::still_world)}
        {words::WITH_POWER}
        {number(model, "question.wanted_power", words::WANTED_POWER, 100.0)}
        {words::PER_CENT_END}
    }
}
