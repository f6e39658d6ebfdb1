//! What the core crates must not know: browser, clock, files, threads, entropy, platform maths.
//!
//! A result depends on the scenario and the seed alone only while none of these can get in, so the check
//! looks at what the crates pull in and at what their sources name outside of tests.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::process;

/// The crates that compute, draw or hold what a shell shows. Everything above them is a shell.
pub const CORE: &[&str] = &[
    "numerics", "models", "survey", "pilot", "figures", "paper", "engine", "stand",
];

/// Crates that run the core and so decide which features its dependencies are built with.
const SHELLS: &[&str] = &["page", "cli"];

/// Packages that must not be reached from a core crate, each with the reason.
const FORBIDDEN_PACKAGES: &[(&str, &str)] = &[
    ("leptos", "the core knows no page"),
    ("web-sys", "the core knows no browser"),
    ("js-sys", "the core knows no browser"),
    ("wasm-bindgen", "the core knows no browser"),
    ("wasm-bindgen-futures", "the core knows no browser"),
    ("gloo", "the core knows no browser"),
    (
        "rayon",
        "the core knows no threads; the shells split the work",
    ),
    ("crossbeam", "the core knows no threads"),
    ("tokio", "the core knows no threads, files or clock"),
    (
        "getrandom",
        "randomness comes from the seed, never from the machine",
    ),
    (
        "rand_distr",
        "draws are our own, so that they stay the same from version to version",
    ),
    ("web-time", "the core knows no clock"),
];

/// Features that bring platform maths, whose last bit differs between machines.
const FORBIDDEN_FEATURES: &[(&str, &str)] = &[("num-traits", "std")];

/// Modules of the standard library that a core source must not name.
const FORBIDDEN_MODULES: &[&str] = &["env", "fs", "net", "os", "process", "thread", "time"];

/// Checks the dependencies and the sources of the core crates.
///
/// # Errors
/// Lists everything that is there and must not be, or says which crate could not be read.
pub fn check(root: &Path) -> Result<()> {
    let mut problems = Vec::new();
    for name in CORE {
        let tree = tree(root, name)?;
        problems.extend(package_problems(name, &tree));
        problems.extend(feature_problems(name, &tree));
        source_folder(&root.join("crates").join(name).join("src"), &mut problems)?;
    }
    for name in SHELLS {
        problems.extend(feature_problems(name, &tree(root, name)?));
    }
    if !problems.is_empty() {
        bail!(
            "the core crates know something they must not:\n  {}\n\
             The lists are in crates/xtask/src/absences.rs.",
            problems.join("\n  ")
        );
    }
    Ok(())
}

/// One line for each package that the crate pulls in: `name version | feature,feature`.
fn tree(root: &Path, name: &str) -> Result<String> {
    process::output(process::cargo(root).args([
        "tree",
        "--package",
        name,
        "--target",
        "wasm32-unknown-unknown",
        "--edges",
        "normal",
        "--prefix",
        "none",
        "--format",
        "{p} | {f}",
    ]))
}

/// The packages of a tree, each with its features.
fn packages(tree: &str) -> impl Iterator<Item = (&str, &str)> {
    tree.lines().filter_map(|line| {
        let (package, features) = line.split_once(" | ")?;
        Some((package.split_whitespace().next()?, features))
    })
}

fn package_problems(name: &str, tree: &str) -> Vec<String> {
    FORBIDDEN_PACKAGES
        .iter()
        .filter(|(forbidden, _)| packages(tree).any(|(package, _)| package == *forbidden))
        .map(|(forbidden, reason)| format!("{name} reaches {forbidden}: {reason}"))
        .collect()
}

fn feature_problems(name: &str, tree: &str) -> Vec<String> {
    FORBIDDEN_FEATURES
        .iter()
        .filter(|(forbidden, feature)| {
            packages(tree).any(|(package, features)| {
                package == *forbidden
                    && features
                        .split(|c: char| c == ',' || c.is_whitespace())
                        .any(|one| one == *feature)
            })
        })
        .map(|(forbidden, feature)| {
            format!("{name} reaches {forbidden} with feature {feature}: it brings platform maths")
        })
        .collect()
}

fn source_folder(folder: &Path, problems: &mut Vec<String>) -> Result<()> {
    let shown = || format!("could not read {}", folder.display());
    let mut paths = fs::read_dir(folder)
        .with_context(shown)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<Vec<_>, _>>()
        .with_context(shown)?;
    paths.sort();
    for path in paths {
        if is_for_tests(&path) {
            continue;
        }
        if path.is_dir() {
            source_folder(&path, problems)?;
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = fs::read_to_string(&path)
                .with_context(|| format!("could not read {}", path.display()))?;
            for module in forbidden_modules(&text) {
                problems.push(format!("{} names std::{module}", path.display()));
            }
        }
    }
    Ok(())
}

/// Whether a file or folder holds tests only. Tests may read and write files: no result depends on them.
fn is_for_tests(path: &Path) -> bool {
    path.file_stem().is_some_and(|stem| stem == "tests")
}

/// The code without what stands from its test module on, which a lint keeps last in the file.
fn without_tests(code: &str) -> &str {
    const MARK: &str = "#[cfg(test)]mod";
    for (at, _) in code.match_indices(MARK) {
        let rest = &code[at + MARK.len()..];
        if rest[head(rest).len()..].starts_with('{') {
            return &code[..at];
        }
    }
    code
}

/// The forbidden modules that a source names, in a path or in a group after `std::`. Comments may name
/// them: what is forbidden is knowing them, not mentioning them.
fn forbidden_modules(source: &str) -> Vec<&'static str> {
    let mut code = String::new();
    for line in source.lines() {
        let line = line.split("//").next().unwrap_or_default();
        code.extend(line.chars().filter(|c| !c.is_whitespace()));
    }
    let named: Vec<&str> = without_tests(&code)
        .split("std::")
        .skip(1)
        .flat_map(|rest| match rest.strip_prefix('{') {
            Some(group) => group_heads(group),
            None => vec![head(rest)],
        })
        .collect();
    FORBIDDEN_MODULES
        .iter()
        .copied()
        .filter(|module| named.contains(module))
        .collect()
}

/// First names of the entries of a group: `fs` and `mem` in `fs::{self, File}, mem}`.
fn group_heads(group: &str) -> Vec<&str> {
    let mut depth = 0_usize;
    let mut heads = vec![head(group)];
    for (at, c) in group.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => heads.push(head(&group[at + 1..])),
            _ => {}
        }
    }
    heads
}

/// The name that a piece of code begins with.
fn head(code: &str) -> &str {
    let end = code
        .find(|c: char| !c.is_ascii_alphanumeric() && c != '_')
        .unwrap_or(code.len());
    &code[..end]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_forbidden_package_is_found_and_a_longer_name_is_not_taken_for_it() {
        let tree =
            "engine v0.1.0 (/w) | \nserde v1.0.0 | std\nrayon-core v1.0.0 | \nrayon v1.0.0 | \n";
        assert_eq!(
            package_problems("engine", tree),
            ["engine reaches rayon: the core knows no threads; the shells split the work"]
        );
        assert_eq!(
            package_problems("engine", "rayon-core v1.0.0 | \n"),
            [] as [String; 0]
        );
    }

    #[test]
    fn platform_maths_by_feature_is_found() {
        assert_eq!(
            feature_problems("page", "num-traits v0.2.19 | default,libm,std (*)\n").len(),
            1
        );
        assert_eq!(
            feature_problems("page", "num-traits v0.2.19 | libm\n"),
            [] as [String; 0]
        );
    }

    #[test]
    fn forbidden_modules_are_found_alone_and_in_groups() {
        for (source, wanted) in [
            ("let t = std::time::Instant::now();", vec!["time"]),
            (
                "use std::{\n  collections::{BTreeMap, btree_map},\n  fs::File,\n  thread,\n};",
                vec!["fs", "thread"],
            ),
            ("use std::{env::args};", vec!["env"]),
        ] {
            assert_eq!(forbidden_modules(source), wanted, "{source}");
        }
    }

    #[test]
    fn tests_may_know_what_the_code_must_not() {
        assert!(is_for_tests(Path::new("src/paired/tests.rs")));
        assert!(!is_for_tests(Path::new("src/latest.rs")));
        for (source, wanted) in [
            ("#[cfg(test)]\nmod tests {\n  use std::fs;\n}", vec![]),
            ("#[cfg(test)]\nmod tests;\nuse std::fs;", vec!["fs"]),
            (
                "use std::env;\n#[cfg(test)]\nmod tests { use std::fs; }",
                vec!["env"],
            ),
        ] {
            assert_eq!(forbidden_modules(source), wanted, "{source}");
        }
    }

    #[test]
    fn comments_and_harmless_modules_pass() {
        for source in [
            "// never std::time here",
            "use std::{fmt, mem::{swap, take}};",
            "let time = 1; std::mem::drop(time);",
        ] {
            assert_eq!(forbidden_modules(source), [] as [&str; 0], "{source}");
        }
    }
}
