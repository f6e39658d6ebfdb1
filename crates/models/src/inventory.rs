//! Completeness and richness of a species inventory: how much of a community is in the list, and what more work adds.
//!
//! An inventory is told by abundances (individuals of each species among n caught) or by incidences (samples in which
//! each species occurs, of T samples). Formulas that are the same for both are written once, for
//! [`frequencies::Frequencies`]: n or T is its size, and the species seen once and twice are f1 and f2 (or Q1 and Q2).
//!
//! What these estimates assume: individuals (or samples) are taken at random and apart from each other from one
//! community that stays as it is. Richness from species seen once and twice is a lower bound (Chao 1984,
//! Scand. J. Stat. 11:265-270).

mod absence;
mod completed;
pub mod coverage;
pub mod curve;
pub mod frequencies;
pub mod gain;
pub mod interval;
pub mod richness;
pub mod simulate;

pub use completed::{Complete, Completed};

/// Places of this module's draws in a replicate's random stream.
mod place {
    /// A bootstrap replicate.
    pub const BOOTSTRAP: u16 = 200;
    /// A simulated inventory.
    pub const INVENTORY: u16 = 201;
}
