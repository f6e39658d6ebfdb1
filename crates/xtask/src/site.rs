//! Putting the static site together: what is in `www`, the compiled programs, and the demo data.
//!
//! Every address in it is relative, so that it can lie in any folder of any file host.

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};

use crate::offline;
use crate::wasm;
use crate::workspace::Workspace;

/// Endings of the files that are copied from `demo-data`.
const DEMO_ENDINGS: &[&str] = &["json", "csv"];

/// Builds the site and returns the folder it is in: `out`, or `site` in cargo's target directory.
///
/// It is put together aside and then moved, so that a failed build leaves the former site as it was.
///
/// # Errors
/// When something does not compile or cannot be written, or when `out` holds something that is not a
/// site built by this.
pub fn build(workspace: &Workspace, out: Option<&Path>) -> Result<PathBuf> {
    let site = match out {
        Some(out) => std::path::absolute(out)
            .with_context(|| format!("{} is not a usable folder", out.display()))?,
        None => workspace.target().join("site"),
    };
    refuse_foreign(&site)?;
    wasm::ensure_target(workspace)?;

    let aside = aside(&site)?;
    remove(&aside)?;
    copy_folder(&workspace.root().join("www"), &aside, &|_| true)?;
    copy_folder(
        &workspace.root().join("demo-data"),
        &aside.join("demo"),
        &|path| {
            let ending = path.extension().and_then(OsStr::to_str);
            ending.is_some_and(|ending| DEMO_ENDINGS.contains(&ending))
        },
    )?;
    wasm::build_all(workspace, wasm::PROGRAMS, &aside.join("pkg"))?;
    offline::write_list(&aside)?;

    remove(&site)?;
    fs::rename(&aside, &site)
        .with_context(|| format!("could not move the site to {}", site.display()))?;
    Ok(site)
}

/// Copies a site and adds what only the browser tests load, so that the site itself stays free of it.
///
/// # Errors
/// When something does not compile or cannot be written.
pub fn build_for_tests(workspace: &Workspace, site: &Path) -> Result<PathBuf> {
    let copy = workspace.target().join("site-for-tests");
    let check = copy.join("check");
    let fixtures = workspace.root().join("tests/browser/fixtures");
    remove(&copy)?;
    copy_folder(site, &copy, &|_| true)?;
    copy_folder(&fixtures, &check, &|_| true)?;
    wasm::build_all(workspace, wasm::CHECKS, &check.join("pkg"))?;
    Ok(copy)
}

/// Prints where the site is and how large its files are.
///
/// # Errors
/// When the folder cannot be read.
pub fn print_sizes(site: &Path) -> Result<()> {
    println!("The site is in {}", site.display());
    for path in files(site)? {
        let size = fs::metadata(&path)?.len();
        let name = path.strip_prefix(site).unwrap_or(&path);
        println!("{:>9} kB  {}", size.div_ceil(1000), name.display());
    }
    Ok(())
}

/// A site is replaced as a whole, so a folder with something else in it must not be taken for one.
fn refuse_foreign(site: &Path) -> Result<()> {
    if !site.exists() {
        return Ok(());
    }
    let mut entries =
        fs::read_dir(site).with_context(|| format!("{} is not a folder", site.display()))?;
    let ours = site.join("pkg/page_bg.wasm").is_file();
    if entries.next().is_some() && !ours {
        bail!(
            "{} holds something that is not a site built by this; please name an empty folder",
            site.display()
        );
    }
    Ok(())
}

/// The folder beside the site in which it is put together.
fn aside(site: &Path) -> Result<PathBuf> {
    let name = site
        .file_name()
        .with_context(|| format!("{} has no name that a site could have", site.display()))?;
    let mut name = name.to_owned();
    name.push(".building");
    Ok(site.with_file_name(name))
}

fn remove(folder: &Path) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder)
            .with_context(|| format!("could not remove {}", folder.display()))?;
    }
    Ok(())
}

/// Every file in a folder and below, sorted.
///
/// # Errors
/// When a folder cannot be read.
pub fn files(folder: &Path) -> Result<Vec<PathBuf>> {
    let shown = || format!("could not read {}", folder.display());
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).with_context(shown)? {
        let path = entry.with_context(shown)?.path();
        if path.is_dir() {
            found.extend(files(&path)?);
        } else {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}

fn copy_folder(from: &Path, to: &Path, wanted: &dyn Fn(&Path) -> bool) -> Result<()> {
    fs::create_dir_all(to).with_context(|| format!("could not create {}", to.display()))?;
    for path in files(from)?.into_iter().filter(|path| wanted(path)) {
        let target = to.join(path.strip_prefix(from)?);
        if let Some(parent) = target.parent() {
            fs::create_dir_all(parent)
                .with_context(|| format!("could not create {}", parent.display()))?;
        }
        fs::copy(&path, &target).with_context(|| format!("could not copy {}", path.display()))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A folder of its own for each test.
    fn scratch(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("leastcatch-{}-{name}", std::process::id()));
        remove(&folder).expect("the folder can be removed");
        fs::create_dir_all(&folder).expect("the folder can be made");
        folder
    }

    #[test]
    fn a_folder_with_something_else_in_it_is_refused() {
        let folder = scratch("foreign");
        assert!(refuse_foreign(&folder).is_ok(), "empty");
        fs::write(folder.join("thesis.txt"), "irreplaceable").expect("a file");
        assert!(refuse_foreign(&folder).is_err());

        fs::create_dir(folder.join("pkg")).expect("a folder");
        fs::write(folder.join("pkg/page_bg.wasm"), "").expect("a file");
        assert!(refuse_foreign(&folder).is_ok(), "a site");
        remove(&folder).expect("the folder can be removed");
    }

    #[test]
    fn copies_what_is_wanted_with_its_folders() {
        let folder = scratch("copy");
        fs::create_dir_all(folder.join("from/deep")).expect("a folder");
        fs::write(folder.join("from/a.csv"), "a").expect("a file");
        fs::write(folder.join("from/deep/b.json"), "b").expect("a file");
        fs::write(folder.join("from/README.md"), "c").expect("a file");
        copy_folder(&folder.join("from"), &folder.join("to"), &|path| {
            path.extension() != Some(OsStr::new("md"))
        })
        .expect("a copy");
        let to = folder.join("to");
        assert_eq!(
            files(&to).expect("a folder"),
            [to.join("a.csv"), to.join("deep/b.json")]
        );
        remove(&folder).expect("the folder can be removed");
    }

    #[test]
    fn the_headers_for_hosts_hold_the_policy_of_the_page() {
        let page = include_str!("../../../www/index.html");
        let headers = include_str!("../../../www/_headers");
        let policy = |text: &'static str, from: &str, to: char| {
            let start = text.find(from).expect("a policy") + from.len();
            text[start..].split(to).next().expect("an end").to_owned()
        };
        let in_page = policy(page, "Content-Security-Policy\" content=\"", '"');
        let in_headers = policy(headers, "Content-Security-Policy: ", '\n');
        assert_eq!(in_headers, format!("{in_page}; frame-ancestors 'none'"));
    }
}
