//! Words about links that hold a scenario.

use engine::scenario::Scenario;

/// A link that lacks a part or was altered.
pub const CUT: &str =
    "it was cut or altered on its way: ask for the whole link again, or for the file";
/// The button.
pub const COPY: &str = "Copy link";
/// After copying.
pub const COPIED: &str = "The link is copied. It holds the whole scenario, with seed, simulated surveys and the curve; whoever opens it sees what you see. Nothing was sent anywhere.";
/// Where the browser does not let the page copy.
pub const BY_HAND: &str = "This browser does not let the page copy: the link stands in the field below, selected; copy it from there.";
/// Name of that field.
pub const FIELD: &str = "link to this scenario";
/// While the scenario holds something that is refused.
pub const REFUSED: &str =
    "There is no link while the scenario holds something that is refused: mend it first.";
/// Name of the step.
pub const STEP: &str = "opening a link";

/// A link of a later version of the page.
pub fn newer(version: &str) -> String {
    format!(
        "it is of version {version}, and this page reads version 1: load the page again to get its newest version"
    )
}

/// A number of simulated surveys that is out of its bounds.
pub fn replicates(value: u64) -> String {
    format!(
        "{value} simulated surveys do not fit: give 1 to {}",
        engine::MOST_REPLICATES
    )
}

/// A curve over something unknown.
pub fn axis(key: &str) -> String {
    format!("the curve cannot run over “{key}”")
}

/// Too long a link.
pub fn too_long(length: usize) -> String {
    format!(
        "This scenario is too large for a link: {length} characters, and at most {} arrive safely. Save it as a file and pass that on.",
        crate::link::LONGEST
    )
}

/// A link that could not be read, and what is shown instead.
pub fn unreadable(why: &str, instead: &str) -> String {
    format!("The link could not be read: {why}. {instead}")
}

/// Shown instead, at the start and later.
pub const KEPT_INSTEAD: &str = "What you worked on last is shown.";
/// Shown instead where nothing was kept.
pub const DEMO_INSTEAD: &str = "A demo is shown.";
/// Shown instead on a page that is open.
pub const AS_IT_WAS: &str = "The page stays as it was.";

/// A link that was opened.
pub fn opened(scenario: &Scenario) -> String {
    format!(
        "Opened from a link: {}. “Undo” brings back what was there before.",
        scenario.title
    )
}
