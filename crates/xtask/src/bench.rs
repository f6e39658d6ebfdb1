//! `cargo xtask bench`: runs the benchmark targets of the workspace, or measures the served page in Chromium.

use anyhow::{Result, bail};

use crate::browser_tests::{self, Node};
use crate::peers;
use crate::process::{cargo, run as run_command};
use crate::serve::Server;
use crate::workspace::Workspace;
use crate::{chromium, command_line, site};

/// The word that asks for the measurements in Chromium.
const BROWSER: &str = "browser";

/// Runs all benchmarks, or the one that the first word names; the other words are passed on to it. The word `peers`
/// stands for the comparison with general libraries in R and Python, and `size` for the study of false alarms, which are
/// no benchmark targets.
///
/// Only benchmark targets are run: the test harness of the libraries would refuse the words passed on.
///
/// # Errors
/// When there is no benchmark of that name, or one fails.
pub fn run(workspace: &Workspace, words: &[String]) -> Result<()> {
    if words == [BROWSER] {
        return in_browser(workspace);
    }
    if words == ["peers"] {
        return peers::run(workspace);
    }
    if let [name, rest @ ..] = words
        && name == "size"
    {
        return sizes(workspace, rest);
    }
    let all: Vec<&str> = workspace
        .members()
        .iter()
        .flat_map(|member| member.benches.iter().map(String::as_str))
        .collect();
    let (chosen, passed_on) = choose(&all, words)?;
    let mut command = cargo(workspace.root());
    command.args(["bench", "--workspace"]);
    for name in chosen {
        command.args(["--bench", name]);
    }
    run_command(command.arg("--").args(passed_on))
}

/// Milliseconds and megabytes of the served page, printed by `tests/browser/bench.mjs`.
fn in_browser(workspace: &Workspace) -> Result<()> {
    let root = workspace.root();
    let chromium = chromium::ensure()?;
    let node = Node::find()?;
    browser_tests::install(&node, root)?;
    let site = site::build(workspace, None)?;
    let site = site::build_for_tests(workspace, &site)?;
    let speed = command_line::build_speed(root)?;
    let server = Server::start(&site, 0, &"/".parse()?)?;
    browser_tests::measure(&node, root, &chromium, &server, &speed)
}

/// The study of false alarms, whose table is kept in `tests/reference/size`: some ten minutes on two cores.
fn sizes(workspace: &Workspace, words: &[String]) -> Result<()> {
    let mut command = cargo(workspace.root());
    command.args([
        "run",
        "--release",
        "--package",
        "leastcatch-tests",
        "--bin",
        "size-study",
    ]);
    run_command(command.arg("--").args(words))
}

/// The benchmarks to run, and the words to pass on to them.
fn choose<'a>(all: &[&'a str], words: &'a [String]) -> Result<(Vec<&'a str>, &'a [String])> {
    if all.is_empty() {
        bail!("there are no benchmarks in the workspace");
    }
    match words {
        [name, rest @ ..] if !name.starts_with('-') => {
            if !all.contains(&name.as_str()) {
                bail!(
                    "there is no benchmark {name:?}; there are: {BROWSER}, peers, size, {}",
                    all.join(", ")
                );
            }
            Ok((vec![name.as_str()], rest))
        }
        _ => Ok((all.to_vec(), words)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_chooses_and_the_rest_is_passed_on() {
        let words = ["fit".to_owned(), "--quick".to_owned()];
        let (chosen, rest) = choose(&["chunk", "fit"], &words).expect("a benchmark");
        assert_eq!(chosen, ["fit"]);
        assert_eq!(rest, ["--quick"]);
        let (chosen, rest) = choose(&["chunk", "fit"], &words[1..]).expect("all");
        assert_eq!(chosen, ["chunk", "fit"]);
        assert_eq!(rest, ["--quick"]);
    }

    #[test]
    fn an_unknown_name_is_refused() {
        let words = ["fitt".to_owned()];
        let error = choose(&["chunk", "fit"], &words).expect_err("no such benchmark");
        assert!(error.to_string().contains("chunk, fit"));
    }
}
