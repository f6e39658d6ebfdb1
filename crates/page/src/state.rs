//! What the page knows: the scenario being edited and what the engine said of it.

mod driver;
mod layout;
mod model;

pub use driver::Driver;
pub use layout::{Layout, Way};
pub use model::{Model, Notice};
