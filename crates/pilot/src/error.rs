//! Where something is wrong, and what.

use super::problem::Problem;
use serde::{Deserialize, Serialize};

/// Most errors listed; a last one says how many more there are.
pub const MOST_ERRORS: usize = 20;

/// Something wrong in a pilot file: file, row, column, value, and what to do.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PilotError {
    /// The file's name as given in the options.
    pub file: String,
    /// Line of the file, from 1, comments and header counted.
    pub row: Option<usize>,
    /// Header of the column.
    pub column: Option<String>,
    /// The value found.
    pub value: Option<String>,
    /// What is wrong and what to do.
    pub problem: Problem,
}

impl PilotError {
    /// Something wrong with the whole file.
    pub fn file(file: &str, problem: Problem) -> Self {
        Self {
            file: file.to_owned(),
            row: None,
            column: None,
            value: None,
            problem,
        }
    }

    /// The same at a row.
    pub fn at(mut self, row: usize) -> Self {
        self.row = Some(row);
        self
    }

    /// The same in a column with a value.
    pub fn cell(mut self, column: &str, value: &str) -> Self {
        self.column = Some(column.to_owned());
        self.value = Some(value.to_owned());
        self
    }
}

impl std::fmt::Display for PilotError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(if self.file.is_empty() {
            "the pilot file"
        } else {
            &self.file
        })?;
        if let Some(row) = self.row {
            write!(f, ", row {row}")?;
        }
        if let Some(column) = &self.column {
            write!(f, ", column {column}")?;
        }
        if let Some(value) = &self.value {
            write!(f, ", value {value:?}")?;
        }
        write!(f, ": {}", self.problem)
    }
}

impl std::error::Error for PilotError {}

/// The first [`MOST_ERRORS`] errors and how many more there are.
pub(crate) fn shorten(file: &str, mut errors: Vec<PilotError>) -> Vec<PilotError> {
    if errors.len() > MOST_ERRORS {
        let more = errors.len() - MOST_ERRORS;
        errors.truncate(MOST_ERRORS);
        errors.push(PilotError::file(file, Problem::More { more }));
    }
    errors
}
