//! Lines to standard output.

use crate::failure::Failure;
use std::io::{ErrorKind, Write};

/// Prints a line. A reader that has read enough and gone (as `head` does) is no fault.
pub fn print_line(text: &str) -> Result<(), Failure> {
    match writeln!(std::io::stdout().lock(), "{text}") {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => {
            Err(Failure::Refused(format!("standard output: {e}")))
        }
        _ => Ok(()),
    }
}
