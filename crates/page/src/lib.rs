//! The Leptos page.
