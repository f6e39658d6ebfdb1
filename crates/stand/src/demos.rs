//! The invented scenarios the page can begin with.

use crate::words::demos as words;

/// The scenario that is shown at the start.
pub const FIRST: &str = include_str!("../../../demo-data/meadow-beetles.json");

/// Names of all of them: without their texts, which come apart.
pub const NAMES: [&str; DEMOS.len()] = {
    let mut names = [""; DEMOS.len()];
    let mut i = 0;
    while i < names.len() {
        names[i] = DEMOS[i].0;
        i += 1;
    }
    names
};

/// Name and file text of each demo.
pub const DEMOS: [(&str, &str); 11] = [
    (words::MEADOW_DECLINE, FIRST),
    (
        words::MEADOW_NO_WORSE,
        include_str!("../../../demo-data/meadow-no-worse.json"),
    ),
    (
        words::MEADOW_MOWING,
        include_str!("../../../demo-data/meadow-mowing.json"),
    ),
    (
        words::ORCHARD_HOVERFLIES,
        include_str!("../../../demo-data/orchard-hoverflies.json"),
    ),
    (
        words::MOUNTAIN_OCCUPANCY,
        include_str!("../../../demo-data/mountain-occupancy.json"),
    ),
    (
        words::MOUNTAIN_MOTHS,
        include_str!("../../../demo-data/mountain-moths.json"),
    ),
    (
        words::MOUNTAIN_EDGE,
        include_str!("../../../demo-data/mountain-edge.json"),
    ),
    (
        words::ORCHARD_ABSENCE,
        include_str!("../../../demo-data/orchard-absence.json"),
    ),
    (
        words::ORCHARD_BASELINE,
        include_str!("../../../demo-data/orchard-baseline.json"),
    ),
    (
        words::MEADOW_SEVERAL,
        include_str!("../../../demo-data/meadow-several.json"),
    ),
    (
        words::MEADOW_INVENTORY,
        include_str!("../../../demo-data/meadow-inventory.json"),
    ),
];

/// The title in a demo's text, which none of them writes with quotation marks in it.
fn title(text: &str) -> Option<&str> {
    let (_, after) = text.split_once("\"title\"")?;
    after.split('"').nth(1)
}

/// Whether a demo bears this title.
pub fn is_title_of_demo(asked: &str) -> bool {
    DEMOS.iter().any(|(_, text)| title(text) == Some(asked))
}

#[cfg(test)]
mod tests {
    use super::*;
    use engine::scenario::read;

    #[test]
    fn a_demo_is_known_by_its_title() {
        for (name, text) in DEMOS {
            assert!(is_title_of_demo(&read(text).unwrap().title), "{name}");
        }
        assert!(!is_title_of_demo("My survey") && !is_title_of_demo(""));
    }
}
