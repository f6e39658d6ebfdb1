//! Starts the page in the browser, or the engine in a worker of it: one program is both, so that what both need (the
//! scenario, its reading and checking, closed forms) is loaded once.

fn main() {
    if let Some(scope) = worker::here() {
        return worker::serve(&scope);
    }
    console_error_panic_hook::set_once();
    page::marks::take_the_browsers();
    leptos::mount::mount_to_body(page::App);
}
