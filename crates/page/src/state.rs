//! What the page knows: the scenario being edited and what the engine said of it.

mod address;
mod apart;
mod changes;
mod driver;
mod fields;
mod history;
mod layout;
mod model;
mod stand;
mod start;
mod steps;

pub use address::Link;
pub use apart::Apart;
pub use changes::Change;
#[cfg(test)]
pub use changes::between;
pub use driver::Driver;
pub use history::MOST as MOST_STEPS;
pub use layout::{Layout, Way};
pub use model::{Model, Notice};
#[cfg(test)]
pub use stand::Mark;
pub use stand::{Stand, axis};
pub use start::first;
