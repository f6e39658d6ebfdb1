//! Mistakes to show: small demonstrations with numbers to move, each with its sentence and picture.
//!
//! What is closed computes nothing. The numbers are those of the scenario until they are moved.

use super::field::number;
use super::frame::measured;
use crate::state::Model;
use crate::words::{mistakes as words, numbers, reading};
use engine::mistakes::{Base, Knob, Mistake, Shown};
use figures::locale::retold;
use leptos::html::Div;
use leptos::prelude::*;
use paper::mistakes as told;
use paper::number::plain;

type Knobs = Option<Vec<Knob>>;

/// The section.
pub fn view(model: Model) -> impl IntoView {
    let base = Memo::new(move |_| model.checked.with(|c| c.as_ref().ok().map(Base::of)));
    let all = Mistake::ALL.into_iter().map(|m| one(model, base, m));
    view! {
        <div id="mistakes">
            <p class="aside">{words::ABOUT}</p>
            {move || base.with(Option::is_none).then(|| view! { <p class="aside">{words::MEND}</p> })}
            {all.collect_view()}
            <p class="aside">{told::WHAT}</p>
        </div>
    }
}

fn one(model: Model, base: Memo<Option<Base>>, mistake: Mistake) -> impl IntoView {
    let open = RwSignal::new(false);
    // Kept while it is closed.
    let moved = RwSignal::new(Knobs::None);
    let toggled = move |event: leptos::ev::Event| {
        open.set(event_target::<web_sys::Element>(&event).has_attribute("open"));
    };
    view! {
        <details class="mistake" id=format!("mistake-part-{}", mistake.key()) on:toggle=toggled>
            <summary>{told::title(mistake)}</summary>
            {move || open.get().then(|| inside(model, base, mistake, moved))}
        </details>
    }
}

fn inside(
    model: Model,
    base: Memo<Option<Base>>,
    mistake: Mistake,
    moved: RwSignal<Knobs>,
) -> impl IntoView {
    let knobs = Memo::new(move |_| {
        let begin = || base.with(|b| b.as_ref().map(|b| mistake.knobs(b)));
        moved.get().or_else(begin)
    });
    let shown = Memo::new(move |_| {
        let knobs = knobs.get()?;
        let seed = model.seed.get();
        base.with(|b| b.as_ref().map(|b| mistake.shown(b, &knobs, seed)))
    });
    let number_of_knobs = Memo::new(move |_| knobs.with(|k| k.as_ref().map_or(0, Vec::len)));
    let set = move |place: usize, value: f64| {
        let Some(mut now) = knobs.get_untracked() else {
            return;
        };
        if let Some(knob) = now.get_mut(place) {
            knob.value = value;
        }
        mistake.settle(&mut now);
        moved.set(Some(now));
    };
    let controls = move || {
        (0..number_of_knobs.get())
            .map(|place| control(mistake, knobs, moved, place, set))
            .collect_view()
    };
    let sentences = move |skip: usize| {
        let all = shown.with(|s| s.as_ref().map(told::sentences));
        all.unwrap_or_default().into_iter().skip(skip)
    };
    let key = mistake.key();
    view! {
        <p>{told::why(mistake)}</p>
        <div class="knobs">{controls}</div>
        <p class="buttons">
            <button type="button" id=format!("mistake-{key}-back") disabled=move || moved.with(Option::is_none) on:click=move |_| moved.set(None)>{words::BACK}</button>
        </p>
        <p class="mistake-told" id=format!("mistake-{key}-told") aria-live="polite">{move || sentences(0).next()}</p>
        <ul class="fits" id=format!("mistake-{key}-more")>
            {move || sentences(1).map(|l| view! { <li>{l}</li> }).collect_view()}
        </ul>
        {picture(model, mistake, shown)}
        <p>{told::instead(mistake)}</p>
        <p class="aside">{words::after(told::source(mistake))}</p>
    }
}

fn picture(model: Model, mistake: Mistake, shown: Memo<Option<Shown>>) -> impl IntoView {
    let frame = NodeRef::<Div>::new();
    let width = measured(frame);
    let figure = move || shown.with(|s| s.as_ref().map(told::figure));
    let drawn = move || {
        figure().map_or(String::new(), |mut f| {
            f.width = width.get();
            // The heading above says it.
            f.show_title = false;
            f.svg_unstyled()
        })
    };
    let table = move || figure().map_or(String::new(), |f| f.table().html());
    let key = mistake.key();
    let save_svg = move |_| {
        if let Some(f) = figure() {
            model.save(&format!("leastcatch-{key}.svg"), "image/svg+xml", &f.svg());
        }
    };
    let save_csv = move |_| {
        if let Some(f) = figure() {
            model.save(&format!("leastcatch-{key}.csv"), "text/csv", &f.csv());
        }
    };
    view! {
        <div class="frame" tabindex="0" role="group" aria-label=reading::FRAME id=format!("mistake-{key}-figure") node_ref=frame inner_html=drawn></div>
        <p class="buttons">
            <button type="button" on:click=save_svg>{reading::SVG}</button>
            <button type="button" on:click=save_csv>{reading::CSV}</button>
        </p>
        <details>
            <summary>{words::AS_TABLE}</summary>
            <div class="scroll" tabindex="0" role="region" aria-label=words::table_of(told::title(mistake)) inner_html=table></div>
        </details>
    }
}

/// A slider with its number beside it: either is moved by key.
fn control(
    mistake: Mistake,
    knobs: Memo<Knobs>,
    moved: RwSignal<Knobs>,
    place: usize,
    set: impl Fn(usize, f64) + Copy + Send + Sync + 'static,
) -> impl IntoView {
    let knob = Memo::new(move |_| knobs.with(|k| k.as_ref().and_then(|k| k.get(place).cloned())));
    let value = Memo::new(move |_| knob.with(|k| k.as_ref().map_or(f64::NAN, |k| k.value)));
    let (label, unit, key, step) = knob.with_untracked(|k| {
        let k = k.as_ref();
        k.map_or(("", "", "", 1.0), |k| (k.label, k.unit, k.key, k.step))
    });
    let text = RwSignal::new(plain(value.get_untracked()));
    let problem = RwSignal::new(None::<String>);
    // Moved by the slider, or from elsewhere: the number says it too.
    Effect::new(move |_| {
        moved.track();
        let now = value.get();
        let typed = number(&text.get_untracked());
        if typed.is_none_or(|t| (t - now).abs() > 1e-9 * now.abs()) {
            text.set(plain(now));
        }
        problem.set(None);
    });
    let typed = move |event| {
        let new = event_target_value(&event);
        text.set(new.clone());
        let known = knob.get_untracked();
        let fits = number(&new).filter(|v| known.as_ref().is_some_and(|k| k.allows(*v)));
        match fits {
            Some(v) => {
                problem.set(None);
                set(place, v);
            }
            None => problem.set(known.map(|k| numbers::does_not_fit(&new, &retold(&k.bound())))),
        }
    };
    let slid = move |event| {
        // A slider tells its value as machines write it.
        if let Ok(v) = event_target_value(&event).parse() {
            set(place, v);
        }
    };
    let end = move |of: fn(&Knob) -> f64| {
        move || knob.with(|k| k.as_ref().map_or(String::new(), |k| of(k).to_string()))
    };
    let id = format!("mistake-{}-{key}", mistake.key());
    let (number_id, problem_id) = (format!("{id}-number"), format!("{id}-problem"));
    view! {
        <div class="knob">
            <label for=id.clone()>{label}" "<span class="unit">{unit}</span></label>
            <input
                type="range"
                id=id
                min=end(|k| k.low)
                max=end(|k| k.high)
                step=step.to_string()
                aria-valuetext=move || format!("{} {unit}", plain(value.get()))
                prop:value=move || value.get().to_string()
                on:input=slid
            />
            <input
                type="text"
                class="number"
                inputmode="decimal"
                autocomplete="off"
                id=number_id
                aria-label=words::as_number(label)
                aria-invalid=move || problem.with(Option::is_some).to_string()
                aria-describedby=problem_id.clone()
                size="7"
                prop:value=move || text.get()
                on:input=typed
            />
            <span class="problem" id=problem_id role="status">{move || problem.get()}</span>
        </div>
    }
}
