//! `leastcatch schema`

use crate::failure::Failure;
use crate::output::print_line;

/// Prints the JSON Schema of the scenario file.
pub fn run() -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(&engine::scenario::schema())
        .map_err(|e| Failure::Refused(e.to_string()))?;
    print_line(&text)?;
    Ok(())
}
