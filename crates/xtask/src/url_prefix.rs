//! The path under which the site is served, so that a file host in a sub-folder can be imitated.

use std::str::FromStr;

use anyhow::{Result, bail};

/// A path that begins and ends with a slash: `/` or `/sub/`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UrlPrefix(String);

impl UrlPrefix {
    /// The path, with its slashes.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl FromStr for UrlPrefix {
    type Err = anyhow::Error;

    /// Accepts `sub`, `/sub` and `/sub/` alike.
    ///
    /// # Errors
    /// When a part is empty, only dots, or holds anything but letters, digits, dots, hyphens and
    /// underscores, which would need escaping in an address.
    fn from_str(text: &str) -> Result<Self> {
        let trimmed = text.strip_prefix('/').unwrap_or(text);
        let trimmed = trimmed.strip_suffix('/').unwrap_or(trimmed);
        if trimmed.is_empty() {
            return Ok(Self("/".to_owned()));
        }
        for part in trimmed.split('/') {
            let plain = |c: char| c.is_ascii_alphanumeric() || "-_.".contains(c);
            if part.chars().all(|c| c == '.') || !part.chars().all(plain) {
                bail!(
                    "prefix {text:?}: each part may hold only letters, digits, '-', '_' and '.', \
                     and not only dots"
                );
            }
        }
        Ok(Self(format!("/{trimmed}/")))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slashes_are_put_where_they_belong() {
        for (given, wanted) in [
            ("/", "/"),
            ("", "/"),
            ("sub", "/sub/"),
            ("/a/b", "/a/b/"),
            ("/sub/", "/sub/"),
        ] {
            assert_eq!(
                given.parse::<UrlPrefix>().expect("a sound prefix").as_str(),
                wanted
            );
        }
    }

    #[test]
    fn paths_that_climb_or_need_escaping_are_refused() {
        for given in ["/../", "a//b", "a b", "a?b", "///"] {
            assert!(given.parse::<UrlPrefix>().is_err(), "{given:?}");
        }
    }
}
