//! The sites that there are, among which the search may choose, and those the plan has.

use crate::state::Model;
use crate::words::numbers;
use crate::words::places::{ANYWHERE, AVAILABLE, AVAILABLE_ALONG, LINE, of_plan as told_of_plan};
use engine::scenario::{Effect as Asked, Place, Placing, Scenario};
use leptos::prelude::*;
use paper::number::unmarked;

const PATH: &str = "limits.places";

/// One line for each place. A comma stands before the position, which has a full stop whoever reads.
fn lines(places: &[Place]) -> String {
    let line = |p: &Place| match p.position {
        Some(at) => format!("{}, {}", p.name, unmarked(at)),
        None => p.name.clone(),
    };
    places.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// The places of a text; the line that does not fit otherwise.
fn read(text: &str, along: bool) -> Result<Vec<Place>, String> {
    let lines = text.lines().map(str::trim).filter(|l| !l.is_empty());
    lines
        .map(|line| {
            if !along {
                return Ok(Place {
                    name: line.into(),
                    position: None,
                });
            }
            let parts = line.rsplit_once(',');
            let place = parts.and_then(|(name, at)| {
                let position = at.trim().parse::<f64>().ok().filter(|v| v.is_finite());
                Some(Place {
                    name: name.trim().into(),
                    position: Some(position?),
                })
            });
            place.ok_or_else(|| line.to_string())
        })
        .collect()
}

fn along(s: &Scenario) -> bool {
    matches!(s.question.effect, Asked::RangeShift(_))
}

/// The list.
pub fn view(model: Model) -> impl IntoView {
    let gradient = Memo::new(move |_| model.scenario.with(along));
    let now = Memo::new(move |_| model.scenario.with(|s| s.limits.places.clone()));
    let refused = Memo::new(move |_| model.refused(PATH));
    let first = refused.get_untracked();
    let typed = RwSignal::new(first.unwrap_or_else(|| lines(&now.get_untracked())));
    Effect::new(move |_| {
        let (now, refused) = (now.get(), refused.get());
        let said = typed.get_untracked();
        // Keeps a line as it was typed when it says the same.
        let stays = refused.is_none() && read(&said, gradient.get_untracked()) == Ok(now.clone());
        let wanted = refused.unwrap_or_else(|| lines(&now));
        if !stays && wanted != said {
            typed.set(wanted);
        }
    });
    model.on_page(PATH.to_string());
    let problem = Memo::new(move |_| model.problem(PATH));
    let on_input = move |event| {
        let text = event_target_value(&event);
        match read(&text, gradient.get_untracked()) {
            Ok(places) => {
                model.unmark(PATH);
                model.edit(|s| {
                    if !places.is_empty() {
                        s.limits.sites = s.limits.sites.min(places.len() as u32).max(2);
                    }
                    s.limits.places = places;
                });
            }
            Err(line) => {
                model.mark(PATH, &text, numbers::does_not_fit(&line, LINE));
            }
        }
        typed.set(text);
    };
    view! {
        <div class="control">
            <label for="limits-places">{move || if gradient.get() { AVAILABLE_ALONG } else { AVAILABLE }}</label>
            <textarea
                id="limits-places"
                rows="4"
                aria-invalid=move || problem.with(Option::is_some).to_string()
                aria-describedby="limits-places-problem"
                data-live="yes"
                data-pending=move || refused.with(Option::is_some).then_some("yes")
                prop:value=move || typed.get()
                on:input=on_input
            ></textarea>
            <span class="problem" id="limits-places-problem" role="status">{move || problem.get()}</span>
        </div>
        {of_plan(model)}
    }
}

/// Where the plan's own sites stand, when they stand at listed places.
fn of_plan(model: Model) -> impl IntoView {
    let used = Memo::new(move |_| {
        let used = |s: &Scenario| lines(s.plan.places_used()).replace('\n', "; ");
        model.scenario.with(used)
    });
    let anywhere = move |_| {
        model.edit(|s| {
            s.plan.places.clear();
            if let Some(t) = &mut s.plan.transect {
                t.placing = Placing::Even;
            }
        });
    };
    move || {
        let used = used.get();
        (!used.is_empty()).then(|| {
            view! {
                <p id="plan-places">{told_of_plan(&used)}</p>
                <span class="problem" role="status">{move || model.problem("plan.places")}</span>
                <p class="buttons"><button type="button" id="places-anywhere" on:click=anywhere>{ANYWHERE}</button></p>
            }
        })
    }
}
