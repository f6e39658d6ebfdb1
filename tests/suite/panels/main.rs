//! Revisit patterns, drop-out, late samples and clustered losses: what is drawn, and closed forms against simulation.

mod draws;
mod patterns;
#[path = "../questions/support.rs"]
#[allow(dead_code)]
mod support;
