//! An end of animals: what traps take, others do not find.
//!
//! At site s in year y there are N_sy animals on average, N exp(A_s + (slope + B_s) y + U_y + V_sy) D_sy: whatever makes
//! a site's or year's catch larger there makes its animals more. The traps' own doings (trap points, weather, drift of
//! the traps, gamma numbers of trap-weeks) make the hazard x of an animal, the catch that would be expected were there no
//! end of animals over the animals: with few traps the catch is what it is without an end. Each animal is caught with
//! chance 1 - exp(-x), and in the counted or the lost trap-weeks as these have parts of x. Where the animals present are
//! a Poisson number about N_sy, the caught are one about N_sy (1 - exp(-x)), and none need be cut off: the catch is a
//! part of those present. What is missing comes back by a stated share: D_(y+1) = 1 - (1 - D_y exp(-x)) (1 - recovery),
//! from D = 1 in the first year.

use super::world::rate;
use crate::scenario::{Checked, Plan};
use numerics::maths::{exp, exp_m1};

/// Constants of one plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Depletion {
    /// Hazard of an animal from one trap-week at the season's peak, in the first year.
    pub hazard: f64,
    /// Share of what is missing that comes back by the next year.
    pub recovery: f64,
}

impl Depletion {
    /// `None` where animals have no end.
    pub fn of(scenario: &Checked, plan: &Plan) -> Option<Self> {
        let local = scenario.premises.local_population.as_ref()?;
        Some(Self {
            hazard: rate(scenario) * plan.exposure_days / 7.0 / local.animals.value,
            recovery: local.recovered(),
        })
    }

    /// Caught over what would be caught without an end: (1 - exp(-x)) / x.
    pub fn kept(x: f64) -> f64 {
        if x > 0.0 { -exp_m1(-x) / x } else { 1.0 }
    }

    /// The share of the animals that is there in the year after one with the share `present` and the hazard `x`; of a
    /// mean hazard when `left` is the mean of exp(-x).
    pub fn next(&self, present: f64, left: f64) -> f64 {
        1.0 - (1.0 - present * left) * (1.0 - self.recovery)
    }

    /// What is left of animals under a hazard.
    pub fn left(x: f64) -> f64 {
        exp(-x)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_that_are_there() {
        let d = |recovery| Depletion {
            hazard: 0.1,
            recovery,
        };
        let half = numerics::maths::ln(2.0);
        assert_eq!(d(1.0).next(1.0, Depletion::left(half)), 1.0);
        assert!((d(0.0).next(0.5, Depletion::left(half)) - 0.25).abs() < 1e-15);
        assert!((d(0.4).next(1.0, Depletion::left(half)) - 0.7).abs() < 1e-15);
        assert_eq!(Depletion::kept(0.0), 1.0);
        assert!((Depletion::kept(half) - 0.5 / half).abs() < 1e-15);
        assert!((Depletion::kept(1e-12) - 1.0).abs() < 1e-12);
    }
}
