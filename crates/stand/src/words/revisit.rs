//! Which sites in which years.

/// No pattern.
pub const EVERY_SITE: &str = "every site every year";
/// Years left out.
pub const EVERY_K: &str = "every site, but not every year";
/// Panels.
pub const ALTERNATING: &str = "panels that take turns";
/// Panels beside sites of every year.
pub const AUGMENTED: &str = "some every year, the others in panels that take turns";
/// Sites that stay some years.
pub const ROTATING: &str = "sites come and go, each staying some years";
/// New sites beside sites of every year.
pub const SPLIT: &str = "some every year, the others new each year";
/// New sites.
pub const NEW_EACH_YEAR: &str = "new sites every year";
/// Over the choice.
pub const CHOICE: &str = "sites and years";
/// Takes a number of sites that divides.
pub const FIT: &str = "Take the nearest number of sites that divides into the panels";
/// Fold-out of the years left out.
pub const GAPS: &str = "Years in which nobody traps";
/// Fold-out of the calendar.
pub const CALENDAR: &str = "Calendar of visits";
/// Fold-out of the comparison.
pub const PATTERNS: &str = "The same yearly effort under each pattern";
/// Name of its table.
pub const CALENDAR_TABLE: &str = "table of visits";
/// Name of the table of the comparison.
pub const PATTERNS_TABLE: &str = "patterns compared";
/// What drop-out and late samples are.
pub const MISSING: &str = "Sites that give up neither count nor kill; late samples kill and are not counted. How losses cluster stands under “What else the world may do”.";
/// Fold-out of what they cost.
pub const RETURNS: &str = "What losses, drop-out and late samples cost, and how many to recruit";
/// Name of its table.
pub const RETURNS_TABLE: &str = "what does not come back";

/// The pattern of visits.
pub fn told(pattern: Option<String>) -> String {
    pattern.map_or_else(
        || "Every site is visited every year.".to_string(),
        |p| format!("{p}."),
    )
}

/// Name of a year's box.
pub fn year(year: u32) -> String {
    format!("year {year}")
}
