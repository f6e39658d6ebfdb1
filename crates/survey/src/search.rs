//! The search for the least plan: closed forms over a lattice of plans.
//!
//! The lattice is sites x traps x sets of weeks ([`weeks`]) in slices ([`Slice`]) of one number of years, one
//! exposure, one kind of trap, one pattern of revisits and one scheme of visits each. Every plan has a toll (weighted as [`crate::scenario::Limits::weights`] say), a margin (its
//! noncentrality over the one that gives the wanted power) and the groups' tolls, which the limits may cap.

mod candidate;
mod caps;
mod challengers;
mod front_point;
mod lattice;
mod neighbours;
mod places;
mod relaxed;
mod screen;
#[cfg(test)]
mod tests;
mod weeks;

pub use candidate::Candidate;
pub use caps::within_caps;
pub use challengers::challengers;
pub use front_point::{FrontPoint, Missed};
pub use lattice::{Slice, scenario_of, size, slices};
pub use neighbours::{Neighbour, neighbours};
pub use places::order_of_places;
pub use relaxed::{Relaxed, relaxed};
pub use screen::{Screen, screen};
pub use weeks::{WeekSet, week_sets};
