//! Starts the page in the browser.

fn main() {
    console_error_panic_hook::set_once();
    page::marks::take_the_browsers();
    leptos::mount::mount_to_body(page::App);
}
