//! The Leptos page: state, views, and the pool of workers that computes for it.
//!
//! Architecture invariant: no statistics here. What is shown comes from the engine.

mod apart;
mod app;
mod browser;
mod demos;
mod link;
pub mod marks;
pub mod pool;
mod state;
mod views;
mod words;

pub use app::App;
