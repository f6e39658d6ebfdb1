//! Words for the parts that come in a file of their own.

/// While the file is loaded.
pub const COMING: &str = "Loading this part …";
/// When it did not come.
pub const FAILED: &str = "This part could not be loaded. Nothing you typed is lost. Please look at the connection, and load the page anew if a newer version of it is there.";
/// Loads it again.
pub const AGAIN: &str = "Try again";
