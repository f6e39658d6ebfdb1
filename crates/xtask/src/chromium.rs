//! Finding Chromium for the browser tests, or installing it where that is possible without asking.

use std::env;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Result, bail};

use crate::process::{self, find_program};

/// Names under which the browser is known on the search path.
const NAMES: &[&str] = &[
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
];

/// Where the browser is installed on systems that do not put it on the search path.
const PLACES: &[&str] = &[
    "/usr/bin/chromium",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
];

/// The browser's program: what the variable `CHROMIUM` names, or what is installed, or what can be
/// installed now with apt-get by root.
///
/// # Errors
/// When there is none and it cannot be installed here.
pub fn ensure() -> Result<PathBuf> {
    if let Some(named) = env::var_os("CHROMIUM") {
        let named = PathBuf::from(named);
        if !named.is_file() {
            bail!("CHROMIUM names {}, which is not a file", named.display());
        }
        return Ok(named);
    }
    if let Some(found) = find() {
        return Ok(found);
    }
    if !is_root() || find_program("apt-get").is_none() {
        bail!(
            "the browser tests need Chromium. Please install it (on Debian and Ubuntu: apt-get install \
             chromium), or set the variable CHROMIUM to the program of a Chromium or Chrome; or leave \
             the browser tests out with --skip-browser."
        );
    }
    println!("Installing Chromium with apt-get.");
    process::run(Command::new("apt-get").arg("update"))?;
    process::run(
        Command::new("apt-get")
            .args(["install", "--yes", "--no-install-recommends", "chromium"])
            .env("DEBIAN_FRONTEND", "noninteractive"),
    )?;
    match find() {
        Some(found) => Ok(found),
        None => bail!("apt-get installed chromium, but no program of that name is there"),
    }
}

fn find() -> Option<PathBuf> {
    NAMES
        .iter()
        .find_map(|name| find_program(name))
        .or_else(|| {
            PLACES
                .iter()
                .map(Path::new)
                .find(|place| place.is_file())
                .map(Path::to_owned)
        })
}

fn is_root() -> bool {
    cfg!(unix)
        && Command::new("id")
            .arg("-u")
            .output()
            .is_ok_and(|output| output.stdout.trim_ascii() == b"0")
}
