//! What can go wrong, with its exit code.

use thiserror::Error;

/// Why a command ends without its answer.
#[derive(Debug, Error)]
pub enum Failure {
    /// Input refused; one line for each fault.
    #[error("{0}")]
    Refused(String),
    /// Wrong arguments.
    #[error("{0}")]
    Usage(String),
    /// No plan within the limits answers; already told.
    #[error("")]
    NoPlan,
}

impl Failure {
    /// Exit code.
    pub fn code(&self) -> u8 {
        match self {
            Self::Refused(_) => 1,
            Self::Usage(_) => 2,
            Self::NoPlan => 3,
        }
    }
}
