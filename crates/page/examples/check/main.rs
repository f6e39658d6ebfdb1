//! What the browser tests load beside the page, in one program: which page of them it is stands in its address.

mod parity;
mod pool;

use web_sys::Document;

fn main() {
    console_error_panic_hook::set_once();
    let window = web_sys::window().expect("this runs in a page");
    let path = window.location().pathname().expect("a page has an address");
    match path.rsplit('/').next() {
        Some("pool.html") => pool::begin(),
        Some("parity.html") => parity::begin(),
        _ => panic!("no page of the tests lies at {path}"),
    }
}

/// Adds a list entry to the body, which the tests read.
fn write(document: &Document, line: &str) {
    let entry = document.create_element("li").expect("an element");
    entry.set_text_content(Some(line));
    let body = document.body().expect("a body");
    body.append_child(&entry).expect("an entry");
}
