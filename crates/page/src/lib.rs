//! The Leptos page: state, views, and the pool of workers that computes for it.
//!
//! Architecture invariant: no statistics here. What is shown comes from the engine.

pub mod pool;

use leptos::prelude::*;

/// The whole page.
#[component]
pub fn App() -> impl IntoView {
    view! {
        <main>
            <h1>"Leastcatch"</h1>
        </main>
    }
}
