//! What the page needs of the browser: files in and out, storage, clock.

use crate::words::files as words;
use js_sys::{Array, Uint8Array};
use leptos::prelude::set_timeout;
use std::time::Duration;
use wasm_bindgen::prelude::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, BlobPropertyBag, CanvasRenderingContext2d, File, HtmlAnchorElement, HtmlCanvasElement,
    HtmlDialogElement, HtmlElement, HtmlImageElement, HtmlInputElement, Url,
};

/// Milliseconds since the page was opened.
pub fn now() -> f64 {
    web_sys::window()
        .and_then(|w| w.performance())
        .map_or(0.0, |p| p.now())
}

/// Room for a picture across the window, in pixels.
pub fn room() -> f64 {
    let width = web_sys::window()
        .and_then(|w| w.inner_width().ok())
        .and_then(|w| w.as_f64());
    width.map_or(760.0, |w| (w - 48.0).clamp(300.0, 760.0))
}

/// The element with this id, as what it is, where there is one.
fn element<T: JsCast>(id: &str) -> Option<T> {
    let document = web_sys::window()?.document()?;
    document.get_element_by_id(id)?.dyn_into().ok()
}

/// Moves the keyboard to the element with this id, where there is one.
pub fn focus(id: &str) {
    if let Some(element) = element::<HtmlElement>(id) {
        // An element that cannot be reached leaves the keyboard where it is.
        let _ = element.focus();
    }
}

/// Has the browser save what is at an address under a name.
fn hand_over(address: &str, name: &str) -> Result<(), JsValue> {
    let document = web_sys::window().and_then(|w| w.document());
    let document = document.ok_or("no document")?;
    let anchor: HtmlAnchorElement = document.create_element("a")?.dyn_into()?;
    anchor.set_href(address);
    anchor.set_download(name);
    anchor.click();
    Ok(())
}

/// An address at which the browser holds a text, until it is revoked.
fn object_url(kind: &str, text: &str) -> Result<String, JsValue> {
    let bag = BlobPropertyBag::new();
    bag.set_type(kind);
    let blob = Blob::new_with_str_sequence_and_options(&Array::of1(&text.into()), &bag)?;
    Url::create_object_url_with_blob(&blob)
}

/// Offers text as a file to save. What went wrong, if anything.
pub fn save(name: &str, kind: &str, text: &str) -> Result<(), String> {
    let wrong = |_| words::NOT_SAVED.to_string();
    let url = object_url(kind, text).map_err(wrong)?;
    hand_over(&url, name).map_err(wrong)?;
    Url::revoke_object_url(&url).map_err(wrong)
}

/// The file chosen in an input.
pub fn chosen(input: &HtmlInputElement) -> Option<File> {
    input.files().and_then(|list| list.get(0))
}

/// The bytes of a file.
pub async fn bytes(file: &File) -> Result<Vec<u8>, String> {
    let buffer = JsFuture::from(file.array_buffer())
        .await
        .map_err(|_| words::not_read(&file.name()))?;
    Ok(Uint8Array::new(&buffer).to_vec())
}

/// The end of the address after its number sign; empty when there is none.
pub fn fragment() -> String {
    let hash = web_sys::window().and_then(|w| w.location().hash().ok());
    hash.map_or(String::new(), |h| h.trim_start_matches('#').to_string())
}

/// The page's address with another end; with an empty one without.
pub fn address_with(fragment: &str) -> String {
    let href = web_sys::window().and_then(|w| w.location().href().ok());
    let href = href.unwrap_or_default();
    let bare = href.split('#').next().unwrap_or_default();
    if fragment.is_empty() {
        bare.to_string()
    } else {
        format!("{bare}#{fragment}")
    }
}

/// Writes the end of the address, without a step in the browser's own history.
pub fn set_fragment(fragment: &str) {
    if fragment == self::fragment() {
        return;
    }
    let history = web_sys::window().and_then(|w| w.history().ok());
    if let Some(history) = history {
        let url = address_with(fragment);
        // A browser that refuses leaves the old address; what is kept in it still comes back on a reload.
        let _ = history.replace_state_with_url(&JsValue::NULL, "", Some(&url));
    }
}

/// Copies text to the clipboard; whether the browser let it.
pub async fn copy(text: &str) -> bool {
    let Some(navigator) = web_sys::window().map(|w| w.navigator()) else {
        return false;
    };
    let clipboard = navigator.clipboard();
    // Where the page was not loaded safely there is none.
    if clipboard.is_undefined() {
        return false;
    }
    JsFuture::from(clipboard.write_text(text)).await.is_ok()
}

/// Loads the page again.
pub fn reload() {
    if let Some(window) = web_sys::window() {
        // A browser that refuses stays on the page, which goes on working.
        let _ = window.location().reload();
    }
}

/// Ends typing in the field that has the keyboard, so that what it holds is taken.
pub fn end_typing() {
    let document = web_sys::window().and_then(|w| w.document());
    let element = document.and_then(|d| d.active_element());
    if let Some(element) = element.and_then(|e| e.dyn_into::<HtmlElement>().ok()) {
        // Where there is nothing to be ended, nothing is.
        let _ = element.blur();
    }
}

const KEPT: &str = "leastcatch-scenario";

/// Keeps a text in this browser; whether the browser let it.
pub fn keep(text: &str) -> bool {
    keep_under(KEPT, text)
}

/// The text kept by an earlier visit.
pub fn kept() -> Option<String> {
    kept_under(KEPT)
}

/// Keeps a text under a name in this browser; whether it could.
pub fn keep_under(name: &str, text: &str) -> bool {
    let storage = web_sys::window().and_then(|w| w.local_storage().ok().flatten());
    storage.is_some_and(|s| s.set_item(name, text).is_ok())
}

/// What an earlier visit kept under a name.
pub fn kept_under(name: &str) -> Option<String> {
    web_sys::window()?
        .local_storage()
        .ok()??
        .get_item(name)
        .ok()?
}

/// Opens a dialog over the whole page; one that is open stays.
pub fn open_dialog(id: &str) {
    if let Some(dialog) = element::<HtmlDialogElement>(id).filter(|d| !d.open()) {
        // It is closed and in the document, so that it can be opened.
        let _ = dialog.show_modal();
    }
}

/// Closes a dialog.
pub fn close_dialog(id: &str) {
    if let Some(dialog) = element::<HtmlDialogElement>(id) {
        dialog.close();
    }
}

/// Gives an element the whole screen, or takes it back. A browser that does not let it leaves things as they are.
pub fn full_screen() {
    let Some(document) = web_sys::window().and_then(|w| w.document()) else {
        return;
    };
    if document.fullscreen_element().is_some() {
        document.exit_fullscreen();
    } else if let Some(page) = document.document_element() {
        // A dialog, which stands before all of the page, may not ask for it itself.
        let _ = page.request_fullscreen();
    }
}

/// Scrolls to an element unless its top is in the window.
pub fn bring_into_view(element: &web_sys::Element) {
    let height = web_sys::window().and_then(|w| w.inner_height().ok()?.as_f64());
    let top = element.get_bounding_client_rect().top();
    if top < 0.0 || height.is_some_and(|height| top >= height) {
        element.scroll_into_view_with_bool(true);
    }
}

/// What a picture of the show is drawn for, in pixels: on a wide screen it is shown larger than that, its words too, so
/// that they are read at the back of a room.
pub fn show_width() -> f64 {
    let size = |v: Result<wasm_bindgen::JsValue, _>| v.ok().and_then(|w| w.as_f64());
    let Some(window) = web_sys::window() else {
        return 960.0;
    };
    let wide = size(window.inner_width()).unwrap_or(960.0) - 96.0;
    let high = size(window.inner_height()).unwrap_or(720.0) - 280.0;
    wide.min(1.7 * high).clamp(300.0, 640.0)
}

/// Whether the visitor asked for as little motion as can be.
pub fn wants_stillness() -> bool {
    let query =
        web_sys::window().and_then(|w| w.match_media("(prefers-reduced-motion: reduce)").ok()?);
    query.is_some_and(|q| q.matches())
}

/// Shows what is to pop up over the page and moves the keyboard there.
pub fn show_popover(id: &str) {
    if let Some(element) = element::<HtmlElement>(id) {
        // One that is shown already stays.
        let _ = element.show_popover();
        let _ = element.focus();
    }
}

/// Hides it again; the keyboard goes back to where it was.
pub fn hide_popover(id: &str) {
    if let Some(element) = element::<HtmlElement>(id) {
        // One that is hidden already stays.
        let _ = element.hide_popover();
    }
}

/// A picture as text with its size in pixels.
pub struct Picture {
    svg: String,
    width: f64,
    height: f64,
}

/// The picture in an element, with a style sheet put in, so that it stands alone.
pub fn drawn_in(id: &str, styles: &str) -> Option<Picture> {
    let document = web_sys::window()?.document()?;
    let svg = document
        .get_element_by_id(id)?
        .query_selector("svg")
        .ok()??;
    let size = |name: &str| svg.get_attribute(name)?.parse::<f64>().ok();
    let (width, height) = (size("width")?, size("height")?);
    let text = svg.outer_html();
    let (open, rest) = text.split_once('>')?;
    Some(Picture {
        svg: format!("{open}><style>{styles}</style>{rest}"),
        width,
        height,
    })
}

/// Saves a picture as PNG, twice as fine as on the screen.
///
/// # Errors
/// When the browser refuses any step of it.
pub async fn save_png(name: &str, picture: &Picture) -> Result<(), JsValue> {
    const FINE: f64 = 2.0;
    let url = object_url("image/svg+xml", &picture.svg)?;
    let image = HtmlImageElement::new()?;
    image.set_src(&url);
    JsFuture::from(image.decode()).await?;
    Url::revoke_object_url(&url)?;
    let document = web_sys::window().and_then(|w| w.document());
    let document = document.ok_or("no document")?;
    let canvas: HtmlCanvasElement = document.create_element("canvas")?.dyn_into()?;
    canvas.set_width((FINE * picture.width) as u32);
    canvas.set_height((FINE * picture.height) as u32);
    let context = canvas.get_context("2d")?.ok_or("no canvas")?;
    let context: CanvasRenderingContext2d = context.dyn_into()?;
    context.draw_image_with_html_image_element_and_dw_and_dh(
        &image,
        0.0,
        0.0,
        FINE * picture.width,
        FINE * picture.height,
    )?;
    hand_over(&canvas.to_data_url()?, name)
}

/// Runs it in a task of its own, soon, in the order of asking.
pub fn later(run: impl FnOnce() + 'static) {
    set_timeout(run, Duration::ZERO);
}

/// How many tasks drawing takes at most after a value has changed, each asked for in the one before.
pub const IN_TURN: u32 = 2;

/// The same after so many tasks, each of which is asked for in the one before.
pub fn much_later(tasks: u32, run: impl FnOnce() + 'static) {
    match tasks.checked_sub(1) {
        None | Some(0) => later(run),
        Some(before) => later(move || much_later(before, Box::new(run) as Box<dyn FnOnce()>)),
    }
}
