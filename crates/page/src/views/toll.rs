//! The toll: target and each by-catch group, in all and year by year.

use crate::state::Model;
use engine::summary::{GroupToll, Spread};
use leptos::prelude::*;
use paper::number::count;
use paper::sentences;
use web_sys::HtmlDetailsElement;

fn cells(mean: f64, low: f64, high: f64) -> impl IntoView {
    view! { <td>{count(mean)}</td><td>{format!("{} to {}", count(low), count(high))}</td> }
}

fn spread(s: &Spread) -> impl IntoView + use<> {
    cells(s.mean, s.low, s.high)
}

fn group(g: &GroupToll) -> impl IntoView + use<> {
    let open = g.not_excluded.map_or(String::new(), |n| {
        format!("; up to {} not excluded", count(n))
    });
    view! { <td>{count(g.mean)}</td><td>{format!("{} to {}{open}", count(g.low), count(g.high))}</td> }
}

/// The tables.
pub fn view(model: Model) -> impl IntoView {
    // Stays as it is when the numbers come anew.
    let open = RwSignal::new(false);
    view! {
        <div id="toll">
            <p class="aside">"Mean over simulated surveys in which the stated change happens, and the interval that holds 90 % of them (luck of the draw alone). Every trap-week that is set kills, whether its catch is counted or lost."</p>
            {move || model.answer.get().and_then(|a| a.toll).map(|t| {
                let target = model.scenario.with(|s| s.premises.target.name.clone());
                let still = t.if_nothing_changes.map(|s| view! {
                    <tr><th scope="row">"all animals if nothing changes"</th><td></td><td>{count(s.total_mean)}</td><td></td></tr>
                });
                let groups = t.bycatch.iter().map(|g| view! {
                    <tr><th scope="row">{g.group.clone()}</th><td>{sentences::class(g.class)}</td>{group(g)}</tr>
                }).collect_view();
                let head = t.bycatch.iter().map(|g| view! { <th scope="col">{g.group.clone()}</th> }).collect_view();
                let years = t.per_year.iter().map(|y| {
                    let groups = y.bycatch.iter().map(|g| view! { <td>{sentences::group(g)}</td> }).collect_view();
                    view! {
                        <tr>
                            <th scope="row">{y.year}</th>
                            <td>{sentences::spread(&y.target)}</td>
                            {groups}
                            <td>{sentences::spread(&y.total)}</td>
                        </tr>
                    }
                }).collect_view();
                let carrying = sentences::reproductives(&target, &t);
                view! {
                    {carrying.map(|text| view! { <p id="toll-reproductives">{text}</p> })}
                    <div class="scroll" tabindex="0" role="region" aria-label="toll over all years">
                        <table id="toll-table">
                            <caption>"Toll over all years"</caption>
                            <thead><tr><th scope="col">"group"</th><th scope="col">"class"</th><th scope="col">"mean"</th><th scope="col">"90 % interval"</th></tr></thead>
                            <tbody>
                                <tr><th scope="row">{target.clone()}</th><td>"target"</td>{spread(&t.target)}</tr>
                                {groups}
                                <tr class="sum"><th scope="row">"all animals"</th><td></td>{spread(&t.total)}</tr>
                                {still}
                            </tbody>
                        </table>
                    </div>
                    <details prop:open=open.get_untracked() on:toggle=move |e| open.set(event_target::<HtmlDetailsElement>(&e).open())>
                        <summary>"Toll year by year"</summary>
                        <div class="scroll" tabindex="0" role="region" aria-label="toll year by year">
                            <table id="toll-years">
                                <caption>"Toll of each year: mean (90 % interval)"</caption>
                                <thead><tr><th scope="col">"year"</th><th scope="col">{target}</th>{head}<th scope="col">"all animals"</th></tr></thead>
                                <tbody>{years}</tbody>
                            </table>
                        </div>
                    </details>
                }
            })}
        </div>
    }
}
