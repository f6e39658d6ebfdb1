//! The answer, always in view.

/// Before the first simulated survey.
pub const NOT_YET: &str = "not simulated yet";
/// What the number before it is.
pub const PREVIEW_NOTE: &str = "preview by closed form";
/// When no change is found.
pub const NO_CHANGE: &str = "no change is found";
/// Tag of the preview.
pub const PREVIEW: &str = "preview";
/// Before its power.
pub const BY_CLOSED_FORM: &str = " by closed form: power ";
/// Computes what was cancelled.
pub const AGAIN: &str = "Compute again";
/// When nothing is left to compute.
pub const DONE: &str = "Everything is computed.";
/// When nothing can be computed.
pub const REFUSED: &str =
    "Nothing is computed: the scenario holds something that is refused, named above.";
/// Cancels.
pub const CANCEL: &str = "Cancel";
/// Before the first fit.
pub const NO_FITS: &str = "none yet";
/// What is shown while a field is marked.
pub const LAST: &str =
    "What is shown belongs to the last scenario that could be read: mend the marked field.";
/// The tile of the kill.
pub const TOLL: &str = "toll, all years";
/// The tile of the cost.
pub const COST: &str = "cost, all years";
/// Before how the fits ended.
pub const FITS: &str = "Fits: ";
/// Fold-out of other tests and the digests.
pub const OTHER_TESTS: &str = "Other tests of the same surveys, and the digests";
/// Fold-out of the digests alone.
pub const DIGESTS: &str = "The digests";
/// Over the tests.
pub const TEST: &str = "test";
/// Over their false alarms.
pub const FALSE_ALARMS: &str = "false alarms";
/// Before the scenario's digest.
pub const SCENARIO_DIGEST: &str = "Digest of the scenario: ";
/// Before the results' digest.
pub const RESULT_DIGEST: &str = ". Digest of the results: ";
/// Before the number of simulated surveys.
pub const REPLICATES: &str = "simulated surveys ";
/// Before the seed.
pub const SEED: &str = "seed ";
/// Heading of the answer.
pub const ANSWER: &str = "The answer";
/// Name of what stands below it.
pub const ABOUT: &str = "about the answer";
/// Fold-out of what explains it.
pub const BEHIND: &str = "What stands behind these numbers";
/// When no change is found, in place of one.
pub const NONE: &str = "none";

/// A share with its interval.
pub fn share_note(low: &str, high: &str, surveys: u64) -> String {
    format!("95 %: {low} to {high}, {surveys} surveys")
}

/// When no change is found often enough.
pub fn not_found(wanted: &str) -> String {
    format!("no change is found with power {wanted}")
}

/// A number that is not exact.
pub fn about(value: &str) -> String {
    format!("≈ {value}")
}

/// Of what the smallest change is, by closed form.
pub fn smallest_preview(of: &str) -> String {
    format!("{of}, preview by closed form")
}

/// Of what it is, simulated.
pub fn smallest(of: &str, wanted: &str) -> String {
    format!("{of}, with power {wanted}")
}

/// The interval of the kill.
pub fn toll_note(low: &str, high: &str) -> String {
    format!("90 %: {low} to {high}")
}

/// After it, where no group of by-catch is stated.
pub const NO_BYCATCH: &str = "; by-catch not stated";

/// How many of the killed stand apart.
pub fn apart(n: &str) -> String {
    format!("; {n} vertebrates or protected")
}

/// The hours.
pub fn hours(n: &str) -> String {
    format!("{n} hours, expected")
}

/// How often the people there are do not suffice, after the hours.
pub fn over_staff(hours: String, times: usize) -> String {
    match times {
        0 => hours,
        1 => format!("{hours}; in 1 month more work than staff"),
        n => format!("{hours}; in {n} months more work than staff"),
    }
}

/// False alarms of the preview.
pub fn preview_alarms(share: &str) -> String {
    format!(", false alarms {share}")
}

/// Work that was cancelled.
pub fn cancelled(what: &str, done: u64, total: u64) -> String {
    format!("Cancelled after {done} of {total} simulated surveys of the {what}.")
}

/// Name of the bar of progress.
pub fn progress_of(what: &str) -> String {
    format!("progress of the {what}")
}

/// How long it will take.
pub fn left(seconds: Option<f64>) -> String {
    match seconds {
        Some(s) if s < 1.5 => "about a second left".into(),
        Some(s) if s < 90.0 => format!("about {s:.0} seconds left"),
        Some(s) => format!("about {:.0} minutes left", s / 60.0),
        None => "estimating the time".into(),
    }
}

/// How far it is.
pub fn progress(what: &str, done: u64, total: u64, left: &str) -> String {
    format!("{what}: {done} of {total} simulated surveys, {left}")
}

/// Fits that failed.
pub fn failed(n: u64) -> String {
    format!("{n} failed")
}

/// Fits that ended otherwise than they should.
pub fn fits_note(singular: u64, at_bound: u64, of: u64) -> String {
    format!("{singular} singular, {at_bound} at a bound, of {of}")
}

/// A field with what is wrong with it.
pub fn marked(name: &str, problem: &str) -> String {
    format!("{name}: {problem}")
}

/// In place of the verdict.
pub fn counting(surveys: u64) -> String {
    format!("Still counting: {surveys} simulated surveys so far.")
}

/// The power, in a few words.
pub fn mini_power(power: &str, alarms_name: &str, alarms: &str) -> String {
    format!("power {power}, {alarms_name} {alarms}")
}

/// The kill, in a few words.
pub fn mini_killed(n: &str) -> String {
    format!("{n} animals")
}
