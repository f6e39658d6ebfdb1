//! The count model: one simulated survey at a time.
//!
//! For site s, trap t, week w, year y with exposure e in trap-weeks:
//!   log mu = log rate + season(w) + log e + A_s + (slope + B_s + drift) y + U_y + V_sy + C_st + R_wy,
//!   count ~ NB2(mu, k)
//! with A site, U shared year, V site by year, C trap: normals on the log scale; y counts from 0 in the first year, so
//! that the rate is the first year's. In the plain model they are independent, and B (a site's own change), the drift
//! of the traps and R (weather shared by all traps in a week of a year) are 0. Departures from it
//! ([`crate::scenario::Departures`]): U may be autoregressive, A, B and V correlated by the distance of sites, C drawn
//! anew each year, and trap-weeks lost the more often the more they caught. On a gradient the term -(x - optimum - shift y)^2 / (2
//! tolerance^2) is added instead of the slope; with two groups of sites the log ratio of the treated; sites that are not
//! occupied (beyond the edge of a range, or with the question of occupancy) catch nothing. Paired sites have a part of A and V in common.
//!
//! Site-years that a plan does not visit, and those after a site dropped out, neither count nor kill; those whose samples
//! are late kill without being counted.
//!
//! Counts are drawn at the coarsest level at which the law is exact: NB2 is a Poisson count whose mean is multiplied
//! by a gamma number of shape k and mean 1; equal traps and weeks add their gamma numbers (shape n k), and Poisson
//! counts add up, the counted of a site-year, the lost and the by-catch of a whole year; only losses that follow the catch need every trap-week by itself. Every unit has its own place in the replicate's random stream.

mod bycatch;
mod closing;
mod depletion;
mod draw;
mod edge;
mod effects;
mod extent;
mod gammas;
mod layout;
mod losses;
mod occupied;
mod placing;
mod recorded;
mod region;
mod response;
mod returns;
mod seasons;
mod split;
mod weekly;
mod world;

pub(crate) use closing::Closing;
pub(crate) use depletion::Depletion;
pub use draw::Drawn;
pub(crate) use edge::EdgeSites;
pub use extent::Extent;
pub(crate) use layout::columns;
pub use layout::site_places;
pub(crate) use occupied::{Course, shares as occupied_shares};
pub(crate) use placing::band;
pub use placing::positions;
pub use recorded::Tally;
pub(crate) use response::Response;
pub use weekly::Weekly;
pub use world::{Generator, World};
pub(crate) use world::{pairs, rate};

/// Places in the random stream, by kind of unit.
mod place {
    pub const SITES: u16 = 0;
    pub const YEARS: u16 = 1;
    pub const TRAPS: u16 = 2;
    pub const CELLS: u16 = 3;
    pub const SLOPES: u16 = 4;
    pub const WEATHER: u16 = 5;
    pub const NEW_TRAPS: u16 = 6;
    pub const WEEKLY: u16 = 7;
    pub const LOST: u16 = 8;
    pub const OCCUPIED: u16 = 9;
    pub const PAIRS: u16 = 10;
    pub const PAIR_YEARS: u16 = 11;
    pub const SEASON: u16 = 12;
    pub const GROUP_CELLS: u16 = 16;
    pub const GROUP_SITES: u16 = 80;
    pub const GROUP_YEARS: u16 = 144;
    pub const SPECIES: u16 = 220;
    pub const DROP_OUT: u16 = 241;
    pub const LATE: u16 = 242;
    pub const LOSS_SHARE: u16 = 243;
}
