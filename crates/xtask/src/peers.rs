//! `cargo xtask bench peers`: the same fits by general libraries in R and Python, where they are installed, and by ours,
//! one after the other on one thread, side by side.
//!
//! The scripts are in `tests/peers`, our side is `tests/examples/peers.rs`; each writes one line of JSON for each
//! measurement, version or missing package. The libraries do far more than this one model; the table says what a
//! person gains who needs this one only, and that the optima are the same.

mod table;

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result};
use serde::Deserialize;

use crate::process::{self, cargo, find_program};
use crate::workspace::Workspace;

/// The name of our own measurements.
const OURS: &str = "ours";
const R: &str = "apt-get install r-base-core r-cran-glmmtmb r-cran-lme4";
const PYTHON: &str = "apt-get install python3-pip, then pip install statsmodels";

/// One line that a peer writes.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(untagged)]
enum Line {
    /// A fit that was timed.
    Measured {
        /// Who fitted.
        peer: String,
        /// What: a set of tests/reference, or a longer task.
        set: String,
        /// Median milliseconds of a call.
        ms: f64,
        /// Calls timed.
        calls: u32,
        /// Log likelihood at the optimum; none for tasks and for other estimators.
        log_likelihood: Option<f64>,
    },
    /// The version of a program or package.
    Version { version: String, is: String },
    /// Something that is not installed.
    Missing { missing: String, install: String },
}

/// Runs all that is installed and prints the tables.
///
/// # Errors
/// When a program that is there fails or writes something else than its lines.
pub fn run(workspace: &Workspace) -> Result<()> {
    let root = workspace.root();
    let mut command = cargo(root);
    command.args(["run", "--release", "--package", "leastcatch-tests"]);
    let mut lines = read(&process::output(command.args(["--example", "peers"]))?)?;
    lines.push(Line::Version {
        version: "rustc".into(),
        is: rustc(root)?,
    });
    for (program, script, install) in [
        (find_program("Rscript"), "peers.R", R),
        (python(), "peers.py", PYTHON),
    ] {
        lines.extend(peer(root, program.as_deref(), script, install)?);
    }
    println!("{}", table::tables(&lines, &machine()));
    Ok(())
}

/// What a script writes, run on one thread; or that its program is missing.
fn peer(root: &Path, program: Option<&Path>, script: &str, install: &str) -> Result<Vec<Line>> {
    let Some(program) = program else {
        return Ok(vec![Line::Missing {
            missing: format!("the program for tests/peers/{script}"),
            install: install.into(),
        }]);
    };
    println!("Running tests/peers/{script}; this takes some minutes.");
    let mut command = Command::new(program);
    command.current_dir(root.join("tests/peers")).arg(script);
    for threads in ["OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"] {
        command.env(threads, "1");
    }
    read(&process::output(&mut command)?)
}

/// The Python to use: the variable PYTHON names another one than the first on the path.
fn python() -> Option<PathBuf> {
    let named = std::env::var_os("PYTHON").map(PathBuf::from);
    named.or_else(|| find_program("python3"))
}

fn read(output: &str) -> Result<Vec<Line>> {
    let line = |text: &str| {
        serde_json::from_str(text)
            .with_context(|| format!("a peer wrote a line that is none: {text:?}"))
    };
    output
        .lines()
        .filter(|l| !l.trim().is_empty())
        .map(line)
        .collect()
}

fn rustc(root: &Path) -> Result<String> {
    let rustc = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let told = process::output(Command::new(rustc).current_dir(root).arg("--version"))?;
    let version = told.split_whitespace().nth(1).map(str::to_string);
    version.with_context(|| format!("rustc gave a version that is not understood: {told:?}"))
}

/// Model and number of processors, as far as the system tells.
fn machine() -> String {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let told = std::fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let model = model(&told).unwrap_or("processor of unknown model");
    format!("{model}, {cores} cores")
}

fn model(cpuinfo: &str) -> Option<&str> {
    let line = cpuinfo.lines().find(|l| l.starts_with("model name"))?;
    line.split_once(':').map(|(_, name)| name.trim())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_every_kind_are_read_and_others_refused() {
        let text = "{\"version\":\"R\",\"is\":\"4.2.2\"}\n\n\
                    {\"peer\":\"glmmTMB\",\"set\":\"a\",\"ms\":192.5,\"calls\":5,\"log_likelihood\":-370.5}\n\
                    {\"peer\":\"scipy\",\"set\":\"200 surveys\",\"ms\":1.0,\"calls\":1,\"log_likelihood\":null}\n\
                    {\"missing\":\"lme4\",\"install\":\"apt-get install r-cran-lme4\"}\n";
        let lines = read(text).expect("lines");
        assert_eq!(lines.len(), 4);
        assert!(
            matches!(&lines[0], Line::Version { version, is } if version == "R" && is == "4.2.2")
        );
        assert!(
            matches!(&lines[1], Line::Measured { ms, log_likelihood: Some(l), .. } if *ms == 192.5 && *l == -370.5)
        );
        assert!(matches!(
            &lines[2],
            Line::Measured {
                log_likelihood: None,
                ..
            }
        ));
        assert!(matches!(&lines[3], Line::Missing { missing, .. } if missing == "lme4"));
        let refused = read("Error in library(lme4)").expect_err("no line");
        assert!(refused.to_string().contains("Error in library(lme4)"));
    }

    #[test]
    fn a_program_that_is_not_there_is_told_with_how_to_install_it() {
        let lines = peer(Path::new("/"), None, "peers.R", R).expect("no failure");
        let [Line::Missing { missing, install }] = lines.as_slice() else {
            panic!("{lines:?}");
        };
        assert!(missing.contains("peers.R") && install.contains("r-cran-glmmtmb"));
    }

    #[test]
    fn the_processor_is_found_among_others() {
        let text = "processor\t: 0\nmodel name\t: A Processor 9\nmodel name\t: another\n";
        assert_eq!(model(text), Some("A Processor 9"));
        assert_eq!(model("Hardware : board"), None);
    }
}
