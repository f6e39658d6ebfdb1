//! `cargo xtask`: everything that is done with this workspace beyond plain cargo, so that a clone needs
//! Rust and nothing else to serve the page.
//!
//! Architecture invariant: nothing here is part of Leastcatch itself, and no other crate depends on it.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a command for people at a terminal: printing is what it does"
)]

mod absences;
mod bench;
mod browser_tests;
mod chromium;
mod command_line;
mod directions;
mod native;
mod offline;
mod opener;
mod peers;
mod private_paths;
mod process;
mod serve;
mod site;
mod split;
mod suite;
mod url_prefix;
mod wasm;
mod workspace;

use std::path::PathBuf;
use std::process::ExitCode;

use anyhow::Result;
use clap::{Parser, Subcommand};

use crate::url_prefix::UrlPrefix;
use crate::workspace::Workspace;

/// Serve, build, test and measure Leastcatch.
#[derive(Parser)]
#[command(name = "cargo xtask", bin_name = "cargo xtask")]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

/// What can be asked for.
#[derive(Subcommand)]
enum Command {
    /// Build the page, serve it on this computer and open a browser.
    Serve {
        /// Port to listen on; if it is taken, the following ones are tried.
        #[arg(long, default_value_t = 8787)]
        port: u16,
        /// Path under which the page is served, as a file host in a sub-folder would.
        #[arg(long, default_value = "/")]
        prefix: UrlPrefix,
        /// Do not open a browser.
        #[arg(long)]
        no_open: bool,
    },
    /// Build the static site that any file host can serve.
    Build {
        /// Where to write it; by default `site` in cargo's target directory.
        #[arg(long)]
        out: Option<PathBuf>,
    },
    /// Run every check, the tests of all crates and the browser tests.
    Test {
        /// Leave out the tests that need Chromium and Node.
        #[arg(long)]
        skip_browser: bool,
    },
    /// Run the benchmarks, or the one named; `peers` compares with R and Python where they are installed.
    Bench {
        /// Name of the benchmark target, followed by anything that is passed on to it; or `browser`, to measure the
        /// served page in Chromium.
        #[arg(trailing_var_arg = true, allow_hyphen_values = true)]
        rest: Vec<String>,
    },
}

fn main() -> ExitCode {
    match run(Arguments::parse().command) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            // Without a backtrace: what fails here is nearly always another program, not this one.
            eprintln!("\nerror: {error}");
            for cause in error.chain().skip(1) {
                eprintln!("  because: {cause}");
            }
            ExitCode::FAILURE
        }
    }
}

fn run(command: Command) -> Result<()> {
    let workspace = Workspace::read()?;
    match command {
        Command::Serve {
            port,
            prefix,
            no_open,
        } => {
            let site = site::build(&workspace, None)?;
            let server = serve::Server::start(&site, port, &prefix)?;
            println!("Serving {}", server.url());
            println!("Stop with Ctrl-C.");
            if !no_open {
                opener::open(server.url());
            }
            server.wait()
        }
        Command::Build { out } => {
            let site = site::build(&workspace, out.as_deref())?;
            site::print_sizes(&site)
        }
        Command::Test { skip_browser } => suite::run(&workspace, skip_browser),
        Command::Bench { rest } => bench::run(&workspace, &rest),
    }
}
