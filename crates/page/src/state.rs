//! What the page knows: the scenario being edited and what the engine said of it.

mod driver;
mod model;

pub use driver::Driver;
pub use model::{Model, Notice};
