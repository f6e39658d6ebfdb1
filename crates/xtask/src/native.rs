//! What cargo does with the crates as compiled for this computer: all but those that are for the browser alone.

use std::path::Path;
use std::process::Command;

use crate::process::cargo;

/// What is for the browser alone: linted as compiled for it, and tested in it.
pub const OF_BROWSER: [&str; 2] = ["page", "worker"];

/// A command of cargo's for all crates but those of the browser.
pub fn cargo_without_browser(root: &Path, what: &str) -> Command {
    let mut command = cargo(root);
    command.args([what, "--workspace"]);
    command.args(OF_BROWSER.iter().flat_map(|package| ["--exclude", package]));
    command
}

/// The tests of all crates. Who wants one of their programs must ask by this command too: asked for other crates, cargo
/// chooses other features of the libraries and compiles everything once more.
pub fn tests(root: &Path) -> Command {
    cargo_without_browser(root, "test")
}
