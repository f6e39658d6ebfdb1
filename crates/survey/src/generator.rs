//! The count model: one simulated survey at a time.
//!
//! For site s, trap t, week w, year y with exposure e in trap-weeks:
//!   log mu = log rate + season(w) + log e + A_s + slope y + U_y + V_sy + C_st,  count ~ NB2(mu, k)
//! with A site, U shared year, V site by year, C trap: independent normals on the log scale; y counts from 0 in the
//! first year, so that the rate is the first year's. On a gradient the term -(x - optimum - shift y)^2 / (2
//! tolerance^2) is added instead of the slope.
//!
//! Counts are drawn at the coarsest level at which the law is exact: NB2 is a Poisson count whose mean is multiplied
//! by a gamma number of shape k and mean 1; equal traps and weeks add their gamma numbers (shape n k), and Poisson
//! counts of a site-year add up to one. Every unit has its own place in the replicate's random stream.

mod bycatch;
mod draw;
mod world;

pub use draw::Drawn;
pub use world::{Generator, World, positions};

/// Places in the random stream, by kind of unit.
mod place {
    pub const SITES: u16 = 0;
    pub const YEARS: u16 = 1;
    pub const TRAPS: u16 = 2;
    pub const CELLS: u16 = 3;
    pub const GROUP_CELLS: u16 = 16;
    pub const GROUP_SITES: u16 = 80;
    pub const GROUP_YEARS: u16 = 144;
}
