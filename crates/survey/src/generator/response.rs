//! What the question says of the catch: the log of a site's expected catch in a year over that of the first year's
//! median site, without anything random.

use super::placing::positions;
use super::world::World;
use crate::scenario::{Checked, Effect, Plan};
use numerics::maths::exp;

/// The response of sites and years to what is asked about.
#[derive(Clone, Debug)]
pub(crate) enum Response {
    /// Changes a year on the log scale, in the world of change and in the other.
    Trend {
        /// In the world of change.
        change: f64,
        /// In the other.
        still: f64,
    },
    /// Treated sites from some year on.
    Groups {
        /// Which sites are treated.
        treated: Vec<bool>,
        /// First year of the treatment, from 0.
        from: usize,
        /// Log of the catch with the treatment over that without.
        log_ratio: f64,
    },
    /// A bell-shaped response along the gradient.
    Bell {
        /// Where the sites stand.
        positions: Vec<f64>,
        /// Place of the highest catch in the first year.
        optimum: f64,
        /// SD of the bell curve.
        tolerance: f64,
        /// Move of the optimum a year.
        speed: f64,
    },
    /// The same catch everywhere, or in the world without a change none at all.
    Presence,
}

impl Response {
    /// The response under a plan.
    pub fn of(scenario: &Checked, plan: &Plan) -> Self {
        match &scenario.question.effect {
            Effect::Decline(d) => Self::Trend {
                change: d.log_slope(),
                still: 0.0,
            },
            // The claim is false in the world without what is hoped for: the fall is then just the margin.
            Effect::NoWorse(n) => Self::Trend {
                change: n.true_slope(),
                still: n.margin_slope(),
            },
            Effect::Difference(d) => Self::groups(plan, d.log_ratio()),
            Effect::BeforeAfter(b) => Self::groups(plan, b.log_ratio()),
            Effect::RangeShift(shift) => match scenario.moving(plan.years) {
                Some(moving) if shift.of.is_optimum() && plan.transect.is_some() => Self::Bell {
                    positions: positions(scenario, plan),
                    optimum: moving.first,
                    tolerance: moving.width,
                    speed: shift.distance_per_decade / 10.0,
                },
                // Which sites an edge leaves occupied is drawn; no checked scenario is without premises.
                _ => Self::Trend {
                    change: 0.0,
                    still: 0.0,
                },
            },
            // Which sites are occupied, and which species are caught, is drawn; and a baseline has no change at all.
            Effect::Occupancy(_) | Effect::Baseline(_) | Effect::Inventory(_) => Self::Trend {
                change: 0.0,
                still: 0.0,
            },
            Effect::Absence(_) => Self::Presence,
        }
    }

    fn groups(plan: &Plan, log_ratio: f64) -> Self {
        let treats = |s| plan.groups.as_ref().is_some_and(|g| g.treats(s));
        Self::Groups {
            treated: (0..plan.sites).map(treats).collect(),
            from: plan.groups.as_ref().map_or(0, |g| g.before_years as usize),
            log_ratio,
        }
    }

    /// Log of the response at site s in year y.
    #[inline]
    pub fn log(&self, s: usize, y: usize, world: World) -> f64 {
        let changes = world == World::Change;
        match self {
            Self::Trend { change, still } => {
                let slope = if changes { *change } else { *still };
                slope * y as f64
            }
            Self::Groups {
                treated,
                from,
                log_ratio,
            } => {
                if changes && treated[s] && y >= *from {
                    *log_ratio
                } else {
                    0.0
                }
            }
            Self::Bell {
                positions,
                optimum,
                tolerance,
                speed,
            } => {
                let moved = if changes { speed * y as f64 } else { 0.0 };
                let d = (positions[s] - optimum - moved) / tolerance;
                -0.5 * d * d
            }
            Self::Presence if changes => 0.0,
            Self::Presence => f64::NEG_INFINITY,
        }
    }

    /// Sum of the response over the plan's first `sites` sites in year y of a world.
    pub fn sum_in(&self, world: World, sites: usize, y: usize) -> f64 {
        let one = |s| exp(self.log(s, y, world));
        match self {
            Self::Trend { .. } | Self::Presence => sites as f64 * one(0),
            Self::Groups { .. } | Self::Bell { .. } => (0..sites).map(one).sum(),
        }
    }

    /// Whether where a site stands hangs on how many there are.
    pub fn is_placed(&self) -> bool {
        matches!(self, Self::Bell { .. })
    }
}
