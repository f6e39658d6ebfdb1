//! Each question against published values and against its own simulation.

mod absence;
mod groups;
mod no_worse;
mod occupancy;
mod support;
