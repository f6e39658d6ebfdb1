//! The invented scenarios the page can begin with.

/// Name and file text of each demo; the first is shown at the start.
pub const DEMOS: [(&str, &str); 11] = [
    (
        "ground beetles in hay meadows: a decline",
        include_str!("../../../demo-data/meadow-beetles.json"),
    ),
    (
        "ground beetles in hay meadows: no worse fall",
        include_str!("../../../demo-data/meadow-no-worse.json"),
    ),
    (
        "hay meadows mown later: before and after",
        include_str!("../../../demo-data/meadow-mowing.json"),
    ),
    (
        "hoverflies in orchards: a difference",
        include_str!("../../../demo-data/orchard-hoverflies.json"),
    ),
    (
        "a moth of the scree: occupied sites",
        include_str!("../../../demo-data/mountain-occupancy.json"),
    ),
    (
        "moths on a mountain side: a range shift",
        include_str!("../../../demo-data/mountain-moths.json"),
    ),
    (
        "grasshoppers on a mountain side: an upper edge",
        include_str!("../../../demo-data/mountain-edge.json"),
    ),
    (
        "an alien beetle in orchards: absence",
        include_str!("../../../demo-data/orchard-absence.json"),
    ),
    (
        "hoverflies in orchards: how many there are",
        include_str!("../../../demo-data/orchard-baseline.json"),
    ),
    (
        "four ground beetles in hay meadows: several species",
        include_str!("../../../demo-data/meadow-several.json"),
    ),
    (
        "ground beetles in hay meadows: an inventory",
        include_str!("../../../demo-data/meadow-inventory.json"),
    ),
];
