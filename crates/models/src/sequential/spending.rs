//! How much of the accepted error may have been spent by a share of the information (Lan & DeMets 1983, Biometrika
//! 70:659-663).

use numerics::maths::{exp, ln_1p};
use numerics::special::normal;

/// A spending function of a level a, both sides together, at the share t of the information; all of it at t = 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spending {
    /// Like O'Brien & Fleming's boundary, each side spending its own part of the level: with two sides
    /// 4 - 4 Phi(z(1 - a/4) / sqrt t), with one 2 - 2 Phi(z(1 - a/2) / sqrt t).
    OBrienFleming,
    /// The same with the whole level in one function whatever the number of sides: 2 - 2 Phi(z(1 - a/2) / sqrt t). With
    /// two sides it spends more early on than the other; with one side the two are the same.
    OBrienFlemingWhole,
    /// Like Pocock's boundary: a ln(1 + (e - 1) t).
    Pocock,
}

impl Spending {
    /// Spent by the share `t` of the information, of the level `level` on `sides` (1 or 2) sides together.
    pub fn spent(self, level: f64, sides: f64, t: f64) -> f64 {
        let t = t.clamp(0.0, 1.0);
        let like_obrien_fleming = |a: f64| {
            let z = -normal::quantile(0.5 * a);
            2.0 * normal::cdf(-z / t.sqrt())
        };
        if t == 0.0 {
            return 0.0;
        }
        match self {
            Self::OBrienFleming => sides * like_obrien_fleming(level / sides),
            Self::OBrienFlemingWhole => like_obrien_fleming(level),
            Self::Pocock => level * ln_1p((exp(1.0) - 1.0) * t),
        }
    }
}
