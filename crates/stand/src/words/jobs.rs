//! Names of what is computed, and what is said of it.

/// The answer.
pub const ANSWER: &str = "answer";
/// The curve.
pub const CURVE: &str = "curve";
/// The search.
pub const LEAST: &str = "least plan";
/// What ignoring costs.
pub const IGNORING: &str = "costs of ignoring";
/// Several species.
pub const SEVERAL: &str = "list of species";
/// Planned looks.
pub const LOOKS: &str = "looks";
/// Surveys to look at.
pub const FUTURES: &str = "futures";
/// One that is gone.
pub const UNKNOWN: &str = "job";

/// A job that is refused.
pub fn refused(what: &str, refusal: &str) -> String {
    format!("The {what} cannot be computed: {refusal}")
}

/// A job that is given up.
pub fn given_up(what: &str, why: &str) -> String {
    format!("The {what} could not be finished: {why}. What is shown of it is incomplete.")
}
