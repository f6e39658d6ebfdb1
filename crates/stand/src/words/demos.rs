//! Names of the demos.

/// A fall.
pub const MEADOW_DECLINE: &str = "ground beetles in hay meadows: a decline";
/// No worse fall.
pub const MEADOW_NO_WORSE: &str = "ground beetles in hay meadows: no worse fall";
/// Before and after.
pub const MEADOW_MOWING: &str = "hay meadows mown later: before and after";
/// A difference.
pub const ORCHARD_HOVERFLIES: &str = "hoverflies in orchards: a difference";
/// Occupied sites.
pub const MOUNTAIN_OCCUPANCY: &str = "a moth of the scree: occupied sites";
/// A range shift.
pub const MOUNTAIN_MOTHS: &str = "moths on a mountain side: a range shift";
/// An edge.
pub const MOUNTAIN_EDGE: &str = "grasshoppers on a mountain side: an upper edge";
/// Absence.
pub const ORCHARD_ABSENCE: &str = "an alien beetle in orchards: absence";
/// How many there are.
pub const ORCHARD_BASELINE: &str = "hoverflies in orchards: how many there are";
/// Several species.
pub const MEADOW_SEVERAL: &str = "four ground beetles in hay meadows: several species";
/// An inventory.
pub const MEADOW_INVENTORY: &str = "ground beetles in hay meadows: an inventory";
