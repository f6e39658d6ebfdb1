//! The invented scenarios the page can begin with.

/// Name and file text of each demo; the first is shown at the start.
pub const DEMOS: [(&str, &str); 2] = [
    (
        "ground beetles in hay meadows: a decline",
        include_str!("../../../demo-data/meadow-beetles.json"),
    ),
    (
        "moths on a mountain side: a range shift",
        include_str!("../../../demo-data/mountain-moths.json"),
    ),
];
