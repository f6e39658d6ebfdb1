//! Which sites are visited in which years: the pattern, the gaps, the calendar, and what each pattern makes of the plan;
//! and what does not come back.

use super::frame::measured;
use super::plan::{choice, fields};
use super::tick::tick;
use crate::state::Model;
use crate::words::{reading, revisit as words};
use engine::scenario::{Effect, Plan, Revisit, Scenario};
use leptos::html::Div;
use leptos::prelude::*;
use paper::{returns, revisit};

/// The patterns by their place in the list, with their numbers; the first is none.
const PATTERNS: [(&str, &[&str]); 7] = [
    (words::EVERY_SITE, &[]),
    (words::EVERY_K, &["plan.revisit.every_k.years"]),
    (words::ALTERNATING, &["plan.revisit.alternating.panels"]),
    (
        words::AUGMENTED,
        &[
            "plan.revisit.augmented.always",
            "plan.revisit.augmented.panels",
        ],
    ),
    (words::ROTATING, &["plan.revisit.rotating.stay"]),
    (words::SPLIT, &["plan.revisit.split.always"]),
    (words::NEW_EACH_YEAR, &[]),
];

fn place(revisit: Option<Revisit>) -> usize {
    match revisit {
        None => 0,
        Some(Revisit::EveryK { .. }) => 1,
        Some(Revisit::Alternating { .. }) => 2,
        Some(Revisit::Augmented { .. }) => 3,
        Some(Revisit::Rotating { .. }) => 4,
        Some(Revisit::Split { .. }) => 5,
        Some(Revisit::NewEachYear) => 6,
    }
}

/// Sets a pattern with usual numbers and as many sites in a year as there were.
fn set(s: &mut Scenario, wanted: usize) {
    let whole = Plan {
        revisit: None,
        sites: s.plan.most_sites_in_a_year(),
        ..s.plan.clone()
    };
    let found = engine::patterns::compared(&whole)
        .into_iter()
        .find(|(revisit, _)| place(*revisit) == wanted);
    let (revisit, sites) = match wanted {
        1 => (Some(Revisit::EveryK { years: 2 }), whole.sites),
        _ => found.unwrap_or((None, whole.sites)),
    };
    (s.plan.revisit, s.plan.sites) = (revisit, sites);
    s.limits.sites = s.limits.sites.max(sites);
}

/// The nearest number of sites that the pattern can be made of, when the plan's is none.
fn fit(s: &mut Scenario) {
    let plan = &s.plan;
    if plan.revisit.is_some() && !plan.fits_pattern(plan.sites) {
        let (fewest, step) = (plan.fewest_for_pattern(), plan.pattern_step());
        let over = plan.sites.saturating_sub(fewest);
        s.plan.sites = fewest + (over + step / 2) / step * step;
        s.limits.sites = s.limits.sites.max(s.plan.sites);
    }
}

/// Whether a question takes patterns.
/// Whether the question takes a pattern.
pub fn takes(s: &Scenario) -> bool {
    let first_and_last = matches!(s.question.effect, Effect::Occupancy(_)) && s.plan.years < 3;
    revisit::no_patterns(s).is_none() && !first_and_last
}

/// The controls.
pub fn controls(model: Model) -> impl IntoView {
    let asked = Memo::new(move |_| model.scenario.with(takes));
    let at = Memo::new(move |_| model.scenario.with(|s| place(s.plan.revisit)));
    let unfit = Memo::new(move |_| {
        let fits = |s: &Scenario| s.plan.fits_pattern(s.plan.sites);
        model.scenario.with(|s| !fits(s))
    });
    let options = PATTERNS.iter().enumerate();
    let options: Vec<(&'static str, usize)> = options.map(|(i, (name, _))| (*name, i)).collect();
    move || {
        asked.get().then(|| view! {
            {choice("plan-revisit", words::CHOICE, options.clone(), move || at.get(), move |v| model.edit(|s| set(s, v)))}
            {move || fields(model, PATTERNS[at.get()].1)}
            {move || unfit.get().then(|| view! {
                <p class="buttons"><button type="button" id="fit-panels" on:click=move |_| model.edit(fit)>{words::FIT}</button></p>
            })}
            {gaps(model)}
        })
    }
}

/// A box for each year that may be left out.
fn gaps(model: Model) -> impl IntoView {
    let years = Memo::new(move |_| model.scenario.with(|s| s.plan.years));
    let one = move |year: u32| {
        let id = format!("gap-{year}");
        let told = move || model.scenario.with(|s| s.plan.gap_years.contains(&year));
        let mark = move |on: bool| {
            model.edit(|s| {
                s.plan.gap_years.retain(|y| *y != year);
                if on {
                    s.plan.gap_years.push(year);
                    s.plan.gap_years.sort_unstable();
                }
            });
        };
        tick(id, words::year(year), told, mark)
    };
    view! {
        <details id="gap-years">
            <summary>{words::GAPS}</summary>
            <div class="ticks">{move || (2..years.get()).map(one).collect_view()}</div>
        </details>
    }
}

/// A fold-out whose content is worked out while it is open.
fn folded<V: IntoView + 'static>(
    id: &'static str,
    title: &'static str,
    content: impl Fn() -> V + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let open = RwSignal::new(false);
    let toggled = move |_| open.update(|o| *o = !*o);
    view! {
        <details id=id on:toggle=toggled>
            <summary>{title}</summary>
            {move || open.get().then(content)}
        </details>
    }
}

/// The calendar and the comparison of patterns.
pub fn view(model: Model) -> impl IntoView {
    let asked = Memo::new(move |_| model.scenario.with(takes));
    move || {
        asked.get().then(|| view! {
            <div id="revisit-part">
                <p id="revisit-told">{move || words::told(model.scenario.with(|s| revisit::phrase(&s.plan)))}</p>
                {folded("calendar-part", words::CALENDAR, move || calendar(model))}
                {folded("patterns-part", words::PATTERNS, move || compared(model))}
            </div>
        })
    }
}

fn calendar(model: Model) -> impl IntoView {
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let figure = Memo::new(move |_| {
        let width = width.get();
        model.checked.with(|c| {
            let mut figure = revisit::calendar(&c.as_ref().ok()?.plan);
            (figure.show_title, figure.width) = (false, width);
            Some(figure)
        })
    });
    let told = move |f: fn(&figures::VisitsGrid) -> String| {
        move || figure.with(|c| c.as_ref().map_or(String::new(), f))
    };
    let save = move |_| {
        if let Some(mut f) = figure.get_untracked() {
            f.show_title = true;
            model.save("leastcatch-calendar.svg", "image/svg+xml", &f.svg());
        }
    };
    view! {
            <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="calendar" node_ref=frame inner_html=told(|f| f.svg_unstyled())></div>
            <p class="buttons"><button type="button" id="save-calendar" on:click=save>{reading::SVG}</button>
    {super::reading::png(model, "calendar")}</p>
            <div class="scroll" tabindex="0" role="region" aria-label=words::CALENDAR_TABLE inner_html=told(|f| f.table().html())></div>
        }
}

fn compared(model: Model) -> impl IntoView {
    let table = move || {
        model.checked.with(|c| {
            let s = c.as_ref().ok()?;
            Some(revisit::patterns_table(&revisit::compare(s)).html())
        })
    };
    view! {
        <div class="scroll" id="patterns-table" tabindex="0" role="region" aria-label=words::PATTERNS_TABLE inner_html=move || table().unwrap_or_default()></div>
        <p class="aside">{revisit::PATTERNS_NOTE}</p>
    }
}

/// Drop-out and late samples, beside the losses.
pub fn missing(model: Model) -> impl IntoView {
    let asked = Memo::new(move |_| model.scenario.with(takes));
    move || {
        asked.get().then(|| {
            view! {
                {fields(model, &["premises.attrition", "premises.late_share"])}
                <p class="aside">{words::MISSING}</p>
                {folded("returns-part", words::RETURNS, move || costs(model))}
            }
        })
    }
}

fn costs(model: Model) -> impl IntoView {
    let told = Memo::new(move |_| {
        model.checked.with(|c| {
            let s = c.as_ref().ok()?;
            let told = engine::returns::returns(s);
            let lines = told.recruit.as_ref().map(|r| returns::recruit(&s.plan, r));
            Some((returns::table(s, &told).html(), lines.unwrap_or_default()))
        })
    });
    view! {
        <div class="scroll" id="returns-table" tabindex="0" role="region" aria-label=words::RETURNS_TABLE inner_html=move || told.with(|t| t.as_ref().map_or(String::new(), |t| t.0.clone()))></div>
        <ul id="recruit-told">
            {move || told.with(|t| t.as_ref().map_or(Vec::new(), |t| t.1.clone())).into_iter().map(|l| view! { <li>{l}</li> }).collect_view()}
        </ul>
        <p class="aside">{figures::locale::retold(returns::SOURCES)}</p>
    }
}
