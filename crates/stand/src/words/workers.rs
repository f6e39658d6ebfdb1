//! Background workers that fail.

/// A message that is none.
pub const UNREADABLE: &str = "it said something unreadable";
/// An answer that is none.
pub const UNREADABLE_ANSWER: &str = "its answer was unreadable";
/// One that is dead already.
pub const DEAD: &str = "bytes were posted to it after it had died";
/// One that does not say what it should.
pub const NO_BYTES: &str = "it posted something that is not bytes";
/// One whose script fails to load, or whose message fails to be read.
pub const NO_SCRIPT: &str = "its script could not be loaded, or its message not be read";

/// One that was replaced.
pub fn replaced(reason: &str) -> String {
    format!(
        "A background worker stopped ({reason}) and was replaced; its part of the work is done again, nothing is lost."
    )
}

/// One that is left alone.
pub fn left_alone(reason: &str) -> String {
    format!(
        "A background worker could not be started ({reason}). The next change or \u{201c}Compute again\u{201d} tries once more; if that does not help, load the page again."
    )
}

/// One that cannot be reached.
pub fn not_posted(error: &str) -> String {
    format!("bytes could not be posted to it: {error}")
}

/// One that does not start.
pub fn not_started(error: &str) -> String {
    format!("it could not be started: {error}")
}
