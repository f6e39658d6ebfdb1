//! The toll: target and each by-catch group, in all and year by year.

use super::in_turn::in_turn;
use crate::state::Model;
use crate::words::{numbers, shared, toll as words};
use engine::summary::{GroupToll, Spread};
use leptos::prelude::*;
use paper::number::count;
use paper::sentences;
use web_sys::HtmlDetailsElement;

fn cells(mean: f64, low: f64, high: f64) -> impl IntoView {
    view! { <td>{count(mean)}</td><td>{numbers::range(&count(low), &count(high))}</td> }
}

fn spread(s: &Spread) -> impl IntoView + use<> {
    cells(s.mean, s.low, s.high)
}

fn group(g: &GroupToll) -> impl IntoView + use<> {
    let open = g
        .not_excluded
        .map_or(String::new(), |n| words::not_excluded(&count(n)));
    view! { <td>{count(g.mean)}</td><td>{numbers::range(&count(g.low), &count(g.high)) + &open}</td> }
}

/// The tables.
pub fn view(model: Model) -> impl IntoView {
    let toll = in_turn(Memo::new(move |_| {
        model
            .answer
            .with(|a| a.as_ref().and_then(|a| a.toll.clone()))
    }));
    // Stays as it is when the numbers come anew.
    let open = RwSignal::new(false);
    view! {
        <div id="toll">
            <p class="aside">{move || words::about(model.scenario.with(sentences::with_effect))}</p>
            {super::toll_figure::view(model, toll)}
            {move || toll.get().map(|t| {
                let target = model.scenario.with(|s| s.premises.target.name.clone());
                let still = t.if_nothing_changes.map(|s| view! {
                    <tr><th scope="row">{words::all_animals(model.scenario.with(sentences::otherwise))}</th><td></td><td>{count(s.total_mean)}</td><td></td></tr>
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
                    <div class="scroll" tabindex="0" role="region" aria-label=words::REGION>
                        <table id="toll-table">
                            <caption>{words::CAPTION}</caption>
                            <thead><tr><th scope="col">{words::GROUP}</th><th scope="col">{shared::CLASS}</th><th scope="col">{words::MEAN}</th><th scope="col">{words::INTERVAL}</th></tr></thead>
                            <tbody>
                                <tr><th scope="row">{target.clone()}</th><td>{words::TARGET}</td>{spread(&t.target)}</tr>
                                {groups}
                                <tr class="sum"><th scope="row">{words::ALL_ANIMALS}</th><td></td>{spread(&t.total)}</tr>
                                {still}
                            </tbody>
                        </table>
                    </div>
                    <details prop:open=open.get_untracked() on:toggle=move |e| open.set(event_target::<HtmlDetailsElement>(&e).open())>
                        <summary>{words::YEARS}</summary>
                        <div class="scroll" tabindex="0" role="region" aria-label=words::YEARS_REGION>
                            <table id="toll-years">
                                <caption>{words::YEARS_CAPTION}</caption>
                                <thead><tr><th scope="col">{words::YEAR}</th><th scope="col">{target}</th>{head}<th scope="col">{words::ALL_ANIMALS}</th></tr></thead>
                                <tbody>{years}</tbody>
                            </table>
                        </div>
                    </details>
                }
            })}
        </div>
    }
}
