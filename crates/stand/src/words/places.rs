//! Words of sites at fixed places.

/// Over the list of sites that there are.
pub const AVAILABLE: &str = "sites that there are, one a line (any place will do when empty)";

/// The same along a gradient.
pub const AVAILABLE_ALONG: &str = "sites that there are, one a line with its position after a comma (any place will do when empty)";

/// What to type where a line does not fit.
pub const LINE: &str =
    "a name, and along a gradient a comma and the position, such as Crag hut, 1120";

/// Name of the button that gives them up.
pub const ANYWHERE: &str = "Let sites stand anywhere";

/// Where the sites of a plan at listed places stand.
pub fn of_plan(places: &str) -> String {
    format!("The plan's sites stand at listed places: {places}.")
}
