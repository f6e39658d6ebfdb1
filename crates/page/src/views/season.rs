//! Which weeks: the season by week, a button for each week, the best weeks of a number, and a season that moves.

use super::frame::measured;
use super::whole;
use crate::browser;
use crate::state::Model;
use crate::words::{reading, season as words};
use engine::scenario::{Checked, Scenario};
use engine::season::{Best, Moved, SeasonReport, Weights, by_week, own, season_report};
use leptos::ev::KeyboardEvent;
use leptos::html::Div;
use leptos::prelude::*;
use paper::{season as told, sentences};

/// What was found, and of which scenario but for its weeks.
type Sought = Option<(Scenario, SeasonReport)>;

/// The scenario with its weeks left out of account.
fn but_for_weeks(s: &Scenario) -> Scenario {
    Scenario {
        plan: s.plan.in_weeks(&[1]),
        ..s.clone()
    }
}

fn button_id(week: u32) -> String {
    format!("season-week-{week}")
}

/// The section.
pub fn view(model: Model) -> impl IntoView {
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let weights = Weights::default();
    let figure = Memo::new(move |_| {
        let of = |s: &Checked| told::figure(s, &by_week(s, &weights), &weights);
        model.checked.with(|c| c.as_ref().ok().map(of))
    });
    let drawn = move || {
        figure.with(|f| {
            f.as_ref().map_or(String::new(), |f| {
                let mut f = f.clone();
                f.width = width.get();
                f.show_title = false;
                f.svg_unstyled()
            })
        })
    };
    let save = move |kind: &'static str| {
        move |_| {
            if let Some(f) = figure.get_untracked() {
                match kind {
                    "svg" => model.save("leastcatch-season.svg", "image/svg+xml", &f.svg()),
                    _ => model.save("leastcatch-season.csv", "text/csv", &f.csv()),
                }
            }
        }
    };
    view! {
            <div id="season-part">
                <p class="aside">{words::ABOUT}</p>
                {buttons(model, figure)}
                <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id="season-figure" node_ref=frame inner_html=drawn></div>
                <p class="buttons">
                    <button type="button" id="save-season-svg" on:click=save("svg")>{reading::SVG}</button>
    {super::reading::png(model, "season-figure")}
                    <button type="button" id="save-season-csv" on:click=save("csv")>{reading::CSV}</button>
                </p>
                <details>
                    <summary>{words::READ}</summary>
                    <div class="scroll" id="season-table" tabindex="0" role="region" aria-label=words::TABLE inner_html=move || figure.with(|f| f.as_ref().map_or(String::new(), |f| f.table().html()))></div>
                </details>
                {sought(model)}
            </div>
        }
}

/// Opens a week, or closes it; why not, if not.
fn toggled(s: &Scenario, week: u32) -> Result<Vec<u32>, String> {
    let mut weeks = s.plan.open_weeks();
    match weeks.iter().position(|w| *w == week) {
        Some(at) => {
            let fewest = if s.by_occupancy() { 2 } else { 1 };
            if weeks.len() <= fewest {
                return Err(words::stays_open(week, fewest));
            }
            weeks.remove(at);
        }
        None => {
            weeks.push(week);
            weeks.sort_unstable();
        }
    }
    Ok(weeks)
}

/// A button for each week that the picture shows, and one more on either side. One of them is reached by tab, the others
/// by arrows.
fn buttons(model: Model, figure: Memo<Option<figures::Calendar>>) -> impl IntoView {
    let shown = Memo::new(move |_| {
        let ends = figure.with(|f| {
            let weeks = &f.as_ref()?.weeks;
            Some((*weeks.first()?, *weeks.last()?))
        });
        ends.map_or((1, 0), |(first, last)| {
            ((first - 1).max(1), (last + 1).min(53))
        })
    });
    let open = Memo::new(move |_| model.scenario.with(|s| s.plan.open_weeks()));
    let at = RwSignal::new(0u32);
    // The week reached by tab: the one last reached, or the first that is open.
    let reached = Memo::new(move |_| {
        let (first, last) = shown.get();
        let at = at.get();
        if (first..=last).contains(&at) {
            at
        } else {
            open.with(|o| o.first().copied().unwrap_or(first))
                .clamp(first, last.max(first))
        }
    });
    let problem = RwSignal::new(String::new());
    let toggle = move |week: u32| match model.scenario.with_untracked(|s| toggled(s, week)) {
        Ok(weeks) => {
            problem.set(String::new());
            model.edit(|s| s.plan = s.plan.in_weeks(&weeks));
        }
        Err(why) => problem.set(why),
    };
    let go = move |event: KeyboardEvent, week: u32| {
        let (first, last) = shown.get_untracked();
        let to = match event.key().as_str() {
            "ArrowRight" | "ArrowDown" => (week + 1).min(last),
            "ArrowLeft" | "ArrowUp" => (week - 1).max(first),
            "Home" => first,
            "End" => last,
            _ => return,
        };
        event.prevent_default();
        at.set(to);
        browser::focus(&button_id(to));
    };
    view! {
        <p id="season-keys" class="aside">{words::KEYS}</p>
        <div class="weeks-row" role="group" aria-label=words::OPEN_WEEKS aria-describedby="season-keys">
            <For each=move || { let (first, last) = shown.get(); first..=last } key=|w| *w let:week>
                <button
                    type="button"
                    id=button_id(week)
                    aria-label=words::week(week)
                    aria-pressed=move || open.with(|o| o.contains(&week)).to_string()
                    tabindex=move || if reached.get() == week { "0" } else { "-1" }
                    on:click=move |_| { at.set(week); toggle(week); }
                    on:keydown=move |e| go(e, week)
                >{week}</button>
            </For>
        </div>
        <p class="problem" id="season-problem" role="status">{move || problem.get()}</p>
    }
}

/// The best weeks of a number, and a season that moves.
fn sought(model: Model) -> impl IntoView {
    let found: RwSignal<Sought> = RwSignal::new(None);
    let number = RwSignal::new(None::<u32>);
    let wanted = move || {
        number
            .get()
            .unwrap_or_else(|| model.scenario.with(|s| s.plan.weeks))
    };
    let fewest = move || {
        model
            .scenario
            .with(|s| if s.by_occupancy() { 2 } else { 1 })
    };
    let bad = Memo::new(move |_| model.refused("season-number").is_some());
    let fits = move || !bad.get() && (fewest()..=53).contains(&wanted());
    let (input, problem) = whole::input(
        model,
        "season-number",
        move || (fewest().into(), 53),
        move || u64::from(wanted()),
        move |v| number.set(u32::try_from(v).ok()),
    );
    let find = move |_| {
        let report = model.checked.with_untracked(|c| {
            let s = c.as_ref().ok()?;
            let number = number.get_untracked().unwrap_or(s.plan.weeks);
            Some((
                but_for_weeks(s),
                season_report(s, number, Weights::default()),
            ))
        });
        found.set(report);
    };
    let current = move || {
        let key = model.scenario.with(but_for_weeks);
        found.with(|f| {
            f.as_ref()
                .filter(|(of, _)| *of == key)
                .map(|(_, r)| r.clone())
        })
    };
    view! {
        <h4 id="season-best-title">{words::BEST}</h4>
        <div class="control">
            <label for="season-number">{words::HOW_MANY}<span class="unit">{words::A_YEAR}</span></label>
            <div class="entry">{input}</div>
            {problem}
        </div>
        <p class="buttons"><button type="button" id="find-season" prop:disabled=move || !fits() on:click=find>
            {move || words::find(wanted())}
        </button></p>
        <div aria-live="polite">{move || current().map(|r| result(model, &r))}</div>
    }
}

fn result(model: Model, r: &SeasonReport) -> impl IntoView + use<> {
    let target = model
        .scenario
        .with_untracked(|s| s.premises.target.name.clone());
    let best = r.best.clone();
    let table = move || {
        // The plan's own weeks as they are now.
        let own = model
            .checked
            .with(|c| c.as_ref().ok().map(|s| own(s, &Weights::default())));
        own.map(|own| told::sets(&target, &own, &best).html())
    };
    let take = r.best.iter().filter_map(|b: &Best| {
        let weeks = b.set.as_ref()?.weeks.clone();
        let text = words::take(&sentences::in_weeks(&weeks), told::goal(b.goal));
        let id = format!("take-{}", told::goal(b.goal).replace(' ', "-"));
        Some(view! {
            <button type="button" id=id on:click=move |_| model.edit(|s| s.plan = s.plan.in_weeks(&weeks))>{text}</button>
        })
    });
    let moved: &[Moved] = &r.robustness;
    view! {
        <p id="season-search">{told::search(&r.plan, r.number, &r.best)}</p>
        <div class="scroll" id="season-sets" tabindex="0" role="region" aria-label=words::BEST_TABLE inner_html=table></div>
        <p class="buttons">{take.collect_view()}</p>
        <div class="scroll" id="season-moves" tabindex="0" role="region" aria-label=words::MOVES_TABLE inner_html=told::robustness(moved).html()></div>
        <ul class="aside">{told::CAUTIONS.map(|c| view! { <li>{figures::locale::retold(c)}</li> })}</ul>
    }
}
