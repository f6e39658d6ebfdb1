//! Of several species.

/// Before the number of species.
pub const SAME_OF: &str = "The same is asked of ";
/// Before the share that must be answered.
pub const SPECIES_OF_WHICH: &str = " species, of which ";
/// Name of its number.
pub const ANSWERED: &str = "species that must be answered, in per cent";
/// Before the control.
pub const CONTROLLED_BY: &str =
    " % must be answered, with false alarms over the list controlled by ";
/// Name of its choice.
pub const CONTROL: &str = "control of false alarms over the list";
