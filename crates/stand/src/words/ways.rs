//! The three ways in.

use crate::Way;

/// Name of the choice.
pub const CHOICE: &str = "What brings you here?";

/// Name of a way's button.
pub fn name(way: Way) -> &'static str {
    match way {
        Way::Size => "Size a survey",
        Way::Explore => "Explore trade-offs",
        Way::Show => "Show an audience",
    }
}

/// What to do on this way, in one breath.
pub fn lead(way: Way) -> &'static str {
    match way {
        Way::Size => {
            "State the question, put in what your pilot told, and take the smallest plan that answers with its kill, hours and money."
        }
        Way::Explore => {
            "Change one number at a time and watch what it does to the chance of an answer and to the animals killed."
        }
        Way::Show => {
            "One picture at a time in large type, each with a sentence that needs no statistics: the same numbers as everywhere."
        }
    }
}

/// Name of the button that opens every part.
pub const OPEN_ALL: &str = "Open all parts";
/// Name of the button that closes every part.
pub const CLOSE_ALL: &str = "Close all parts";
/// Name of the list of parts.
pub const PARTS: &str = "parts of the page";
