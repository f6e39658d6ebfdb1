//! Files in and out.

use paper::number::plain;

/// When the browser does not save.
pub const NOT_SAVED: &str = "the browser did not let the file be saved";
/// A table opened as a scenario.
pub const LOOKS_LIKE_A_TABLE: &str =
    "This looks like a table, not a scenario: open it by “Pilot catches (CSV)”.";
/// Name of the part with the scenario's buttons.
pub const SCENARIO: &str = "scenario";
/// Name of the field of its title.
pub const TITLE: &str = "title of the scenario";
/// Name of the field of its notes.
pub const NOTES: &str = "notes on the scenario";
/// What stands in it while it is empty.
pub const NOTES_HINT: &str = "Notes: who plans this, where the numbers come from";
/// Opens one.
pub const OPEN: &str = "Open scenario";
/// Saves it.
pub const SAVE: &str = "Save scenario";
/// Takes a pilot's table.
pub const PILOT: &str = "Pilot catches (CSV)";
/// Name of the list of what to begin with.
pub const BEGIN_LIST: &str = "begin with a demo or a survey of your own";
/// What stands in that list first.
pub const BEGIN: &str = "Begin with…";
/// The demos in it.
pub const DEMOS: &str = "Demos, all invented";
/// The rest of it.
pub const YOURS: &str = "Yours";
/// A scenario without inventions.
pub const OWN: &str = "this question as a survey of my own";
/// Title of such a scenario.
pub const OWN_TITLE: &str = "My survey";

/// What a scenario still holds of a demo's inventions once a pilot's premises are taken.
pub fn still_invented(premises: usize) -> String {
    let are = if premises == 1 {
        "premise is"
    } else {
        "premises are"
    };
    format!(
        "{} {are} still invented, from the demo. “{BEGIN}”, “{OWN}” takes out what is invented and keeps what the pilot told.",
        plain(premises as f64)
    )
}

/// A file that cannot be read.
pub fn not_read(name: &str) -> String {
    format!("{name} could not be read")
}

/// What is wrong with a file.
pub fn fault_of(name: &str, fault: &str) -> String {
    format!("{name}: {fault}")
}

/// A file that is no text.
pub fn no_text(name: &str) -> String {
    format!("{name}: not UTF-8 text: save it as UTF-8")
}

/// What does not fit once the premises of a pilot are taken.
pub fn with_premises(name: &str, fault: &str) -> String {
    format!("with the premises of {name}: {fault}")
}

/// What a pilot's table told.
pub fn premises_taken(name: &str, rows: usize, sites: usize, years: usize) -> String {
    format!(
        "Premises from {name}: {rows} counted rows, {sites} sites, {years} years. The numbers it told are marked “pilot”."
    )
}
