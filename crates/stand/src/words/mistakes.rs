//! Words of the part with the mistakes.

/// What it is for.
pub const ABOUT: &str = "Usual mistakes, to play with. Each begins with this plan's numbers, in a simple model of its own, so that its chances lie near those of the answer and are not the same; move them and see what becomes of a survey. Your plan stays as it is.";
/// What is shown while the scenario is refused.
pub const MEND: &str =
    "They begin once the plan and its premises fit together: see the marked numbers.";
/// A button.
pub const BACK: &str = "Back to this plan's numbers";
/// A heading.
pub const AS_TABLE: &str = "Read the picture as a table";

/// The name of a table.
pub fn table_of(title: &str) -> String {
    format!("table: {title}")
}

/// The name of the number beside a slider.
pub fn as_number(label: &str) -> String {
    format!("{label}, as a number")
}

/// Whose finding it is.
pub fn after(source: &str) -> String {
    format!("After {source}.")
}
