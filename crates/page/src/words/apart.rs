//! Words for the parts that come in a file of their own.

/// While the file is loaded.
pub const COMING: &str = "Loading this part …";
/// When it did not come.
pub const FAILED: &str =
    "This part could not be loaded. Nothing you typed is lost. Please look at the connection.";
/// Loads it again.
pub const AGAIN: &str = "Try again";
