//! Words of the patterns and schemes that a search may choose among.

/// Over the boxes of the patterns.
pub const REVISITS: &str =
    "patterns of visits over the years to try (the plan's own alone when none is ticked)";

/// Below them.
pub const REVISITS_NOTE: &str = "With none ticked the plan's own is tried alone. With a pattern the most sites above are the different sites of all years together: give room for them, since each year has only some of them. A pattern that does not fit its years is refused.";

/// Over the boxes of the schemes.
pub const SCHEMES: &str =
    "weeks that are trapped, to try (the plan's own alone when none is ticked)";
