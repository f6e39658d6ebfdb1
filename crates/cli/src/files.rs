//! Files in and out.

use crate::failure::Failure;
use engine::scenario::{Checked, Scenario, read};
use std::io::Read;
use std::path::Path;

/// The bytes of a file, or of standard input for `-`.
pub fn bytes(path: &Path) -> Result<Vec<u8>, Failure> {
    if path == Path::new("-") {
        let mut bytes = Vec::new();
        let got = std::io::stdin().read_to_end(&mut bytes);
        return got
            .map(|_| bytes)
            .map_err(|e| Failure::Refused(format!("standard input: {e}")));
    }
    std::fs::read(path).map_err(|e| Failure::Refused(format!("{}: {e}", path.display())))
}

/// A scenario file, read but not yet checked.
pub fn scenario(path: &Path) -> Result<Scenario, Failure> {
    let text = String::from_utf8(bytes(path)?).map_err(|_| {
        Failure::Refused(format!(
            "{}: not UTF-8 text: save it as UTF-8",
            path.display()
        ))
    })?;
    read(&text).map_err(|fault| Failure::Refused(format!("{}: {fault}", path.display())))
}

/// A scenario file, checked.
pub fn checked(path: &Path) -> Result<Checked, Failure> {
    scenario(path)?.check().map_err(|faults| {
        let lines: Vec<String> = faults
            .iter()
            .map(|f| format!("{}: {f}", path.display()))
            .collect();
        Failure::Refused(lines.join("\nleastcatch: "))
    })
}

/// Writes a file whole or not at all: first beside it, then in its place.
pub fn write(path: &Path, text: &str) -> Result<(), Failure> {
    let refuse = |e: std::io::Error| Failure::Refused(format!("{}: {e}", path.display()));
    let mut beside = path.as_os_str().to_owned();
    beside.push(".part");
    std::fs::write(&beside, text).map_err(refuse)?;
    std::fs::rename(&beside, path).map_err(refuse)
}
