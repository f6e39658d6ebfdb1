//! A whole number that is no part of the scenario, taken when the field is left; what does not fit stays in it with
//! the reason beside it.

use crate::state::Model;
use crate::words::numbers;
use leptos::prelude::*;

/// Fields that the answer does not hang on.
pub const ASIDE: [&str; 2] = ["season-number", "inventory-further"];

/// The input and its problem. `path` names it among what was refused.
pub fn input(
    model: Model,
    path: &'static str,
    ends: impl Fn() -> (u64, u64) + 'static,
    get: impl Fn() -> u64 + Send + Sync + 'static,
    set: impl Fn(u64) + 'static,
) -> (impl IntoView, impl IntoView) {
    let value = Memo::new(move |_| get());
    let refused = Memo::new(move |_| model.refused(path));
    let text = RwSignal::new(String::new());
    let show = move || refused.get().unwrap_or_else(|| value.get().to_string());
    Effect::new(move |_| text.set(show()));
    model.on_page(path.to_string());
    let change = move |event| {
        let typed = event_target_value(&event);
        text.set(typed.clone());
        let ends = ends();
        match typed.trim().parse::<u64>() {
            Ok(v) if (ends.0..=ends.1).contains(&v) => {
                model.unmark(path);
                text.set(v.to_string());
                set(v);
            }
            _ => model.mark(
                path,
                &typed,
                numbers::does_not_fit(&typed, &numbers::whole_bound(ends.0, ends.1)),
            ),
        }
    };
    let problem = move || model.marks.with(|m| m.get(path).map(|m| m.problem.clone()));
    let problem_id = format!("{path}-problem");
    let input = view! {
        <input id=path class="number" type="text" inputmode="numeric" autocomplete="off" size="6"
            aria-invalid=move || refused.with(Option::is_some).to_string()
            aria-describedby=problem_id.clone()
            prop:value=move || text.get()
            on:change=change />
    };
    let problem = view! { <span class="problem" id=problem_id role="status">{problem}</span> };
    (input, problem)
}
