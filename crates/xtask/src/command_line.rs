//! Building the command line, whose answers the browser tests hold against those of the page.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use serde_json::Value;

use crate::native;
use crate::process::{self, cargo};

/// Builds the program and returns where it is. Cargo is asked for the place, because a person may have
/// set another target or target directory; and it is asked as for the tests of all crates, so that what these have
/// compiled serves here.
///
/// # Errors
/// When it does not compile, or cargo does not say where it is.
pub fn build(root: &Path) -> Result<PathBuf> {
    let told = process::output(native::tests(root).args([
        "--test",
        "command_line",
        "--no-run",
        "--message-format",
        "json-render-diagnostics",
    ]))?;
    executable(&told, "leastcatch").context("cargo did not say where the command line was built")
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
    executable(&told, "speed").context("cargo did not say where the measuring program was built")
}

/// The program of that name, which is no test, in cargo's messages, of which each is a line of JSON.
fn executable(messages: &str, name: &str) -> Option<PathBuf> {
    let named = |line: &str| {
        let message: Value = serde_json::from_str(line).ok()?;
        let ours = message["target"]["name"] == name && message["profile"]["test"] == false;
        let path = message["executable"].as_str().filter(|_| ours)?;
        Some(PathBuf::from(path))
    };
    messages.lines().find_map(named)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_program_is_found_among_the_messages() {
        let artifact = |name: &str, test: bool, path: Option<&str>| {
            serde_json::json!({
                "reason": "compiler-artifact",
                "target": {"name": name},
                "profile": {"test": test},
                "executable": path,
            })
            .to_string()
        };
        let messages = [
            artifact("serde", false, None),
            artifact("leastcatch", true, Some("/t/leastcatch-test")),
            artifact("leastcatch", false, Some("/t/leastcatch")),
            artifact("command_line", true, Some("/t/command_line")),
            r#"{"reason":"build-finished","success":true}"#.to_owned(),
        ]
        .join("\n");
        assert_eq!(
            executable(&messages, "leastcatch"),
            Some("/t/leastcatch".into())
        );
        assert_eq!(executable(&messages, "speed"), None);
    }
}
