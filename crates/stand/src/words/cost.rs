//! What the plan costs, and the rates behind it.

/// Saves all months.
pub const MONTHS_CSV: &str = "Save all months (CSV)";
/// Name of the table of hours.
pub const MONTHS_TABLE: &str = "hours by month";
/// Name of the table of money.
pub const YEARS_TABLE: &str = "money by year";
/// Where no costs are told.
pub const NOT_TOLD: &str = "Hours and money are not told. Add costs to begin with usual numbers, marked as common practice or guess, and replace them by your own.";
/// Adds them.
pub const ADD: &str = "Add costs";
/// What the rates change.
pub const ABOUT: &str = "They change no catch and no power. What stays 0 costs nothing.";
/// Fold-out of travel.
pub const TRAVEL: &str = "travel";
/// Fold-out of work at the sites.
pub const FIELD: &str = "work at the sites";
/// Fold-out of work in the laboratory.
pub const LABORATORY: &str = "laboratory";
/// Over what a sample is.
pub const SAMPLE: &str = "a sample is";
/// Fold-out of money.
pub const MONEY: &str = "money";
/// Fold-out of the people there are.
pub const STAFF: &str = "staff";
/// Takes the costs out.
pub const REMOVE: &str = "Remove costs";
/// Over the currency.
pub const CURRENCY: &str = "currency";
/// Unit of the currency.
pub const AS_TEXT: &str = "as text";
/// Fold-out of stepped costs.
pub const STEPPED: &str = "stepped costs";
/// What they are.
pub const ABOUT_STEPPED: &str = "What is needed in whole numbers: one for each so much of the busiest month, such as a vehicle for each 20 travel days.";
/// Adds one.
pub const ADD_STEPPED: &str = "Add a stepped cost";
/// Over what one follows.
pub const FOLLOWS: &str = "follows";
/// Over how often it is paid.
pub const PAID: &str = "paid";

/// Money and hours.
pub fn told(cost: &str, hours: &str) -> String {
    format!("{cost} over all years; hours: {hours}.")
}

/// Name of a new stepped cost.
pub fn new_name(n: usize) -> String {
    format!("vehicle {n}")
}
