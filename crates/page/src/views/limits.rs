//! How far the search may go, and what no plan may exceed.

mod places;
mod ways;

use super::apart::{self, Part};
use super::plan::{choice, fields};
use super::tick::tick;
use crate::state::Model;
use crate::words::{limits as words, numbers};
use engine::scenario::{Class, Limits, TollLimit, TollWeight, WeekChoice};
use leptos::prelude::*;
use paper::number::plain;
use stand::{listed, numbers, one_or_none};

/// A text that stands for a part of the limits; what does not fit stays in its field with the reason.
fn text(
    model: Model,
    path: &'static str,
    label: String,
    bound: &'static str,
    says: fn(&str) -> Option<Vec<f64>>,
    read: impl Fn(&Limits) -> String + Send + Sync + Clone + 'static,
    write: impl Fn(&mut Limits, &str) -> bool + Send + Sync + 'static,
) -> impl IntoView {
    let now = {
        let read = read.clone();
        Memo::new(move |_| model.scenario.with(|s| read(&s.limits)))
    };
    let refused = Memo::new(move |_| model.refused(path));
    let first = refused.get_untracked();
    let typed = RwSignal::new(first.unwrap_or_else(|| now.get_untracked()));
    Effect::new(move |_| {
        let (now, refused) = (now.get(), refused.get());
        let said = typed.get_untracked();
        // Keeps "5, 7" as it was typed when it says the same.
        let stays = refused.is_none() && says(&said) == says(&now);
        let wanted = refused.unwrap_or(now);
        if !stays && wanted != said {
            typed.set(wanted);
        }
    });
    model.on_page(path.to_string());
    let on_input = move |event| {
        let text = event_target_value(&event);
        typed.set(text.clone());
        let mut trial = model.scenario.with_untracked(|s| s.limits.clone());
        if write(&mut trial, &text) {
            model.unmark(path);
            model.edit(|s| s.limits = trial);
        } else {
            model.mark(path, &text, numbers::does_not_fit(&text, bound));
        }
    };
    let problem = Memo::new(move |_| model.problem(path));
    let problem_id = format!("{path}-problem");
    view! {
        <div class="control">
            <label for=path>{label}</label>
            <input
                type="text"
                id=path
                autocomplete="off"
                aria-invalid=move || problem.with(Option::is_some).to_string()
                aria-describedby=problem_id.clone()
                data-live="yes"
                data-pending=move || refused.with(Option::is_some).then_some("yes")
                prop:value=move || typed.get()
                on:input=on_input
            />
            <span class="problem" id=problem_id role="status">{move || problem.get()}</span>
        </div>
    }
}

/// A number that may be left empty.
fn cap(
    model: Model,
    path: &'static str,
    label: String,
    read: fn(&Limits) -> Option<f64>,
    write: fn(&mut Limits, Option<f64>),
) -> impl IntoView {
    text(
        model,
        path,
        label,
        words::ONE_NUMBER,
        one_or_none,
        move |l| read(l).map_or(String::new(), plain),
        move |l, text| match one_or_none(text).as_deref() {
            Some([]) => {
                write(l, None);
                true
            }
            Some([one]) => {
                write(l, Some(*one));
                true
            }
            _ => false,
        },
    )
}

/// What caps and weights can be about, besides single groups.
const CLASSES: [Class; 2] = [Class::Vertebrate, Class::Protected];

fn cap_of(l: &Limits, class: Class) -> Option<f64> {
    l.toll
        .iter()
        .find(|t| t.class == Some(class))
        .map(|t| t.most)
}

fn set_cap(l: &mut Limits, class: Class, most: Option<f64>) {
    l.toll.retain(|t| t.class != Some(class));
    l.toll.extend(most.map(|most| TollLimit {
        group: None,
        class: Some(class),
        most,
    }));
}

fn weight_of(l: &Limits, class: Class) -> Option<f64> {
    l.weights
        .iter()
        .find(|t| t.class == Some(class))
        .map(|t| t.weight)
}

fn set_weight(l: &mut Limits, class: Class, weight: Option<f64>) {
    l.weights.retain(|t| t.class != Some(class));
    l.weights.extend(weight.map(|weight| TollWeight {
        group: None,
        class: Some(class),
        weight,
    }));
}

fn vertebrates(model: Model) -> impl IntoView {
    let [v, p] = CLASSES;
    view! {
        {cap(model, "limits.toll.vertebrate", words::most_killed(v.words()),
            |l| cap_of(l, Class::Vertebrate), |l, m| set_cap(l, Class::Vertebrate, m))}
        {cap(model, "limits.toll.protected", words::most_killed(p.words()),
            |l| cap_of(l, Class::Protected), |l, m| set_cap(l, Class::Protected, m))}
        {cap(model, "limits.weights.vertebrate", words::weight(v.words()),
            |l| weight_of(l, Class::Vertebrate), |l, m| set_weight(l, Class::Vertebrate, m))}
        {cap(model, "limits.weights.protected", words::weight(p.words()),
            |l| weight_of(l, Class::Protected), |l, m| set_weight(l, Class::Protected, m))}
    }
}

fn trap_options(model: Model) -> impl IntoView {
    let names = Memo::new(move |_| {
        model.scenario.with(|s| {
            let options = s.premises.trap_options.iter();
            options.map(|o| o.name.clone()).collect::<Vec<_>>()
        })
    });
    let listed = move |name: &str| {
        model
            .scenario
            .with(|s| s.limits.trap_options.iter().any(|n| n == name))
    };
    let set = move |name: String, on: bool| {
        model.edit(|s| {
            s.limits.trap_options.retain(|n| *n != name);
            if on {
                s.limits.trap_options.push(name);
            }
        });
    };
    move || {
        let names = names.get();
        (!names.is_empty()).then(|| {
            let boxes = std::iter::once(String::new()).chain(names).enumerate();
            let boxes = boxes
                .map(|(i, name)| {
                    let shown = if name.is_empty() {
                        words::USUAL_TRAP.to_string()
                    } else {
                        name.clone()
                    };
                    let (asked, told) = (name.clone(), name);
                    tick(
                        format!("limits-trap-{i}"),
                        shown,
                        move || listed(&asked),
                        move |on| set(told.clone(), on),
                    )
                })
                .collect_view();
            view! {
                <fieldset class="told">
                    <legend>{words::TRAPS}</legend>
                    {boxes}
                </fieldset>
            }
        })
    }
}

/// Caps on cost, where there are costs.
fn costs(model: Model) -> impl IntoView {
    let has = Memo::new(move |_| model.scenario.with(|s| s.premises.costs.is_some()));
    move || {
        has.get().then(|| {
            view! {
                {cap(model, "limits.money", words::MONEY.into(), |l| l.money, |l, m| l.money = m)}
                {cap(model, "limits.hours", words::HOURS.into(), |l| l.hours, |l, m| l.hours = m)}
                {cap(model, "limits.travel_days", words::TRAVEL_DAYS.into(), |l| l.travel_days, |l, m| l.travel_days = m)}
            }
        })
    }
}

/// The limits, in a part that opens.
pub fn view(model: Model) -> impl IntoView {
    view! {
        <details id="limits">
            <summary>{words::TITLE}</summary>
            {move || apart::view(model, Part::Limits)}
        </details>
    }
}

/// The fields.
pub fn inside(model: Model) -> impl IntoView {
    let week_choice = move || model.scenario.with(|s| s.limits.week_choice);
    let named = |c: WeekChoice| match c {
        WeekChoice::Around => words::AROUND,
        WeekChoice::AnyRun => words::ANY_RUN,
        WeekChoice::Chosen => words::CHOSEN,
    };
    let problem = Memo::new(move |_| {
        let lists = model
            .problem("limits.toll[")
            .or_else(|| model.problem("limits.weights["));
        lists
            .or_else(|| model.problem("limits.trap_options"))
            .or_else(|| model.problem("limits.revisits"))
            .or_else(|| model.problem("limits.schemes"))
    });
    view! {
            <div class="controls-list">
                {fields(model, &["limits.sites", "limits.traps_per_site", "limits.weeks"])}
                {choice("limits-weeks", words::WHICH_WEEKS, WeekChoice::ALL.map(|c| (named(c), c)).to_vec(),
                    week_choice,
                    move |v| model.edit(|s| s.limits.week_choice = v))}
                {text(model, "limits.years", words::YEARS.into(),
                    words::YEARS_BOUND,
                    numbers,
                    |l| listed(&l.years.iter().map(|y| f64::from(*y)).collect::<Vec<_>>()),
                    |l, text| match numbers(text) {
                        Some(v) if v.iter().all(|y| y.fract() == 0.0 && (1.0..=1e6).contains(y)) => {
                            l.years = v.iter().map(|y| *y as u32).collect();
                            true
                        }
                        _ => false,
                    })}
                {text(model, "limits.exposure_days", words::DAYS.into(),
                    words::DAYS_BOUND,
                    numbers,
                    |l| listed(&l.exposure_days),
                    |l, text| match numbers(text) {
                        Some(v) => {
                            l.exposure_days = v;
                            true
                        }
                        _ => false,
                    })}
                {trap_options(model)}
                {ways::view(model)}
                {places::view(model)}
                {costs(model)}
                {vertebrates(model)}
                <p class="aside">{words::NOTE}</p>
                <span class="problem" role="status">{move || problem.get()}</span>
            </div>
    }
}
