//! Words that several parts share.

/// Over the name of something.
pub const NAME: &str = "name";
/// Takes out what is named after it.
pub const REMOVE: &str = "Remove ";
/// Fold-out of the numbers of a species or group.
pub const SPREAD_AND_SEASON: &str = "spread and season";
/// In place of a digest, while surveys are still simulated.
pub const NO_DIGEST: &str = "once all surveys are in";
/// Closes a message.
pub const CLOSE: &str = "Close";
/// The power.
pub const POWER: &str = "power";
/// Over a class of animals.
pub const CLASS: &str = "class";
/// The kill.
pub const ANIMALS_KILLED: &str = "animals killed";
