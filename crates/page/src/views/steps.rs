//! Undo, redo, reset and the link; what is said of them, of storage, and of a newer version of the page.

use crate::browser;
use crate::state::{Link, Model};
use crate::words::{link as link_words, steps as words, undo};
use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::prelude::JsCast;
use web_sys::{Element, Event, KeyboardEvent};

/// Whether what is typed into an element has not been taken yet, so that the browser's own undo belongs to it.
/// `typing` tells so of fields that are taken when they are left; the others say it of themselves.
fn has_own_undo(target: Option<Element>, typing: bool) -> bool {
    let Some(target) = target else { return false };
    if target.has_attribute("data-live") {
        return target.has_attribute("data-pending");
    }
    typing
}

/// What a key means: undo, redo, or nothing of ours.
fn meant(event: &KeyboardEvent) -> Option<bool> {
    if !(event.ctrl_key() || event.meta_key()) || event.alt_key() {
        return None;
    }
    match (event.key().to_lowercase().as_str(), event.shift_key()) {
        ("z", false) => Some(true),
        ("z", true) | ("y", false) => Some(false),
        _ => None,
    }
}

fn element(event: &Event) -> Option<Element> {
    event.target()?.dyn_into().ok()
}

/// Listens to the keys, to the address, and to the end of the visit.
fn listen(model: Model, newer: RwSignal<bool>) {
    let typing = StoredValue::new(false);
    let live = |e: &Event| element(e).is_some_and(|e| e.has_attribute("data-live"));
    let typed = window_event_listener_untyped("input", move |e| typing.set_value(!live(&e)));
    let taken = window_event_listener_untyped("change", move |_| typing.set_value(false));
    let left = window_event_listener_untyped("focusout", move |_| typing.set_value(false));
    let keys = window_event_listener(leptos::ev::keydown, move |event| {
        let Some(back) = meant(&event) else { return };
        if has_own_undo(element(&event), typing.get_value()) {
            return;
        }
        event.prevent_default();
        if back { model.undo() } else { model.redo() }
    });
    let address = window_event_listener_untyped("hashchange", move |_| {
        model.follow(&browser::fragment());
    });
    // What is being typed when the page is left is taken and kept.
    let leaving = window_event_listener_untyped("pagehide", |_| browser::end_typing());
    let version = window_event_listener_untyped("leastcatch-newer", move |_| newer.set(true));
    let all = [typed, taken, left, keys, address, leaving, version];
    on_cleanup(move || all.into_iter().for_each(WindowListenerHandle::remove));
}

/// The buttons and what is said.
pub fn view(model: Model) -> impl IntoView {
    let newer = RwSignal::new(false);
    listen(model, newer);
    let back = Memo::new(move |_| model.steps.with(|s| s.0.clone()));
    let forth = Memo::new(move |_| model.steps.with(|s| s.1.clone()));
    view! {
        <p class="buttons steps" role="group" aria-label=words::GROUP>
            <button type="button" id="undo" aria-keyshortcuts="Control+Z Meta+Z"
                prop:disabled=move || back.with(Option::is_none)
                title=move || undo::would_undo(back.get().as_deref())
                on:click=move |_| model.undo()>{undo::UNDO}</button>
            <button type="button" id="redo" aria-keyshortcuts="Control+Shift+Z Control+Y Meta+Shift+Z"
                prop:disabled=move || forth.with(Option::is_none)
                title=move || undo::would_redo(forth.get().as_deref())
                on:click=move |_| model.redo()>{undo::REDO}</button>
            <button type="button" id="reset" title=undo::RESET_TITLE on:click=move |_| model.reset()>{undo::RESET}</button>
            {copying(model)}
        </p>
        <p class="said" id="said" role="status">{move || model.said.get()}</p>
        {move || model.refused_storage.get().then(|| view! { <p class="problem" id="not-kept" role="alert">{words::NOT_KEPT}</p> })}
        {move || match model.link.get() {
            Link::TooLong(length) => Some(view! { <p class="problem" id="no-link" role="status">{link_words::too_long(length)}</p> }),
            _ => None,
        }}
        {move || newer.get().then(|| view! {
            <p class="newer" id="newer" role="status">
                {words::NEWER} " "
                <button type="button" id="reload" on:click=move |_| browser::reload()>{words::RELOAD}</button>
            </p>
        })}
    }
}

/// Copies the link, or shows it to be copied by hand.
fn copying(model: Model) -> impl IntoView {
    let by_hand = RwSignal::new(None::<String>);
    let field = NodeRef::<Input>::new();
    Effect::new(move |_| {
        if let (Some(field), true) = (field.get(), by_hand.with(Option::is_some)) {
            // Selecting is a help only.
            let _ = field.focus();
            field.select();
        }
    });
    let copy = move |_| match model.link_now() {
        Err(why) => model.said.set(why),
        Ok(link) => spawn_local(async move {
            if browser::copy(&link).await {
                by_hand.set(None);
                model.said.set(link_words::COPIED.into());
            } else {
                by_hand.set(Some(link));
                model.said.set(link_words::BY_HAND.into());
            }
        }),
    };
    view! {
        <button type="button" id="copy-link" on:click=copy>{link_words::COPY}</button>
        {move || by_hand.get().map(|link| view! {
            <input type="text" readonly class="link" id="link" aria-label=link_words::FIELD node_ref=field prop:value=link />
        })}
    }
}
