//! Boxes for the patterns of revisits and the schemes of visits that the search may choose among.

use crate::state::Model;
use crate::views::tick::tick;
use crate::words::search_ways::{REVISITS, REVISITS_NOTE, SCHEMES};
use engine::scenario::{Effect, Plan, Revisit, Scenario, Scheme};
use leptos::prelude::*;
use paper::{revisit, sentences};

/// The patterns that are offered: those listed, the plan's own, and the usual ones with as many sites in a year as the
/// plan has; none where the question takes none.
fn offered(s: &Scenario) -> Vec<Option<Revisit>> {
    let mut all = s.limits.revisits.clone();
    if revisit::no_patterns(s).is_none() {
        let whole = Plan {
            revisit: None,
            sites: s.plan.most_sites_in_a_year(),
            ..s.plan.clone()
        };
        all.extend([None, s.plan.revisit, Some(Revisit::EveryK { years: 2 })]);
        let usual = engine::patterns::compared(&whole);
        all.extend(usual.into_iter().map(|(pattern, _)| pattern));
    }
    let mut each = Vec::new();
    for pattern in all {
        if !each.contains(&pattern) {
            each.push(pattern);
        }
    }
    // In one order, whichever are ticked.
    each.sort_by_key(|p| p.map_or((0, String::new()), |p| (1, revisit::name(Some(p)))));
    each
}

fn revisits(model: Model) -> impl IntoView {
    let all = Memo::new(move |_| model.scenario.with(offered));
    let set = move |pattern: Option<Revisit>, on: bool| {
        model.edit(|s| {
            s.limits.revisits.retain(|p| *p != pattern);
            if on {
                s.limits.revisits.push(pattern);
            }
        });
    };
    let one = move |(i, pattern): (usize, Option<Revisit>)| {
        let listed = move || {
            model
                .scenario
                .with(|s| s.limits.revisits.contains(&pattern))
        };
        let id = format!("limits-revisit-{i}");
        tick(id, revisit::name(pattern), listed, move |on| {
            set(pattern, on);
        })
    };
    move || {
        let all = all.get();
        (!all.is_empty()).then(|| {
            view! {
                <fieldset class="told" id="limits-revisits">
                    <legend>{REVISITS}</legend>
                    {all.into_iter().enumerate().map(one).collect_view()}
                    <p class="aside">{REVISITS_NOTE}</p>
                </fieldset>
            }
        })
    }
}

fn schemes(model: Model) -> impl IntoView {
    let asked = Memo::new(move |_| {
        let asked = |s: &Scenario| {
            matches!(s.question.effect, Effect::Occupancy(_)) || !s.limits.schemes.is_empty()
        };
        model.scenario.with(asked)
    });
    let set = move |scheme: Scheme, on: bool| {
        model.edit(|s| {
            s.limits.schemes.retain(|other| *other != scheme);
            if on {
                s.limits.schemes.push(scheme);
            }
        });
    };
    let one = move |scheme: Scheme| {
        let listed = move || model.scenario.with(|s| s.limits.schemes.contains(&scheme));
        let id = format!("limits-scheme-{}", scheme.key());
        tick(id, sentences::scheme(scheme).into(), listed, move |on| {
            set(scheme, on);
        })
    };
    move || {
        asked.get().then(|| {
            view! {
                <fieldset class="told" id="limits-schemes">
                    <legend>{SCHEMES}</legend>
                    {Scheme::ALL.into_iter().map(one).collect_view()}
                </fieldset>
            }
        })
    }
}

/// Patterns, and schemes where the question has any.
pub fn view(model: Model) -> impl IntoView {
    view! {
        {revisits(model)}
        {schemes(model)}
    }
}
