//! Each question against published values and against its own simulation.

mod absence;
mod groups;
mod inventory;
mod no_worse;
mod occupancy;
