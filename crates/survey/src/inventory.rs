//! The species inventory: what a pilot tells of its community, and what further trapping would add.

mod pilot;

pub use pilot::{Pilot, PilotError};
