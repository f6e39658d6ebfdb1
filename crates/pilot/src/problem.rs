//! Everything that can be wrong with a pilot file, each with what to do about it.

use super::options::Role;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// What is wrong and what to do.
#[derive(Clone, Debug, PartialEq, Error, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Problem {
    /// A zip archive or a spreadsheet's own format.
    #[error("this is an archive or a workbook, not text: save the sheet as CSV (UTF-8)")]
    Archive,
    /// UTF-16 text.
    #[error("the text is UTF-16: save it as \"CSV UTF-8\", or as UTF-8 from a text editor")]
    Utf16,
    /// Bytes that are not UTF-8.
    #[error(
        "the text is not UTF-8 (perhaps Latin-1 or Windows-1252): save it as \"CSV UTF-8\", or as UTF-8 from a text editor"
    )]
    NotUtf8,
    /// No header.
    #[error("there is no header row: give a first row with the names of the columns")]
    NoHeader,
    /// No rows below the header.
    #[error("there are no rows below the header: give one row for each count")]
    NoRows,
    /// No separator in the header.
    #[error(
        "the header has no comma, semicolon or tab: separate the columns by one of them (if there is a title above the header, remove it or start it with #)"
    )]
    NoSeparator,
    /// Two separators equally often.
    #[error(
        "the header has as many {first} as {second}: separate the columns by one of them and put names that hold the other in double quotes"
    )]
    TwoSeparators {
        /// One separator in words.
        first: String,
        /// The other.
        second: String,
    },
    /// A quoted field without an end.
    #[error("a double quote opens a field here and is never closed: close or remove it")]
    UnclosedQuote,
    /// Text after the end of a quoted field.
    #[error("a double quote stands inside a quoted field: double it, or remove it if it is a slip")]
    StrayQuote,
    /// The CSV reader's own complaint.
    #[error("the row cannot be read: {why}")]
    Csv {
        /// Its words.
        why: String,
    },
    /// A row with another number of fields than the header.
    #[error(
        "the row has {got} fields, the header has {want}: add or remove separators, or quote text that holds one"
    )]
    Fields {
        /// Fields in the row.
        got: usize,
        /// Fields in the header.
        want: usize,
    },
    /// One header twice.
    #[error("more than one column has this header: rename or remove all but one")]
    DuplicateHeader,
    /// Several columns for one role.
    #[error(
        "more than one column could be the {role}: {}. Rename the others in the file, or say which at the command line: --column {role}={}",
        candidates.join(", "), candidates.first().map_or("", |c| c.as_str())
    )]
    Ambiguous {
        /// The role.
        role: Role,
        /// The headers that could be it.
        candidates: Vec<String>,
    },
    /// No column for a role that must be there.
    #[error(
        "no column is recognised as the {role}; the headers are {}. Rename its header to {role}, or say which it is at the command line: --column {role}=HEADER",
        headers.join(", ")
    )]
    NoColumn {
        /// The role.
        role: Role,
        /// The file's headers.
        headers: Vec<String>,
    },
    /// A chosen column is not in the file.
    #[error("chosen as the {role}, but the headers are {}: choose one of them", headers.join(", "))]
    NotAHeader {
        /// The role.
        role: Role,
        /// The file's headers.
        headers: Vec<String>,
    },
    /// One column chosen for two roles.
    #[error("chosen as both the {first} and the {second}: choose it for one")]
    TwoRoles {
        /// One role.
        first: Role,
        /// The other.
        second: Role,
    },
    /// Set without collected.
    #[error(
        "there is a day of setting but none of collecting, and no effort: name a column collected, or say which it is at the command line (--column collected=HEADER), or give an effort column"
    )]
    SetAlone,
    /// A cell that must be filled.
    #[error("empty: give the {role}")]
    Blank {
        /// The role.
        role: Role,
    },
    /// A totals row.
    #[error("this looks like a row of totals: remove it, or rename the site if it is one")]
    Totals,
    /// "50+", "> 100", "< 5", "~20".
    #[error(
        "a bound or an estimate is not a count: give the number counted, or leave the cell empty for not counted"
    )]
    CountBound,
    /// "10-15".
    #[error(
        "a range is not a count: give the number counted, or leave the cell empty for not counted"
    )]
    CountRange,
    /// 3.5.
    #[error(
        "a count is a whole number: give the animals counted in the sample, not a mean, density or rating, and the effort in its own column"
    )]
    CountFraction,
    /// -1.
    #[error(
        "a count is 0 or more: give the number counted, or leave the cell empty for not counted"
    )]
    CountNegative,
    /// "1,024".
    #[error("a separator of thousands: write the number without it, such as 1024")]
    CountThousands,
    /// "many", "lost".
    #[error(
        "a word is not a count: give a whole number of 0 or more, or leave the cell empty for not counted (a lost trap too)"
    )]
    CountWord,
    /// Above a thousand million.
    #[error("larger than a thousand million: give the number of animals counted")]
    CountLarge,
    /// A count with a group but no group's name.
    #[error(
        "a count above 0 without a group: name the group (only 0, for a sample with nothing in it, may stand without)"
    )]
    NoTaxon,
    /// Effort missing, zero or not a number.
    #[error(
        "effort must be a number above 0 where there is a count: give trap-weeks or trap-days, or leave the count empty if the trap did not work"
    )]
    Effort,
    /// Decimal points and commas in one column.
    #[error(
        "decimal commas here, decimal points in row {other}: write all numbers of the file one way"
    )]
    MixedDecimals {
        /// A row written the other way.
        other: usize,
    },
    /// A year out of 1800 to 2200.
    #[error("give the year in four digits, 1800 to 2200")]
    Year,
    /// A week out of 1 to 53.
    #[error("give the ISO week of the year, a whole number from 1 to 53")]
    Week,
    /// A year that is not the date's.
    #[error(
        "the date lies in {year}: correct one of them, or leave the year column out by renaming it"
    )]
    YearAtOdds {
        /// Year of the date.
        year: i32,
    },
    /// 45123.
    #[error(
        "a spreadsheet's day number, not a date: format the cells as yyyy-mm-dd before saving as CSV"
    )]
    DateSerial,
    /// "2024", "2024-05", "Feb-18".
    #[error("only part of a date: give day, month and year as yyyy-mm-dd")]
    DatePartial,
    /// "12/05/24".
    #[error("the year must have four digits: give the date as yyyy-mm-dd")]
    DateShortYear,
    /// "2024-02-30".
    #[error("no such day: give a date as yyyy-mm-dd")]
    DateImpossible,
    /// "2024-05-01/2024-05-08".
    #[error(
        "a date interval: whether its last day counts is unclear, so give the days in two columns, set and collected"
    )]
    DateInterval,
    /// "2024-05-01T23:00Z".
    #[error(
        "a time with a time zone can fall on another local day: give the local date as yyyy-mm-dd"
    )]
    DateZone,
    /// Anything else.
    #[error("not a date that can be read: give it as yyyy-mm-dd")]
    DateUnknown,
    /// Days and months cannot be told apart.
    #[error(
        "day and month cannot be told apart, here or in any other row: give dates as yyyy-mm-dd, or say at the command line which comes first: --day-first or --month-first"
    )]
    DayOrMonth,
    /// Day first in one row, month first in another.
    #[error("the day comes first here, but the month in row {other}: give all dates as yyyy-mm-dd")]
    DatesMixed {
        /// A row with the month first.
        other: usize,
    },
    /// Collected before or on the day of setting.
    #[error(
        "collected on {collected}, not after the day of setting {set}: correct one of the dates (a trap open for less than a day needs an effort column)"
    )]
    CollectedBeforeSet {
        /// Day of setting.
        set: String,
        /// Day of collecting.
        collected: String,
    },
    /// One group counted twice in one sample.
    #[error(
        "the same site, trap, time and group as row {other}: keep one, or name the traps apart (counts are not added up)"
    )]
    Duplicate {
        /// The row before.
        other: usize,
    },
    /// Two efforts for one sample.
    #[error(
        "the same sample has another effort in row {other}: give one effort for one trap and time, or name the traps apart"
    )]
    EffortAtOdds {
        /// The row before.
        other: usize,
    },
    /// More groups than are planned with.
    #[error("{groups} groups in the taxon column, at most {most}: join species into groups first")]
    TooManyGroups {
        /// Groups in the file.
        groups: usize,
        /// Most allowed.
        most: usize,
    },
    /// The wished target is not in the file.
    #[error("the target {wanted:?} is not in the file; its groups are {}: choose one", groups.join(", "))]
    NoTarget {
        /// The wished target.
        wanted: String,
        /// The file's groups.
        groups: Vec<String>,
    },
    /// Every count is missing.
    #[error("not one row has a count: nothing can be learnt from the file")]
    NothingCounted,
    /// The target's counts are all 0.
    #[error(
        "every count of {group} is 0 in {trap_weeks} trap-weeks: no catch rate can be fitted; choose another target or give premises by hand"
    )]
    NothingCaught {
        /// The target.
        group: String,
        /// Effort behind it.
        trap_weeks: String,
    },
    /// Fewer counts than a mean and a spread need.
    #[error("{group} has {rows} counts: at least {least} are needed for a mean and its spread")]
    TooFew {
        /// The target.
        group: String,
        /// Its counts.
        rows: usize,
        /// Fewest allowed.
        least: usize,
    },
    /// The target's model cannot be fitted.
    #[error(
        "the counts of {group} cannot be fitted ({why}): choose another target, add catches, or give premises by hand"
    )]
    Fit {
        /// The target.
        group: String,
        /// Why.
        why: String,
    },
    /// A default that the program should have.
    #[error("there is no common practice for {key}: give this premise by hand")]
    NoDefault {
        /// The premise.
        key: String,
    },
    /// A column that a species table needs.
    #[error(
        "there is no column {name}; the headers are {}: give stratum, trap_weeks, species, count and, if known, killed_per_trap_week",
        headers.join(", ")
    )]
    ColumnMissing {
        /// The column.
        name: String,
        /// The file's headers.
        headers: Vec<String>,
    },
    /// Two columns of a species table for one thing.
    #[error("more than one column could be {name}: rename or remove all but one")]
    ColumnTwice {
        /// The column.
        name: String,
    },
    /// A stratum or species without a name.
    #[error("empty: give a name")]
    NameEmpty,
    /// A species without a count.
    #[error("not counted: give a whole number of 0 or more, or remove the row")]
    NotCounted,
    /// Animals killed that are no number of 0 or more.
    #[error("give the animals killed in a trap-week, a number of 0 or more")]
    Killed,
    /// Two numbers for one stratum.
    #[error(
        "the same stratum has another number in row {other}: give one number for a stratum, or name the strata apart"
    )]
    StratumAtOdds {
        /// The row before.
        other: usize,
    },
    /// A species twice in a stratum.
    #[error("the species is in this stratum already, in row {other}: add the counts up in one row")]
    SpeciesTwice {
        /// The row before.
        other: usize,
    },
    /// Errors beyond the first twenty.
    #[error("and {more} more like these: correct them and read the file again")]
    More {
        /// How many.
        more: usize,
    },
}
