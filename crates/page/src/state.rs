//! What the page knows: the scenario being edited and what the engine said of it.

mod address;
mod apart;
mod driver;
mod fields;
mod layout;
mod model;
mod start;
mod steps;

pub use address::Link;
pub use apart::Apart;
pub use driver::Driver;
pub use layout::Layout;
pub use model::{Model, Notice};
pub use stand::Way;
pub use start::first;
