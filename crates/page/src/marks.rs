//! The marks that the visitor's browser writes in numbers: read once, before the first view.
//!
//! The page's words stay English; its numbers follow the browser's first language. A browser that cannot tell, or tells
//! marks that could not be read again, leaves them English.

use figures::locale::{Marks, set};
use js_sys::Intl::{NumberFormat, NumberFormatPart, NumberFormatPartType};
use js_sys::{Array, Function, Object, Reflect};
use wasm_bindgen::prelude::{JsCast, JsValue};

/// Has numbers written as the browser writes them.
pub fn take_the_browsers() {
    if let Some(marks) = language().and_then(|of| told(&of).ok().flatten()) {
        set(marks);
    }
}

/// The browser's first language, such as `de-CH`.
fn language() -> Option<String> {
    web_sys::window()?.navigator().language()
}

/// The marks of a language; nothing where they are none that could be read again.
///
/// # Errors
/// When the browser does not know how to write numbers in that language.
fn told(language: &str) -> Result<Option<Marks>, JsValue> {
    // The constructor is called through `Reflect`, so that a tag that the browser refuses is an error and no more.
    let intl = Reflect::get(&js_sys::global(), &"Intl".into())?;
    let kind: Function = Reflect::get(&intl, &"NumberFormat".into())?.dyn_into()?;
    let options = Object::new();
    // Digits stay 0 to 9 in languages that have others of their own.
    Reflect::set(&options, &"numberingSystem".into(), &"latn".into())?;
    let format = Reflect::construct(&kind, &Array::of2(&language.into(), &options))?;
    let format: NumberFormat = format.dyn_into()?;
    let mark = |number: f64, kind: NumberFormatPartType| {
        let parts = format.format_to_parts(number).to_vec();
        let mut parts = parts.into_iter().map(JsCast::unchecked_into);
        let part: NumberFormatPart = parts.find(|part: &NumberFormatPart| part.type_() == kind)?;
        let text = String::from(part.value());
        let mut letters = text.chars();
        letters.next().filter(|_| letters.next().is_none())
    };
    let thousands = mark(1_234_567.8, NumberFormatPartType::Group);
    // Some write no mark in numbers of four digits.
    let least_grouped = match mark(1234.5, NumberFormatPartType::Group) {
        Some(_) => 1,
        None => 2,
    };
    let decimal = mark(1234.5, NumberFormatPartType::Decimal);
    Ok(decimal.and_then(|decimal| Marks::new(decimal, thousands, least_grouped)))
}
