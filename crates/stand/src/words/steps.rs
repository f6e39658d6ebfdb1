//! Words about keeping, dropping files, pausing, and a newer version of the page.

/// When the browser refuses storage.
pub const NOT_KEPT: &str = "This browser does not let the page keep your work until the next visit (storage is off or full). Save the scenario as a file, or copy the link, before you close the page.";
/// Where a file can be dropped.
pub const DROP: &str = "Drop a scenario (.json) or a pilot table (.csv) here";
/// More than one file.
pub const ONE_FILE: &str = "Drop one file at a time";
/// Something that is no file.
pub const NO_FILE: &str =
    "What was dropped is no file: drop a scenario (.json) or a pilot table (.csv).";
/// Name of the group of buttons.
pub const GROUP: &str = "steps";
/// Stops handing out work.
pub const PAUSE: &str = "Pause";
/// Goes on.
pub const RESUME: &str = "Resume";
/// A newer version of the page is ready.
pub const NEWER: &str = "A newer version is ready: reload. Your scenario stays as it is.";
/// The button.
pub const RELOAD: &str = "Reload";

/// What was kept cannot be read.
pub fn unreadable(fault: &str) -> String {
    format!("The scenario kept from an earlier visit could not be read ({fault}); a demo is shown.")
}

/// Several files at once.
pub fn too_many(names: &[String]) -> String {
    format!(
        "{ONE_FILE}: these were {} ({}). Nothing was changed.",
        names.len(),
        names.join(", ")
    )
}

/// A file of another kind.
pub fn other_kind(name: &str) -> String {
    format!(
        "{name} was dropped, and is neither a scenario (.json) nor a pilot table (.csv, .tsv or .txt). Nothing was changed."
    )
}

/// A scenario that was opened.
pub fn opened(name: &str) -> String {
    format!("{name} is opened as the scenario. “Undo” brings the former one back.")
}

/// Work that is paused.
pub fn paused(what: &str, done: u64, total: u64) -> String {
    format!(
        "{what}: paused after {done} of {total} simulated surveys; what is computed so far stays."
    )
}
