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
