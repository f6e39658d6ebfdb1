//! Running the tests in `tests/browser` with Node's own test runner against a served site.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::process::{self, find_program};
use crate::serve::Server;

/// The oldest Node whose test runner the tests can use: the first that takes how many files it may run at once.
const LEAST_NODE: (u32, u32) = (20, 10);

/// Files of tests that measure time or memory, and so have the computer for themselves.
const ALONE: [&str; 2] = ["calm.test.mjs", "memory.test.mjs"];

/// Files that run at once: much of a test is waiting.
const AT_ONCE: usize = 2;

/// The programs that the tests need beside Chromium.
pub struct Node {
    node: PathBuf,
    npm: PathBuf,
}

impl Node {
    /// Finds Node and its package manager.
    ///
    /// # Errors
    /// Says what to install when one is missing or too old.
    pub fn find() -> Result<Self> {
        let least = format!("{}.{}", LEAST_NODE.0, LEAST_NODE.1);
        let (Some(node), Some(npm)) = (find_program("node"), find_program("npm")) else {
            bail!(
                "the browser tests need Node {least} or later with npm. Please install both (on \
                 Debian and Ubuntu: apt-get install nodejs npm); or leave the browser tests out with \
                 --skip-browser."
            );
        };
        let version = process::output(Command::new(&node).arg("--version"))?;
        if numbers(&version)? < LEAST_NODE {
            bail!(
                "the browser tests need Node {least} or later; {} is {}",
                node.display(),
                version.trim()
            );
        }
        Ok(Self { node, npm })
    }
}

/// The first two numbers of a version such as `v20.20.2`.
fn numbers(version: &str) -> Result<(u32, u32)> {
    let mut parts = version.trim().trim_start_matches('v').split('.');
    let mut next = || parts.next()?.parse().ok();
    next()
        .zip(next())
        .with_context(|| format!("Node gave a version that is not understood: {version:?}"))
}

/// Installs exactly what the lock file names.
///
/// # Errors
/// When the packages cannot be installed.
pub fn install(node: &Node, root: &Path) -> Result<()> {
    process::run(Command::new(&node.npm).current_dir(folder(root)).args([
        "ci",
        "--no-audit",
        "--no-fund",
    ]))
}

/// Runs the tests against the server, with the browser given, and with the command line whose answers
/// the page must give too.
///
/// # Errors
/// When a test fails.
pub fn run(
    node: &Node,
    root: &Path,
    chromium: &Path,
    server: &Server,
    command_line: &Path,
) -> Result<()> {
    let (alone, together): (Vec<_>, Vec<_>) = test_files(&folder(root))?
        .into_iter()
        .partition(|file| ALONE.iter().any(|alone| file == alone));
    if alone.len() != ALONE.len() {
        bail!("of {ALONE:?} there are only {alone:?}");
    }
    for (files, at_once) in [(together, AT_ONCE), (alone, 1)] {
        process::run(
            Command::new(&node.node)
                .current_dir(folder(root))
                .args(["--test", &format!("--test-concurrency={at_once}")])
                .args(files)
                .env("SITE_URL", server.url())
                .env("CHROMIUM", chromium)
                .env("LEASTCATCH", command_line),
        )?;
    }
    Ok(())
}

/// Runs the measurements against the server, with the browser given and the program that measures the engine outside.
///
/// # Errors
/// When something cannot be measured.
pub fn measure(
    node: &Node,
    root: &Path,
    chromium: &Path,
    server: &Server,
    speed: &Path,
) -> Result<()> {
    process::run(
        Command::new(&node.node)
            .current_dir(folder(root))
            .arg("bench.mjs")
            .env("SITE_URL", server.url())
            .env("CHROMIUM", chromium)
            .env("SPEED", speed),
    )
}

fn folder(root: &Path) -> PathBuf {
    root.join("tests").join("browser")
}

/// The test files by name: what Node looks for by itself differs from version to version.
fn test_files(folder: &Path) -> Result<Vec<OsString>> {
    let mut files = Vec::new();
    for entry in
        fs::read_dir(folder).with_context(|| format!("could not read {}", folder.display()))?
    {
        let name = entry?.file_name();
        if name.to_string_lossy().ends_with(".test.mjs") {
            files.push(name);
        }
    }
    if files.is_empty() {
        bail!("there are no browser tests in {}", folder.display());
    }
    files.sort();
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_two_numbers_of_a_version_count() {
        assert_eq!(numbers("v20.20.2\n").expect("a version"), (20, 20));
        assert!(numbers("v9.11.0").expect("a version") < LEAST_NODE);
        assert!(numbers("unknown").is_err());
        assert!(numbers("v20").is_err());
    }
}
