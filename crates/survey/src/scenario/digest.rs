//! A short name for a scenario's content.

use super::Scenario;
use sha2::{Digest, Sha256};

impl Scenario {
    /// First 16 hexadecimal digits of the SHA-256 of the compact JSON in field order: equal scenarios, equal digest.
    pub fn digest(&self) -> String {
        let text = serde_json::to_string(self).unwrap_or_default();
        Sha256::digest(text.as_bytes())
            .iter()
            .take(8)
            .map(|b| format!("{b:02x}"))
            .collect()
    }
}
