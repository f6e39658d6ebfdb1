//! `cargo xtask bench`: runs the benchmark targets of the workspace.

use anyhow::{Result, bail};

use crate::process::{cargo, run as run_command};
use crate::workspace::Workspace;

/// Runs all benchmarks, or the one that the first word names; the other words are passed on to it.
///
/// Only benchmark targets are run: the test harness of the libraries would refuse the words passed on.
///
/// # Errors
/// When there is no benchmark of that name, or one fails.
pub fn run(workspace: &Workspace, words: &[String]) -> Result<()> {
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

/// The benchmarks to run, and the words to pass on to them.
fn choose<'a>(all: &[&'a str], words: &'a [String]) -> Result<(Vec<&'a str>, &'a [String])> {
    if all.is_empty() {
        bail!("there are no benchmarks in the workspace");
    }
    match words {
        [name, rest @ ..] if !name.starts_with('-') => {
            if !all.contains(&name.as_str()) {
                bail!(
                    "there is no benchmark {name:?}; there are: {}",
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
