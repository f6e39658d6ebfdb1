//! Who may know whom: the crates of the workspace form a one-way street, and this checks it.
//!
//! The shells (page with what it holds, worker, cli) know the engine, the engine knows the domain, the domain knows the
//! models, and nothing points the other way.

use std::collections::BTreeMap;

use anyhow::{Result, bail};

use crate::workspace::Member;

/// Every crate of the workspace, with the crates of the workspace it may use outside of its tests.
const MAY_USE: &[(&str, &[&str])] = &[
    ("numerics", &[]),
    ("models", &["numerics"]),
    ("survey", &["models", "numerics"]),
    ("pilot", &["survey", "models", "numerics"]),
    ("figures", &[]),
    ("paper", &["figures", "survey"]),
    ("engine", &["survey", "pilot", "models", "numerics"]),
    ("cli", &["engine", "figures", "paper"]),
    ("worker", &["engine"]),
    ("stand", &["engine", "figures", "paper"]),
    ("page", &["stand", "engine", "figures", "paper", "worker"]),
    ("xtask", &[]),
    // The tests stand above everything they test, and nothing may use them.
    (
        "leastcatch-tests",
        &["engine", "figures", "pilot", "survey", "models", "numerics"],
    ),
];

/// Checks the crates against the table.
///
/// # Errors
/// Lists every crate that uses one it must not know, stands in no row, or has a row but does not exist.
pub fn check(members: &[Member]) -> Result<()> {
    let problems = problems(members, MAY_USE);
    if !problems.is_empty() {
        bail!(
            "the crates depend on each other in a way they must not:\n  {}\n\
             The table is in crates/xtask/src/directions.rs.",
            problems.join("\n  ")
        );
    }
    Ok(())
}

fn problems(members: &[Member], table: &[(&str, &[&str])]) -> Vec<String> {
    let rows: BTreeMap<&str, &[&str]> = table.iter().copied().collect();
    let inside = |name: &str| members.iter().any(|member| member.name == name);
    let mut problems = Vec::new();
    for Member { name, uses, .. } in members {
        let Some(allowed) = rows.get(name.as_str()) else {
            problems.push(format!("{name} has no row in the table"));
            continue;
        };
        for used in uses.iter().filter(|used| inside(used)) {
            if !allowed.contains(&used.as_str()) {
                problems.push(format!("{name} uses {used}, which it must not know"));
            }
        }
    }
    for name in rows.keys().filter(|name| !inside(name)) {
        problems.push(format!(
            "{name} has a row in the table, but there is no such crate"
        ));
    }
    problems
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLE: &[(&str, &[&str])] = &[("base", &[]), ("top", &["base"])];

    fn member(name: &str, uses: &[&str]) -> Member {
        Member {
            name: name.to_owned(),
            uses: uses.iter().map(|&used| used.to_owned()).collect(),
            benches: Vec::new(),
        }
    }

    #[test]
    fn arrows_that_point_down_pass() {
        let members = [member("base", &["serde"]), member("top", &["base"])];
        assert_eq!(problems(&members, TABLE), [] as [String; 0]);
    }

    #[test]
    fn an_arrow_that_points_up_is_found() {
        let members = [member("base", &["top"]), member("top", &["base"])];
        assert_eq!(
            problems(&members, TABLE),
            ["base uses top, which it must not know"]
        );
    }

    #[test]
    fn a_crate_without_a_row_and_a_row_without_a_crate_are_found() {
        let members = [member("base", &[]), member("stranger", &["base"])];
        assert_eq!(
            problems(&members, TABLE),
            [
                "stranger has no row in the table",
                "top has a row in the table, but there is no such crate"
            ]
        );
    }

    #[test]
    fn no_crate_in_the_table_may_know_itself_by_a_detour() {
        for (name, uses) in MAY_USE {
            for used in *uses {
                let row = MAY_USE.iter().find(|(other, _)| other == used);
                let (_, below) = row.expect("every crate named in the table has a row");
                assert!(!below.contains(name), "{name} and {used} know each other");
            }
        }
    }
}
