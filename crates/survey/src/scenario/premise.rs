//! A believed number: a value, perhaps a range, and where it comes from.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Where a premise comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Source {
    /// Fitted to the user's own pilot catches.
    Pilot,
    /// Taken from a publication, named in `citation`.
    Published,
    /// Usual in the trade, without a source.
    CommonPractice,
    /// The user's guess.
    Guess,
    /// Made up for a demonstration.
    Invented,
}

impl Source {
    /// The word shown beside the number.
    pub fn word(self) -> &'static str {
        match self {
            Self::Pilot => "pilot",
            Self::Published => "published",
            Self::CommonPractice => "common practice",
            Self::Guess => "guess",
            Self::Invented => "invented",
        }
    }
}

/// A believed number.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Premise {
    /// Best value.
    pub value: f64,
    /// Low end of the range thought possible.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low: Option<f64>,
    /// High end of the range thought possible.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub high: Option<f64>,
    /// Where it comes from.
    pub source: Source,
    /// The publication, when the source is `published`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub citation: Option<String>,
}

impl Premise {
    /// A premise without a range.
    pub fn new(value: f64, source: Source) -> Self {
        Self {
            value,
            low: None,
            high: None,
            source,
            citation: None,
        }
    }

    /// A premise with a range.
    pub fn ranged(value: f64, low: f64, high: f64, source: Source) -> Self {
        Self {
            low: Some(low),
            high: Some(high),
            ..Self::new(value, source)
        }
    }
}
