//! A plan whose simulation was stopped early.

use super::RACE_ERROR;
use crate::plan_run::Stop;
use numerics::sequential;
use serde::Serialize;

/// The side of the wanted power on which a plan surely lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Its power is smaller.
    Below,
    /// Its power is larger.
    Above,
}

/// How and where the simulation of a plan was stopped.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Stopped {
    /// The side of the wanted power that was sure.
    pub side: Side,
    /// Surveys simulated in each world until it was.
    pub after: u64,
    /// Surveys asked for in each world.
    pub of: u64,
    /// Largest chance that the side is wrong, over all looks together.
    pub error_rate: f64,
}

impl Stopped {
    pub(crate) fn new(stop: Stop, of: u64) -> Self {
        Self {
            side: match stop.side {
                sequential::Side::Below => Side::Below,
                sequential::Side::Above => Side::Above,
            },
            after: stop.after,
            of,
            error_rate: RACE_ERROR,
        }
    }
}
