//! The Leptos page: state, views, and the pool of workers that computes for it.
//!
//! Architecture invariant: no statistics here. What is shown comes from the engine.

mod apart;
mod app;
mod browser;
mod marks;
pub mod pool;
mod state;
mod views;

use app::App;
// Named by all of the page as its own.
use stand::{demos, link, words};

/// Starts the page in the browser, or the engine in a worker of it: one program is both, so that what both need (the
/// scenario, its reading and checking, closed forms) is loaded once.
pub fn begin() {
    if let Some(scope) = worker::here() {
        return worker::serve(&scope);
    }
    console_error_panic_hook::set_once();
    marks::take_the_browsers();
    leptos::mount::mount_to_body(App);
}
