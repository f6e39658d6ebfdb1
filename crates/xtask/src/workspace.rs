//! What cargo says of this workspace: where it is, where its output goes, what its members are.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use serde_json::Value;

use crate::process;

/// The workspace as `cargo metadata` describes it.
pub struct Workspace {
    root: PathBuf,
    target: PathBuf,
    members: Vec<Member>,
}

/// One crate of the workspace.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Member {
    /// Name of the crate.
    pub name: String,
    /// Crates it uses outside of its tests, from the workspace or not, sorted.
    pub uses: Vec<String>,
    /// Names of its benchmark targets.
    pub benches: Vec<String>,
}

impl Workspace {
    /// Asks cargo about the workspace that this program belongs to.
    ///
    /// # Errors
    /// When cargo cannot be run or answers in a form not understood.
    pub fn read() -> Result<Self> {
        let here = Path::new(env!("CARGO_MANIFEST_DIR"));
        let text = process::output(process::cargo(here).args([
            "metadata",
            "--format-version",
            "1",
            "--no-deps",
        ]))?;
        Self::parse(&text).context("cargo metadata gave an answer that is not understood")
    }

    /// Reads the answer of `cargo metadata --format-version 1 --no-deps`.
    fn parse(text: &str) -> Result<Self> {
        let metadata: Value = serde_json::from_str(text)?;
        let path = |field: &str| -> Result<PathBuf> { Ok(string(&metadata[field], field)?.into()) };
        Ok(Self {
            root: path("workspace_root")?,
            target: path("target_directory")?,
            members: list(&metadata["packages"], "packages")?
                .iter()
                .map(member)
                .collect::<Result<_>>()?,
        })
    }

    /// Folder of the workspace.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// Folder that cargo writes to, wherever the person has put it.
    pub fn target(&self) -> &Path {
        &self.target
    }

    /// The crates of the workspace.
    pub fn members(&self) -> &[Member] {
        &self.members
    }
}

fn member(package: &Value) -> Result<Member> {
    let mut uses = Vec::new();
    for dependency in list(&package["dependencies"], "dependencies")? {
        if dependency["kind"] != "dev" {
            uses.push(string(&dependency["name"], "dependency name")?);
        }
    }
    uses.sort();
    uses.dedup();
    let mut benches = Vec::new();
    for target in list(&package["targets"], "targets")? {
        if list(&target["kind"], "kind")?.contains(&Value::from("bench")) {
            benches.push(string(&target["name"], "target name")?);
        }
    }
    Ok(Member {
        name: string(&package["name"], "package name")?,
        uses,
        benches,
    })
}

fn string(value: &Value, what: &str) -> Result<String> {
    Ok(value
        .as_str()
        .with_context(|| format!("{what} is not a text"))?
        .to_owned())
}

fn list<'a>(value: &'a Value, what: &str) -> Result<&'a Vec<Value>> {
    value
        .as_array()
        .with_context(|| format!("{what} is not a list"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_uses_and_benches_and_leaves_out_what_only_tests_use() {
        let text = r#"{
          "workspace_root": "/w", "target_directory": "/t",
          "packages": [{
            "name": "engine",
            "dependencies": [
              {"name": "survey", "kind": null},
              {"name": "criterion", "kind": "dev"},
              {"name": "cc", "kind": "build"}
            ],
            "targets": [
              {"name": "engine", "kind": ["lib"]},
              {"name": "chunk", "kind": ["bench"]}
            ]
          }]
        }"#;
        let workspace = Workspace::parse(text).expect("a sound answer");
        assert_eq!(workspace.root(), Path::new("/w"));
        assert_eq!(workspace.target(), Path::new("/t"));
        let engine = &workspace.members()[0];
        assert_eq!(engine.uses, ["cc", "survey"]);
        assert_eq!(engine.benches, ["chunk"]);
    }
}
