//! Building the command line, whose answers the browser tests hold against those of the page.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use serde_json::Value;

use crate::process::{self, cargo};

/// Builds the program and returns where it is. Cargo is asked for the place, because a person may have
/// set another target or target directory.
///
/// # Errors
/// When it does not compile, or cargo does not say where it is.
pub fn build(root: &Path) -> Result<PathBuf> {
    let told = process::output(cargo(root).args([
        "build",
        "--package",
        "cli",
        "--message-format",
        "json-render-diagnostics",
    ]))?;
    executable(&told).context("cargo did not say where the command line was built")
}

/// Builds the program that measures the engine outside of a browser, as fast as it gets, and returns where it is.
///
/// # Errors
/// As [`build`].
pub fn build_speed(root: &Path) -> Result<PathBuf> {
    let told = process::output(cargo(root).args([
        "build",
        "--release",
        "--package",
        "leastcatch-tests",
        "--example",
        "speed",
        "--message-format",
        "json-render-diagnostics",
    ]))?;
    executable(&told).context("cargo did not say where the measuring program was built")
}

/// The last program named in cargo's messages, of which each is a line of JSON.
fn executable(messages: &str) -> Option<PathBuf> {
    let named = |line: &str| {
        let message: Value = serde_json::from_str(line).ok()?;
        message["executable"].as_str().map(PathBuf::from)
    };
    messages.lines().rev().find_map(named)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_program_is_found_among_the_messages() {
        let messages = "{\"reason\":\"compiler-artifact\",\"executable\":null}\n\
                        {\"reason\":\"compiler-artifact\",\"executable\":\"/t/leastcatch\"}\n\
                        {\"reason\":\"build-finished\",\"success\":true}\n";
        assert_eq!(executable(messages), Some("/t/leastcatch".into()));
        assert_eq!(executable("{\"reason\":\"build-finished\"}\n"), None);
    }
}
