//! The least plan, why not fewer, and what more kills buy.

/// Begins the search.
pub const FIND: &str = "Find the least plan";
/// Takes the plan that was found.
pub const TAKE: &str = "Take this plan";
/// The surest plan, in its row.
pub const SUREST: &str = "the surest within the limits";
/// Heading of its table.
pub const SUREST_TABLE: &str = "The surest plan within the limits";
/// Before what would help.
pub const HELP: &str =
    "What would help (closed forms scaled to that simulation; simulate before relying on them):";
/// When no plan lies within the limits.
pub const NO_PLAN: &str = "No plan lies within the limits.";
/// The present plan.
pub const THIS_PLAN: &str = "This plan";
/// The same once another one is in force.
pub const PLAN_BEFORE: &str = "The plan before";
/// What a plan costs.
pub const COST: &str = "cost";
/// The least plan, in its row.
pub const LEAST_ROW: &str = "the least plan";
/// Heading of the table of smaller plans.
pub const WHY_NOT_FEWER: &str = "Why not fewer: the least plan and smaller ones";
/// Before the limits that bind.
pub const BINDING: &str = "Limits that bind (by closed form scaled to the simulation):";
/// Name of that table.
pub const TABLE: &str = "the least plan and smaller plans";
/// Over the sites.
pub const SITES: &str = "sites";
/// Over the traps.
pub const TRAPS: &str = "traps per site";
/// Over the weeks.
pub const WEEKS: &str = "weeks";
/// Over the years.
pub const YEARS: &str = "years";
/// Over the animals that are spared.
pub const SPARED: &str = "spared";
/// Over the smallest change.
pub const SMALLEST: &str = "smallest change found";
/// Over findings of the wrong sign.
pub const WRONG_WAY: &str = "findings the wrong way";
/// Over findings that are too large.
pub const TOO_LARGE: &str = "findings over the true size";
/// Over what a row is.
pub const WHAT: &str = "what it is";
/// Heading of the frontier.
pub const FRONTIER: &str = "What more kills buy: the surest plan for each toll";
/// Saves its table.
pub const SAVE_TABLE: &str = "Save table (CSV)";
/// Fold-out of its table.
pub const READ_FRONTIER: &str = "The frontier as a table; any plan can be opened";
/// Heading of its table.
pub const FRONTIER_TABLE: &str = "The frontier of toll and power";
/// Fold-out of the plans that cost less.
pub const THRIFTY: &str = "Plans that answer for less money and more kills";
/// Heading of their table.
pub const THRIFTY_TABLE: &str =
    "Plans that reach the wanted power by closed form, smallest toll first";
/// Takes a plan of these tables.
pub const OPEN: &str = "Open";
/// Over the plans.
pub const PLAN: &str = "plan";
/// Over the kill.
pub const EXPECTED_TOLL: &str = "animals killed, expected";
/// Over the power by closed form.
pub const PREVIEW_POWER: &str = "power by closed form";
/// Over the simulated power.
pub const SIMULATED: &str = "simulated";
/// Over the buttons.
pub const OPENS: &str = "open";

/// What the search looks at.
pub fn about(space: &str) -> String {
    format!(
        "Looks at every plan of {space}. Closed forms screen them, simulation confirms. The limits stand with the plan."
    )
}

/// How many plans were looked at.
pub fn looked(screened: &str, simulated: &str) -> String {
    format!("{screened} plans looked at by closed form, {simulated} simulated.")
}

/// The plan that was found.
pub fn found(complete: bool, stopped: bool, plan: &str) -> String {
    let state = match (complete, stopped) {
        (true, _) => "Least plan",
        (false, false) => "Least plan so far (the search goes on)",
        (false, true) => {
            "Smallest plan found before the search was cancelled (smaller ones may answer too)"
        }
    };
    format!("{state}: {plan}.")
}

/// When the search was cancelled before one was found.
pub fn stopped(looked: &str) -> String {
    format!("The search was cancelled before it was sure of a plan. {looked}")
}

/// While none is found yet.
pub fn searching(looked: &str) -> String {
    format!("Searching. {looked}")
}

/// By how much findings are too large.
pub fn times(factor: f64) -> String {
    format!("{} times", paper::number::decimals(factor, 2))
}

/// Name of the button that takes a plan.
pub fn open_plan(plan: &str) -> String {
    format!("Open the plan of {plan}")
}
