//! Files in and out.

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
/// Opens one.
pub const OPEN: &str = "Open scenario";
/// Saves it.
pub const SAVE: &str = "Save scenario";
/// Takes a pilot's table.
pub const PILOT: &str = "Pilot catches (CSV)";
/// Name of the list of demos.
pub const LOAD_DEMO: &str = "load a demo";
/// What stands in that list first.
pub const CHOOSE_DEMO: &str = "Load a demo…";

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
