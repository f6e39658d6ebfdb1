//! What a number means.

/// Name of what tells it.
pub const NAME: &str = "what the number means";
/// Before a formula.
pub const FORMULA: &str = "Formula";
/// Before a source.
pub const SOURCE: &str = "Source of the formula";

/// Name of the button that asks.
pub fn ask(name: &str) -> String {
    format!("what is {name}?")
}
