//! The answer, always in view: power with interval and false alarms, smallest change, toll, progress.

use super::meaning;
use super::whole;
use crate::state::Model;
use crate::words::steps as words;
use crate::words::undo::name_of;
use engine::scenario::{Class, Test};
use engine::summary::{Answer, Share};
use leptos::prelude::*;
use paper::number::{count, percent};
use paper::sentences;

fn share(s: &Share) -> (String, String) {
    if s.replicates == 0 {
        return ("…".into(), "not simulated yet".into());
    }
    (
        percent(s.estimate),
        format!(
            "95 %: {} to {}, {} surveys",
            percent(s.low),
            percent(s.high),
            s.replicates
        ),
    )
}

/// What a tile says: its name, its number, and what more must be said of it.
type Tile = (&'static str, String, String);

/// A number of the strip, with what it means on demand. The tile stays while its number changes.
fn tile(
    model: Model,
    id: &'static str,
    key: &'static str,
    told: impl Fn(&Answer) -> Option<Tile> + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let now = Memo::new(move |_| model.answer.with(|a| a.as_ref().and_then(told)));
    let there = Memo::new(move |_| now.with(Option::is_some));
    let part =
        move |of: fn(&Tile) -> String| move || now.with(|t| t.as_ref().map_or(String::new(), of));
    move || {
        there.get().then(|| {
            view! {
                <div class="figure-number" id=id>
                    <span class="name">{part(|t| t.0.into())} {meaning::of_result(model, key)}</span>
                    <span class="value">{part(|t| t.1.clone())}</span>
                    <span class="note">{part(|t| t.2.clone())}</span>
                </div>
            }
        })
    }
}

/// The power; before the first simulated survey its preview, marked.
fn power(answer: &Answer) -> (String, String) {
    if answer.power.replicates == 0 {
        return (
            format!("≈ {}", percent(answer.preview.power)),
            "preview by closed form".into(),
        );
    }
    share(&answer.power)
}

fn smallest(model: Model, answer: &Answer) -> (String, String) {
    model.scenario.with(|s| {
        let wanted = percent(s.question.wanted_power);
        let none = || {
            (
                "none".into(),
                format!("no change is found with power {wanted}"),
            )
        };
        if answer.power.replicates == 0 {
            let preview = answer.preview.smallest_change;
            let told = preview.and_then(|c| sentences::smallest_preview(s, c.estimate));
            return told.map_or_else(none, |t| {
                (
                    format!("≈ {}", t.value),
                    format!("{}, preview by closed form", t.of),
                )
            });
        }
        sentences::smallest(s, answer).map_or_else(none, |t| {
            (t.value, format!("{}, with power {wanted}", t.of))
        })
    })
}

fn toll(answer: &Answer) -> (String, String) {
    let Some(t) = &answer.toll else {
        return ("…".into(), "not simulated yet".into());
    };
    let apart: Vec<f64> = t
        .bycatch
        .iter()
        .filter(|g| g.class != Class::Arthropod)
        .map(|g| g.mean)
        .collect();
    let mut note = format!("90 %: {} to {}", count(t.total.low), count(t.total.high));
    if !apart.is_empty() {
        note.push_str(&format!(
            "; {} vertebrates or protected",
            count(apart.iter().sum())
        ));
    }
    (count(t.total.mean), note)
}

/// Money and hours; nothing when no costs are stated.
fn cost(answer: &Answer) -> Option<(String, String)> {
    let told = answer.cost.as_ref()?;
    let hours = format!("{} hours, expected", count(told.total.all_hours));
    let note = match told.over_staff.len() {
        0 => hours,
        1 => format!("{hours}; over staff once"),
        n => format!("{hours}; over staff {n} times"),
    };
    Some((paper::cost::money(told.total.money, &told.currency), note))
}

fn preview(model: Model) -> impl IntoView {
    move || {
        model.preview.get().map(|p| {
            let change = model.scenario.with(|s| {
                sentences::smallest_preview(s, p.smallest_change).map_or_else(
                    || "no change is found".to_string(),
                    |t| format!("{} {} {}", t.name, t.value, t.of),
                )
            });
            let usual = model.scenario.with(|s| s.question.significance);
            let alarms = (p.false_alarm > 1.2 * usual)
                .then(|| format!(", false alarms {}", percent(p.false_alarm)));
            view! {
                <p class="preview" id="preview">
                    <span class="tag">"preview"</span>
                    " by closed form: power "
                    <strong>{percent(p.power)}</strong>
                    {alarms}
                    ", "
                    {change}
                </p>
            }
        })
    }
}

fn progress(model: Model) -> impl IntoView {
    move || {
        let r = model.running.get();
        if r.cancelled {
            let text = format!(
                "Cancelled after {} of {} simulated surveys of the {}.",
                r.done, r.total, r.what
            );
            return view! {
                <p class="progress" id="progress" data-state="cancelled">
                    <span>{text}</span>
                    <button type="button" on:click=move |_| model.run()>"Compute again"</button>
                </p>
            }
            .into_any();
        }
        if r.what.is_empty() {
            let text = if model.answer.with(Option::is_some) {
                "Everything is computed."
            } else {
                "Nothing is computed: the scenario holds something that is refused, named above."
            };
            return view! { <p class="progress" id="progress" data-state="idle">{text}</p> }
                .into_any();
        }
        if r.paused {
            return view! {
                <p class="progress" id="progress" data-state="paused">
                    <progress max=r.total.to_string() value=r.done.to_string() aria-label=format!("progress of the {}", r.what)></progress>
                    <span>{words::paused(r.what, r.done, r.total)}</span>
                    <button type="button" id="resume" on:click=move |_| model.resume()>{words::RESUME}</button>
                    <button type="button" id="cancel" on:click=move |_| model.cancel()>"Cancel"</button>
                </p>
            }
            .into_any();
        }
        let left = match r.left {
            Some(s) if s < 1.5 => "about a second left".to_string(),
            Some(s) if s < 90.0 => format!("about {s:.0} seconds left"),
            Some(s) => format!("about {:.0} minutes left", s / 60.0),
            None => "estimating the time".into(),
        };
        view! {
            <p class="progress" id="progress" data-state="running">
                <progress max=r.total.to_string() value=r.done.to_string() aria-label=format!("progress of the {}", r.what)></progress>
                <span>{format!("{}: {} of {} simulated surveys, {left}", r.what, r.done, r.total)}</span>
                <button type="button" id="pause" on:click=move |_| model.pause()>{words::PAUSE}</button>
                <button type="button" id="cancel" on:click=move |_| model.cancel()>"Cancel"</button>
            </p>
        }
        .into_any()
    }
}

/// How the fits ended, short enough to stand beside the power; the whole is below.
fn fits(a: &Answer) -> (String, String) {
    let f = &a.fits;
    let n = f.converged + f.singular + f.at_bound + f.failed;
    if n == 0 {
        return ("…".into(), "none yet".into());
    }
    (
        format!("{} failed", f.failed),
        format!("{} singular, {} at a bound, of {n}", f.singular, f.at_bound),
    )
}

fn blocked(model: Model) -> impl IntoView {
    move || {
        let of_answer = |path: &String| !whole::ASIDE.contains(&path.as_str());
        let blocked =
            model.marks.with(|m| m.keys().any(of_answer)) || model.checked.with(|c| c.is_err());
        blocked.then(|| {
            let last = "What is shown belongs to the last scenario that could be read: mend the marked field.";
            let mut lines = model.checked.with(|c| match c {
                Err(faults) => faults.iter().map(ToString::to_string).collect::<Vec<_>>(),
                Ok(_) => vec![last.to_string()],
            });
            // By name, since the field may be in a part that is closed.
            model.marks.with(|m| {
                let named = m.iter().filter(|(path, _)| of_answer(path));
                lines.extend(named.map(|(path, m)| format!("{}: {}", name_of(path), m.problem)));
            });
            view! {
                <div class="notice notice-bad" role="alert" id="blocked">
                    <ul>{lines.into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}</ul>
                </div>
            }
        })
    }
}

/// The answer in a sentence; of a list that of the list too.
fn verdicts(model: Model) -> impl IntoView {
    let verdict = Memo::new(move |_| {
        let counting = model.running.with(|r| r.what == "answer" && !r.cancelled);
        model.answer.with(|a| {
            let a = a.as_ref()?;
            Some(if counting {
                format!(
                    "Still counting: {} simulated surveys so far.",
                    a.power.replicates
                )
            } else {
                model.scenario.with(|s| sentences::verdict(s, a))
            })
        })
    });
    let list = Memo::new(move |_| {
        model.several.with(|several| {
            let list = several.as_ref()?;
            model.scenario.with(|s| sentences::list_verdict(s, list))
        })
    });
    view! {
        {move || verdict.get().map(|text| view! { <p class="verdict" id="verdict">{text}</p> })}
        {move || list.get().map(|text| view! { <p class="verdict" id="list-verdict">{text}</p> })}
    }
}

fn numbers(model: Model) -> impl IntoView {
    let named = |name: &'static str, (value, note): (String, String)| Some((name, value, note));
    view! {
        <div class="numbers">
            {tile(model, "strip-power", "power", move |a| named("power", power(a)))}
            {tile(model, "strip-alarm", "false_alarm", move |a| named(model.scenario.with(sentences::false_alarms), share(&a.false_alarm)))}
            {tile(model, "strip-smallest", "smallest_change", move |a| named(model.scenario.with(sentences::smallest_name), smallest(model, a)))}
            {tile(model, "strip-toll", "toll", move |a| named("toll, all years", toll(a)))}
            {tile(model, "strip-cost", "cost", move |a| cost(a).and_then(|c| named("cost, all years", c)))}
        </div>
    }
}

/// The answer in a few words, for windows in which the strip cannot stay in view.
fn mini(model: Model) -> impl IntoView {
    move || {
        model.answer.with(|a| {
            let a = a.as_ref()?;
            let (power, _) = power(a);
            let (alarms, _) = share(&a.false_alarm);
            let name = model.scenario.with(sentences::false_alarms);
            let (killed, _) = toll(a);
            Some(view! {
                <a class="mini" href="#answer">
                    <span>{format!("power {power}, {name} {alarms}")}</span>
                    <span>{format!("{killed} animals")}</span>
                </a>
            })
        })
    }
}

fn notes(model: Model) -> impl IntoView {
    move || {
        model.answer.get().map(|a| {
            let (notes, digest) = model
                .scenario
                .with(|s| (sentences::notes(s, &a), s.digest()));
            view! {
                {(!["absence", "baseline", "inventory"].contains(&a.question)).then(|| {
                    let (value, note) = fits(&a);
                    view! { <p class="aside" id="strip-fits">"Fits: " {value} "; " {note} "."</p> }
                })}
                <ul class="fits" id="fits">{notes.into_iter().map(|n| view! { <li>{n}</li> }).collect_view()}</ul>
                {comparison(digest, &a)}
            }
        })
    }
}

/// What must not be folded away: an analysis that cries wolf.
fn warning(model: Model) -> impl IntoView {
    move || {
        let told = model.answer.with(|a| {
            let a = a.as_ref()?;
            model.scenario.with(|s| sentences::alarm_warning(s, a))
        });
        told.map(|text| view! { <p class="warning" id="warning">{text}</p> })
    }
}

fn comparison(scenario: String, a: &Answer) -> impl IntoView + use<> {
    let rows = a
        .comparison
        .iter()
        .map(|c| {
            let known = Test::ALL.into_iter().find(|t| t.key() == c.test);
            let test = known.map_or(c.test, sentences::test);
            view! { <tr><th scope="row">{test}</th><td>{percent(c.power.estimate)}</td><td>{percent(c.false_alarm.estimate)}</td></tr> }
        })
        .collect_view();
    let compared = !a.comparison.is_empty();
    let digest = if a.result_digest.is_empty() {
        "once all surveys are in".to_owned()
    } else {
        a.result_digest.clone()
    };
    view! {
        <details class="comparison">
            <summary>{if compared { "Other tests of the same surveys, and the digests" } else { "The digests" }}</summary>
            {compared.then(|| view! {
                <table>
                    <thead><tr><th scope="col">"test"</th><th scope="col">"power"</th><th scope="col">"false alarms"</th></tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            })}
            <p>"Digest of the scenario: " <code id="scenario-digest">{scenario}</code>". Digest of the results: " <code id="digest">{digest}</code></p>
        </details>
    }
}

/// Seed and number of simulated surveys.
fn settings(model: Model) -> impl IntoView {
    let (replicates, problem) = whole::input(
        model,
        "replicates",
        || (1, engine::MOST_REPLICATES),
        move || model.replicates.get(),
        move |v| model.settle(|s| s.replicates = v),
    );
    let (seed, problem_of_seed) = whole::input(
        model,
        "seed",
        || (0, u64::MAX),
        move || model.seed.get(),
        move |v| model.settle(|s| s.seed = v),
    );
    view! {
        <p class="settings">
            <label>"simulated surveys " {replicates}</label>
            {problem}
            <label>"seed " {seed}</label>
            {problem_of_seed}
        </p>
    }
}

/// The strip, and below it, folded away, what explains it.
pub fn view(model: Model) -> impl IntoView {
    view! {
        <section class="strip" id="answer" aria-labelledby="answer-title" tabindex="-1">
            <h2 id="answer-title">"The answer"</h2>
            {blocked(model)}
            <div aria-live="polite">{verdicts(model)}</div>
            {numbers(model)}
            {progress(model)}
        </section>
        <section class="strip-rest" aria-label="about the answer">
            {preview(model)}
            {warning(model)}
            <details class="about-answer" id="about-answer">
                <summary>"What stands behind these numbers"</summary>
                {notes(model)}
            </details>
            {settings(model)}
        </section>
        {mini(model)}
    }
}
