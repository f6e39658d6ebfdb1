//! The least plan: the smallest toll that answers, and the smaller plans that do not.

use crate::state::Model;
use engine::least::{Least, PlanAnswer, RACE_ERROR};
use engine::scenario::Plan;
use leptos::prelude::*;
use paper::number::percent_fine;
use paper::sentences;

/// The part with its button.
pub fn view(model: Model) -> impl IntoView {
    view! {
        <section aria-labelledby="least-title" id="least">
            <h2 id="least-title">"The least plan"</h2>
            <p class="aside">{move || model.scenario.with(|s| format!(
                "Looks at every plan of up to {} sites, {} traps per site and {} weeks around the same middle of the season, with the years and exposure of the plan; ranks them by all animals killed, and confirms by simulation.",
                s.limits.sites, s.limits.traps_per_site, s.limits.weeks))}</p>
            <p class="buttons"><button type="button" id="find-least" on:click=move |_| model.run_least()>"Find the least plan"</button></p>
            <div aria-live="polite">{move || model.least.get().map(|l| result(model, l))}</div>
        </section>
    }
}

fn result(model: Model, least: Least) -> AnyView {
    let looked = format!(
        "{} plans looked at by closed form, {} simulated.",
        least.screened, least.simulated
    );
    let raced = sentences::race(least.stopped, RACE_ERROR, least.surveys);
    let alarms = model.scenario.with_untracked(sentences::false_alarms);
    if let (Some(plan), Some(test), Some(power), Some(alarm)) = (
        least.plan.clone(),
        least.test.clone(),
        least.power,
        least.false_alarm,
    ) {
        let own = PlanAnswer {
            plan: plan.clone(),
            test,
            power,
            false_alarm: alarm,
            fits: least.fits.unwrap_or_default(),
            toll: least.toll.clone(),
            cost: least.cost,
            stopped: None,
        };
        let notes: Vec<String> = model.scenario.with_untracked(|s| {
            let h = least.half_exposure;
            sentences::stand_in(&own.test, own.power.replicates)
                .into_iter()
                .chain(sentences::one_of_several(s))
                .chain(sentences::least_warning(s, &own.false_alarm))
                .chain(
                    least
                        .undecided_toll
                        .map(|t| sentences::undecided(t, own.power.replicates)),
                )
                .chain(h.map(|h| {
                    sentences::half_exposure(
                        h.exposure_days,
                        h.preview_power,
                        h.preview_power_of_least,
                        h.expected_toll,
                    )
                }))
                .collect()
        });
        let notes = notes
            .into_iter()
            .map(|n| view! { <li>{n}</li> })
            .collect_view();
        let rows = std::iter::once(row(model, &own, "the least plan".into()))
            .chain(least.smaller.iter().map(|p| {
                let short = model
                    .scenario
                    .with_untracked(|s| sentences::falls_short(s, &p.power));
                let stopped = p.stopped.map_or(String::new(), |s| {
                    format!("; {}", sentences::stopped(s.after, s.of))
                });
                row(model, p, format!("{short}{stopped}"))
            }))
            .collect_view();
        return view! {
            <p class="verdict" id="least-plan">{format!("Least plan: {}.", sentences::plan(&plan))}</p>
            <p class="buttons"><button type="button" id="take-least" on:click=move |_| take(model, &plan)>"Take this plan"</button></p>
            {table(rows, "The least plan and the next smaller ones", alarms)}
            <ul class="fits" id="least-notes">{notes}</ul>
            <p class="aside">{looked}" "{raced}</p>
        }
        .into_any();
    }
    if let Some(s) = least.shortfall {
        let help = s
            .would_help
            .iter()
            .map(|h| view! { <li>{h.clone()}</li> })
            .collect_view();
        let rows = std::iter::once(row(model, &s.surest, "the surest within the limits".into()))
            .collect_view();
        return view! {
            <p class="verdict" id="least-none">{s.reason.clone()}</p>
            {table(rows, "The surest plan within the limits", alarms)}
            {sentences::stand_in(&s.surest.test, s.surest.power.replicates).map(|n| view! { <p class="aside">{n}</p> })}
            <p>"What would help (closed forms scaled to that simulation; simulate before relying on them):"</p>
            <ul>{help}</ul>
            <p class="aside">{looked}" "{raced}</p>
        }
        .into_any();
    }
    view! { <p id="least-searching">{format!("Searching. {looked}")}</p> }.into_any()
}

fn take(model: Model, plan: &Plan) {
    let plan = plan.clone();
    // The evidence that fewer could not answer stays on show.
    let evidence = model.least.get_untracked();
    model.edit(|s| s.plan = plan);
    model.least.set(evidence);
}

fn table(rows: impl IntoView, caption: &'static str, alarms: &'static str) -> impl IntoView {
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label="the least plan and smaller plans">
            <table id="least-table">
                <caption>{caption}</caption>
                <thead><tr>
                    <th scope="col">"sites"</th><th scope="col">"traps per site"</th><th scope="col">"weeks"</th>
                    <th scope="col">"power"</th><th scope="col">{alarms}</th><th scope="col">"animals killed"</th><th scope="col">"cost, all years"</th><th scope="col">"what it is"</th>
                </tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
}

fn row(model: Model, p: &PlanAnswer, what: String) -> impl IntoView + use<> {
    let told = |s: &engine::scenario::Scenario| {
        let cost = p.cost.as_ref();
        cost.map_or("not stated".to_string(), |c| paper::cost::phrase(s, c))
    };
    let cost = model.scenario.with_untracked(told);
    let share = |s: &engine::summary::Share| {
        format!(
            "{} ({} to {})",
            percent_fine(s.estimate),
            percent_fine(s.low),
            percent_fine(s.high)
        )
    };
    view! {
        <tr>
            <td>{p.plan.sites}</td><td>{p.plan.traps_per_site}</td><td>{p.plan.weeks}</td>
            <td>{share(&p.power)}</td><td>{share(&p.false_alarm)}</td>
            <td>{p.toll.as_ref().map_or("…".to_string(), |t| sentences::spread(&t.total))}</td>
            <td>{cost}</td>
            <td>{what}</td>
        </tr>
    }
}
