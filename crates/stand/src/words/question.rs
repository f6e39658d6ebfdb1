//! The question as a sentence: pieces that several questions share.

pub mod absence;
pub mod baseline;
pub mod decline;
pub mod groups;
pub mod inventory;
pub mod no_worse;
pub mod occupancy;
pub mod range_shift;
pub mod several;

/// Before what is asked about.
pub const OF: &str = " of ";
/// Before the years.
pub const PER_CENT_OVER: &str = " % over ";
/// Before the results that count.
pub const YEARS_WHERE: &str = " years, where ";
/// Ends the sentence.
pub const PER_CENT_END: &str = " %.";
/// Results that count.
pub const EITHER_CHANGE: &str = "a change either way counts";
/// Name of the choice of a question.
pub const KIND: &str = "question";
/// Before the accepted false alarms.
pub const ALARMS: &str = " accepting false alarms in ";
/// Name of their number.
pub const SIGNIFICANCE: &str = "accepted false alarms in per cent";
/// After their number.
pub const OF_SURVEYS: &str = " % of surveys ";
/// Before the wanted power.
pub const WITH_POWER: &str = ", with a wanted power of ";
/// Name of its number.
pub const WANTED_POWER: &str = "wanted power in per cent";
/// Name of the field of the target.
pub const TARGET: &str = "target";
/// Name of the choice of results that count.
pub const DIRECTION: &str = "direction";
/// Name of the number of accepted false claims.
pub const FALSE_CLAIMS: &str = "accepted false claims in per cent";
