//! The command line leastcatch.
