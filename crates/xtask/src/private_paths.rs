//! Keeping the paths of the computer that builds out of what is published.
//!
//! A compiled program names the source file of every place that can panic. For dependencies that is a
//! path in the home folder of whoever built it, so these paths are replaced by a plain word.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use serde_json::Value;

use crate::process;

/// What the folders of the dependencies are called instead.
const INSTEAD: &str = "dependencies";

/// The folders in which the sources of dependencies lie, outside of the workspace.
///
/// # Errors
/// When cargo cannot tell.
pub fn folders(root: &Path) -> Result<BTreeSet<PathBuf>> {
    let text = process::output(process::cargo(root).args(["metadata", "--format-version", "1"]))?;
    let metadata: Value = serde_json::from_str(&text)?;
    let packages = metadata["packages"]
        .as_array()
        .context("cargo metadata names no packages")?;
    Ok(packages
        .iter()
        .filter_map(|package| {
            Path::new(package["manifest_path"].as_str()?)
                .parent()?
                .parent()
        })
        .filter(|folder| !folder.starts_with(root))
        .map(Path::to_owned)
        .collect())
}

/// A setting for cargo's `--config` that has the compiler replace the folders, with further flags.
///
/// Cargo leaves it aside when the variable `RUSTFLAGS` is set, as it does with every such setting.
///
/// # Errors
/// When the name of a folder is not Unicode.
pub fn setting(target: &str, folders: &BTreeSet<PathBuf>, further: &[&str]) -> Result<String> {
    let mut flags: Vec<String> = further.iter().map(|&flag| flag.to_owned()).collect();
    for folder in folders {
        let folder = folder
            .to_str()
            .with_context(|| format!("{} is not Unicode", folder.display()))?;
        flags.push(format!("--remap-path-prefix={folder}={INSTEAD}"));
    }
    // A list of texts is written the same way in JSON and in cargo's own format.
    let flags = serde_json::to_string(&flags)?;
    Ok(format!("target.{target}.rustflags={flags}"))
}

/// Checks that no file in a list names one of the folders.
///
/// # Errors
/// Names the first file that does, or that cannot be read.
pub fn check(files: &[PathBuf], folders: &BTreeSet<PathBuf>) -> Result<()> {
    for file in files {
        let bytes = fs::read(file).with_context(|| format!("could not read {}", file.display()))?;
        for folder in folders {
            let name = folder.as_os_str().as_encoded_bytes();
            if bytes.windows(name.len()).any(|window| window == name) {
                bail!("{} names {}", file.display(), folder.display());
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_setting_replaces_every_folder() {
        let folders = BTreeSet::from([PathBuf::from("/home/me/sources")]);
        assert_eq!(
            setting("wasm", &folders, &[]).expect("a setting"),
            r#"target.wasm.rustflags=["--remap-path-prefix=/home/me/sources=dependencies"]"#
        );
    }

    #[test]
    fn a_file_that_names_a_folder_is_found() {
        let file = std::env::temp_dir().join(format!("leastcatch-{}-paths", std::process::id()));
        fs::write(&file, "panicked at /home/me/sources/a.rs").expect("a file");
        let found = |folder: &str| {
            check(
                std::slice::from_ref(&file),
                &BTreeSet::from([folder.into()]),
            )
            .is_err()
        };
        assert!(found("/home/me/sources"));
        assert!(!found("/home/you"));
        fs::remove_file(&file).expect("the file can be removed");
    }
}
