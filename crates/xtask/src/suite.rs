//! `cargo xtask test`: every check of the project, cheapest first, stopping at the first that fails.

use std::time::Instant;

use anyhow::{Context, Result};

use crate::browser_tests::{self, Node};
use crate::native::{self, OF_BROWSER, cargo_without_browser};
use crate::process::{cargo, run as run_command};
use crate::serve::Server;
use crate::url_prefix::UrlPrefix;
use crate::workspace::Workspace;
use crate::{absences, chromium, command_line, directions, private_paths, site, wasm};

/// The site is tested in a sub-folder, where an address that is not relative shows.
const PREFIX: &str = "/sub/";

/// Runs everything, or everything that needs no browser.
///
/// # Errors
/// When a stage fails; the message names the stage.
pub fn run(workspace: &Workspace, skip_browser: bool) -> Result<()> {
    let root = workspace.root();
    stage("Format", || {
        run_command(cargo(root).args(["fmt", "--all", "--check"]))
            .context("the code is not formatted; `cargo fmt --all` puts it right")
    })?;
    stage("Lints", || lints(workspace))?;
    stage("Who may know whom", || {
        directions::check(workspace.members())?;
        absences::check(root)
    })?;
    stage("Tests of all crates", || {
        run_command(&mut native::tests(root))
    })?;
    let site = stage("Site", || {
        if !skip_browser {
            // What the browser tests load too, or it would keep one core busy alone.
            wasm::compile(workspace, wasm::PROGRAMS.iter().chain(wasm::CHECKS))?;
        }
        let site = site::build(workspace, None)?;
        private_paths::check(&site::files(&site)?, &private_paths::folders(root)?)?;
        Ok(site)
    })?;
    if skip_browser {
        println!("\nThe browser tests were left out, as asked.");
        return Ok(());
    }
    let (chromium, node) = stage("Browser", || {
        let chromium = chromium::ensure()?;
        let node = Node::find()?;
        browser_tests::install(&node, root)?;
        println!("Chromium: {}", chromium.display());
        Ok((chromium, node))
    })?;
    stage("Browser tests", || {
        let prefix: UrlPrefix = PREFIX.parse()?;
        let site = site::build_for_tests(workspace, &site)?;
        let server = Server::start(&site, 0, &prefix)?;
        let command_line = command_line::build(root)?;
        browser_tests::run(&node, root, &chromium, &server, &command_line)
    })
}

/// Lints everything as compiled for this computer, and what is for the browser as compiled for that.
fn lints(workspace: &Workspace) -> Result<()> {
    let root = workspace.root();
    let strict = ["--all-targets", "--", "-D", "warnings"];
    run_command(cargo_without_browser(root, "clippy").args(strict))?;
    wasm::ensure_target(workspace)?;
    let of_browser = OF_BROWSER.iter().flat_map(|package| ["--package", package]);
    let mut there = cargo(root);
    there.args(["clippy", "--target", wasm::TARGET]);
    run_command(there.args(of_browser).args(strict))
}

/// Prints a header, runs a stage, prints how long it took, and names the stage if it fails.
fn stage<T>(name: &str, work: impl FnOnce() -> Result<T>) -> Result<T> {
    println!("\n== {name}");
    let start = Instant::now();
    let done = work().with_context(|| format!("stage \"{name}\" failed"))?;
    println!("-- {name}: {} s", start.elapsed().as_secs());
    Ok(done)
}
