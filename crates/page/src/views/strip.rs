//! The answer, always in view: power with interval and false alarms, smallest change, toll, progress.

use super::meaning;
use super::whole;
use crate::state::Model;
use crate::words::undo::name_of;
use crate::words::{jobs, shared, steps, strip as words};
use engine::scenario::{Class, Scenario, Test};
use engine::summary::{Answer, Share};
use leptos::prelude::*;
use paper::number::{count, percent};
use paper::sentences;

fn share(s: &Share) -> (String, String) {
    if s.replicates == 0 {
        return ("…".into(), words::NOT_YET.into());
    }
    (
        percent(s.estimate),
        words::share_note(&percent(s.low), &percent(s.high), s.replicates),
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
            words::about(&percent(answer.preview.power)),
            words::PREVIEW_NOTE.into(),
        );
    }
    share(&answer.power)
}

fn smallest(model: Model, answer: &Answer) -> (String, String) {
    model.scenario.with(|s| {
        let wanted = percent(s.question.wanted_power);
        let none = || (words::NONE.into(), words::not_found(&wanted));
        if answer.power.replicates == 0 {
            let preview = answer.preview.smallest_change;
            let told = preview.and_then(|c| sentences::smallest_preview(s, c.estimate));
            return told.map_or_else(none, |t| {
                (words::about(&t.value), words::smallest_preview(&t.of))
            });
        }
        sentences::smallest(s, answer)
            .map_or_else(none, |t| (t.value, words::smallest(&t.of, &wanted)))
    })
}

fn toll(answer: &Answer) -> (String, String) {
    let Some(t) = &answer.toll else {
        return ("…".into(), words::NOT_YET.into());
    };
    let apart: Vec<f64> = t
        .bycatch
        .iter()
        .filter(|g| g.class != Class::Arthropod)
        .map(|g| g.mean)
        .collect();
    let mut note = words::toll_note(&count(t.total.low), &count(t.total.high));
    if t.bycatch.is_empty() {
        note.push_str(words::NO_BYCATCH);
    } else if !apart.is_empty() {
        note.push_str(&words::apart(&count(apart.iter().sum())));
    }
    (count(t.total.mean), note)
}

/// Money and hours; nothing when no costs are stated.
fn cost(answer: &Answer) -> Option<(String, String)> {
    let told = answer.cost.as_ref()?;
    let hours = words::hours(&count(told.total.all_hours));
    let note = words::over_staff(hours, told.over_staff.len());
    Some((paper::cost::money(told.total.money, &told.currency), note))
}

fn preview(model: Model) -> impl IntoView {
    move || {
        model.preview.get().map(|p| {
            let change = model.scenario.with(|s| {
                sentences::smallest_preview(s, p.smallest_change).map_or_else(
                    || words::NO_CHANGE.to_string(),
                    |t| format!("{} {} {}", t.name, t.value, t.of),
                )
            });
            let usual = model.scenario.with(|s| s.question.significance);
            let alarms = (p.false_alarm > 1.2 * usual)
                .then(|| words::preview_alarms(&percent(p.false_alarm)));
            view! {
                <p class="preview" id="preview">
                    <span class="tag">{words::PREVIEW}</span>
                    {words::BY_CLOSED_FORM}
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
            let text = words::cancelled(r.what, r.done, r.total);
            return view! {
                <p class="progress" id="progress" data-state="cancelled">
                    <span>{text}</span>
                    <button type="button" on:click=move |_| model.run()>{words::AGAIN}</button>
                </p>
            }
            .into_any();
        }
        if r.what.is_empty() {
            let text = match (model.answer.with(Option::is_some), is_blocked(model)) {
                (false, _) => words::REFUSED,
                // The notice above says what is wrong.
                (true, true) => "",
                (true, false) => words::DONE,
            };
            return view! { <p class="progress" id="progress" data-state="idle">{text}</p> }
                .into_any();
        }
        if r.paused {
            return view! {
                <p class="progress" id="progress" data-state="paused">
                    <progress max=r.total.to_string() value=r.done.to_string() aria-label=words::progress_of(r.what)></progress>
                    <span>{steps::paused(r.what, r.done, r.total)}</span>
                    <button type="button" id="resume" on:click=move |_| model.resume()>{steps::RESUME}</button>
                    <button type="button" id="cancel" on:click=move |_| model.cancel()>{words::CANCEL}</button>
                </p>
            }
            .into_any();
        }
        let left = words::left(r.left);
        view! {
            <p class="progress" id="progress" data-state="running">
                <progress max=r.total.to_string() value=r.done.to_string() aria-label=words::progress_of(r.what)></progress>
                <span>{words::progress(r.what, r.done, r.total, &left)}</span>
                <button type="button" id="pause" on:click=move |_| model.pause()>{steps::PAUSE}</button>
                <button type="button" id="cancel" on:click=move |_| model.cancel()>{words::CANCEL}</button>
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
        return ("…".into(), words::NO_FITS.into());
    }
    (
        words::failed(f.failed),
        words::fits_note(f.singular, f.at_bound, n),
    )
}

/// Whether a field that the answer hangs on was refused.
fn of_answer(path: &str) -> bool {
    !whole::ASIDE.contains(&path)
}

fn is_blocked(model: Model) -> bool {
    model.marks.with(|m| m.keys().any(|path| of_answer(path))) || model.checked.with(Result::is_err)
}

fn blocked(model: Model) -> impl IntoView {
    move || {
        is_blocked(model).then(|| {
            let mut lines = model.checked.with(|c| match c {
                Err(faults) => faults.iter().map(ToString::to_string).collect::<Vec<_>>(),
                Ok(_) => vec![words::LAST.to_string()],
            });
            // By name, since the field may be in a part that is closed.
            model.marks.with(|m| {
                let named = m.iter().filter(|(path, _)| of_answer(path));
                lines.extend(named.map(|(path, m)| words::marked(&name_of(path), &m.problem)));
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
        let counting = model
            .running
            .with(|r| r.what == jobs::ANSWER && !r.cancelled);
        model.answer.with(|a| {
            let a = a.as_ref()?;
            Some(if counting {
                (words::counting(a.power.replicates), "open")
            } else {
                model.scenario.with(|s| {
                    let answers = match sentences::surely(s, a) {
                        Some(true) => "yes",
                        Some(false) => "no",
                        None => "open",
                    };
                    (sentences::verdict(s, a), answers)
                })
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
        {move || verdict.get().map(|(text, answers)| view! { <p class="verdict" id="verdict" data-answers=answers>{text}</p> })}
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
            {tile(model, "strip-toll", "toll", move |a| named(words::TOLL, toll(a)))}
            {tile(model, "strip-cost", "cost", move |a| cost(a).and_then(|c| named(words::COST, c)))}
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
                    <span>{words::mini_power(&power, name, &alarms)}</span>
                    <span>{words::mini_killed(&killed)}</span>
                </a>
            })
        })
    }
}

fn notes(model: Model) -> impl IntoView {
    let digest = Memo::new(move |_| model.scenario.with(Scenario::digest));
    move || {
        model.answer.get().map(|a| {
            let notes = model.scenario.with(|s| sentences::notes(s, &a));
            view! {
                {(!["absence", "baseline", "inventory"].contains(&a.question)).then(|| {
                    let (value, note) = fits(&a);
                    view! { <p class="aside" id="strip-fits">{words::FITS} {value} "; " {note} "."</p> }
                })}
                <ul class="fits" id="fits">{notes.into_iter().map(|n| view! { <li>{n}</li> }).collect_view()}</ul>
                {comparison(digest.get(), &a)}
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
        shared::NO_DIGEST.to_owned()
    } else {
        a.result_digest.clone()
    };
    view! {
        <details class="comparison">
            <summary>{if compared { words::OTHER_TESTS } else { words::DIGESTS }}</summary>
            {compared.then(|| view! {
                <table>
                    <thead><tr><th scope="col">{words::TEST}</th><th scope="col">{shared::POWER}</th><th scope="col">{words::FALSE_ALARMS}</th></tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            })}
            <p>{words::SCENARIO_DIGEST} <code id="scenario-digest">{scenario}</code>{words::RESULT_DIGEST} <code id="digest">{digest}</code></p>
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
            <label>{words::REPLICATES} {replicates}</label>
            {problem}
            <label>{words::SEED} {seed}</label>
            {problem_of_seed}
        </p>
    }
}

/// The strip, and below it, folded away, what explains it.
pub fn view(model: Model) -> impl IntoView {
    view! {
        <section class="strip" id="answer" aria-labelledby="answer-title" tabindex="-1">
            <h2 id="answer-title">{words::ANSWER}</h2>
            {blocked(model)}
            <div aria-live="polite">{verdicts(model)}</div>
            {numbers(model)}
            {progress(model)}
        </section>
        <section class="strip-rest" aria-label=words::ABOUT>
            {preview(model)}
            {warning(model)}
            <details class="about-answer" id="about-answer">
                <summary>{words::BEHIND}</summary>
                {notes(model)}
            </details>
            {settings(model)}
        </section>
        {mini(model)}
    }
}
