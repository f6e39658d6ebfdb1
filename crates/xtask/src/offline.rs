//! The list of the site's files with their hashes, by which the service worker keeps the page for use without a
//! network and knows a newer version.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::site;

/// Name of the list in the site.
pub const LIST: &str = "site-files.json";
/// What the browser looks after by itself, and what only hosts read.
const NOT_LISTED: &[&str] = &["service-worker.js", "_headers", LIST];
/// What stands in the page for its version until it is known.
const UNBUILT: &str = "name=\"leastcatch-version\" content=\"unbuilt\"";

#[derive(Serialize)]
struct List {
    version: String,
    /// SHA-256 in hexadecimal digits by address in the site.
    files: BTreeMap<String, String>,
}

/// Writes the site's version into its page, and the list of its files.
///
/// The version is made of all files' names and contents but nothing else, so that the same site has the same version.
///
/// # Errors
/// When a file cannot be read or written, or the page has no place for its version.
pub fn write_list(site: &Path) -> Result<()> {
    let version = version(&hashes(site)?);
    let path = site.join("index.html");
    let page = fs::read_to_string(&path).context("could not read index.html")?;
    if !page.contains(UNBUILT) {
        bail!("index.html has no place for the site's version: {UNBUILT}");
    }
    let page = page.replace(UNBUILT, &UNBUILT.replace("unbuilt", &version));
    fs::write(&path, page).context("could not write index.html")?;
    let files = hashes(site)?;
    let list = serde_json::to_string_pretty(&List { version, files })?;
    fs::write(site.join(LIST), list).with_context(|| format!("could not write {LIST}"))
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

fn hashes(site: &Path) -> Result<BTreeMap<String, String>> {
    let mut found = BTreeMap::new();
    for path in site::files(site)? {
        let name = path.strip_prefix(site)?;
        let parts: Option<Vec<&str>> = name.iter().map(|part| part.to_str()).collect();
        let name = parts
            .with_context(|| format!("{} is not Unicode", name.display()))?
            .join("/");
        if NOT_LISTED.contains(&name.as_str()) {
            continue;
        }
        let content =
            fs::read(&path).with_context(|| format!("could not read {}", path.display()))?;
        found.insert(name, hex(&Sha256::digest(content)));
    }
    Ok(found)
}

fn version(files: &BTreeMap<String, String>) -> String {
    let mut all = Sha256::new();
    for (name, hash) in files {
        all.update(format!("{hash} {name}\n"));
    }
    hex(&all.finalize()[..8])
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    /// The list of a small site, and its page.
    fn listed(name: &str, style: &str) -> (Value, String) {
        let folder =
            std::env::temp_dir().join(format!("leastcatch-list-{}-{name}", std::process::id()));
        fs::create_dir_all(folder.join("pkg")).expect("a folder");
        let page = format!("<meta {UNBUILT}>");
        for (name, text) in [
            ("index.html", page.as_str()),
            ("styles.css", style),
            ("pkg/page.js", "abc"),
            ("service-worker.js", "x"),
            ("_headers", "y"),
        ] {
            fs::write(folder.join(name), text).expect("a file");
        }
        write_list(&folder).expect("a list");
        let list = fs::read_to_string(folder.join(LIST)).expect("a list");
        let page = fs::read_to_string(folder.join("index.html")).expect("a page");
        fs::remove_dir_all(&folder).expect("the folder can be removed");
        (serde_json::from_str(&list).expect("JSON"), page)
    }

    #[test]
    fn the_list_names_every_file_that_the_page_needs_by_its_hash() {
        let (list, page) = listed("whole", "p {}");
        let files = list["files"].as_object().expect("files");
        let names: Vec<&String> = files.keys().collect();
        assert_eq!(names, ["index.html", "pkg/page.js", "styles.css"]);
        // SHA-256 of "abc": FIPS 180-2, appendix B.1.
        assert_eq!(
            files["pkg/page.js"],
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert_eq!(files["index.html"], hex(&Sha256::digest(&page)));
        let version = list["version"].as_str().expect("a version");
        assert!(page.contains(&format!("content=\"{version}\"")));
    }

    #[test]
    fn another_content_is_another_version_and_the_same_the_same() {
        let version = |name, style| listed(name, style).0["version"].clone();
        assert_eq!(version("a", "p {}"), version("b", "p {}"));
        assert_ne!(version("c", "p {}"), version("d", "p { }"));
    }

    #[test]
    fn the_page_has_a_place_for_its_version() {
        assert!(include_str!("../../../www/index.html").contains(UNBUILT));
    }
}
