//! Scenario files: text in, text out.

use super::check::Fault;
use super::{Scenario, fields};

/// Reads a scenario from JSON text. Unknown keys, missing keys and wrong types are refused with their path.
///
/// # Errors
/// The first fault of shape; bounds are checked by [`Scenario::check`].
pub fn read(text: &str) -> Result<Scenario, Fault> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut source = serde_json::Deserializer::from_str(text);
    let scenario: Scenario = serde_path_to_error::deserialize(&mut source).map_err(|e| {
        let path = e.path().to_string();
        let inner = e.into_inner();
        let mut problem = inner.to_string();
        if let Some(bound) = fields::bound_at(&path) {
            problem = format!("{problem}: give {bound}");
        }
        Fault::Shape {
            path: if path == "." { "the file".into() } else { path },
            problem,
        }
    })?;
    source.end().map_err(|e| Fault::Shape {
        path: "the file".into(),
        problem: e.to_string(),
    })?;
    Ok(scenario)
}

/// Reads what [`write`] wrote: without the path of a fault, which nobody would look for, and so with less code.
///
/// # Errors
/// When the text is another one.
pub fn reread(text: &str) -> serde_json::Result<Scenario> {
    serde_json::from_str(text)
}

/// A scenario as the text of a file.
pub fn write(scenario: &Scenario) -> String {
    let mut text = serde_json::to_string_pretty(scenario).unwrap_or_default();
    text.push('\n');
    text
}
