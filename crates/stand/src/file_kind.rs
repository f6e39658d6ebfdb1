//! What a file is by its name.

/// What a file's name says it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A scenario.
    Scenario,
    /// A table of a pilot's catches.
    Pilot,
    /// Neither.
    Other,
}

/// The kind that a file is by its name's ending.
pub fn file_kind(name: &str) -> FileKind {
    let name = name.to_lowercase();
    if name.ends_with(".json") {
        FileKind::Scenario
    } else if [".csv", ".tsv", ".txt"]
        .iter()
        .any(|end| name.ends_with(end))
    {
        FileKind::Pilot
    } else {
        FileKind::Other
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_known_by_their_ending() {
        assert_eq!(file_kind("Mine.JSON"), FileKind::Scenario);
        assert_eq!(file_kind("pilot.tsv"), FileKind::Pilot);
        assert_eq!(file_kind("beetle.json.png"), FileKind::Other);
        assert_eq!(file_kind("folder"), FileKind::Other);
    }
}
