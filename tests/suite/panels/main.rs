//! Revisit patterns, drop-out, late samples and clustered losses: what is drawn, and closed forms against simulation.

mod draws;
mod patterns;
