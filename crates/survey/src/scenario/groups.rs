//! Two groups of sites: a difference between them, and a change of the one against the other.

use numerics::maths::{exp_m1, ln_1p};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The catch of treated sites over that of the others, the same in every year.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Difference {
    /// By how many per cent the treated sites' catch is above that of the others; below 0 when it is under it.
    pub difference_percent: f64,
}

/// A lasting change at the treated sites when the treatment begins, against what happens at the control sites: the
/// interaction of group and period on the log scale.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BeforeAfter {
    /// By how many per cent the treatment changes the catch; below 0 when it lowers it.
    pub change_percent: f64,
}

/// How the plan's sites are divided into two groups.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Groups {
    /// Treated sites as a share of all, 0 to 1.
    pub treated_share: f64,
    /// Whether each treated site has an untreated neighbour with which it is compared: half of all sites are treated
    /// then.
    #[serde(default, skip_serializing_if = "is_false")]
    pub paired: bool,
    /// Years of trapping before the treatment begins; 0 when it has always been there.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub before_years: u32,
}

fn is_false(b: &bool) -> bool {
    !b
}

fn is_zero(n: &u32) -> bool {
    *n == 0
}

/// Log ratio of a change in per cent.
fn log_ratio(percent: f64) -> f64 {
    ln_1p(percent / 100.0)
}

/// Change in per cent of a log ratio.
pub fn percent_change(log_ratio: f64) -> f64 {
    100.0 * exp_m1(log_ratio)
}

impl Difference {
    /// Log of the treated sites' catch over that of the others.
    pub fn log_ratio(&self) -> f64 {
        log_ratio(self.difference_percent)
    }
}

impl BeforeAfter {
    /// Log of the catch with the treatment over that without.
    pub fn log_ratio(&self) -> f64 {
        log_ratio(self.change_percent)
    }
}

impl Groups {
    /// How many of the first `sites` sites are treated: the whole part of the share of them.
    pub fn treated_of(&self, sites: u32) -> u32 {
        // A share such as .3 of 10 sites is 3, whatever its last digit.
        (f64::from(sites) * self.treated_share + 1e-9).floor() as u32
    }

    /// Whether site `s`, from 0, is treated: each is when it makes the number of treated sites up to it rise, so that
    /// the sites of a smaller plan are those of a larger one. Of pairs the second one is.
    pub fn treats(&self, s: u32) -> bool {
        self.treated_of(s + 1) > self.treated_of(s)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn treated_sites_are_spread_over_all() {
        let groups = |treated_share| Groups {
            treated_share,
            paired: false,
            before_years: 0,
        };
        for share in [0.1, 0.25, 0.3, 1.0 / 3.0, 0.5, 0.7, 0.9] {
            let g = groups(share);
            for n in 1..200 {
                let treated = (0..n).filter(|&s| g.treats(s)).count() as u32;
                assert_eq!(treated, g.treated_of(n), "{share} of {n}");
                assert!((f64::from(treated) - share * f64::from(n)).abs() < 1.0);
            }
        }
        let half: Vec<bool> = (0..4).map(|s| groups(0.5).treats(s)).collect();
        assert_eq!(half, [false, true, false, true]);
        assert_eq!(groups(0.3).treated_of(10), 3);
    }

    #[test]
    fn per_cent_and_log_ratio() {
        let d = Difference {
            difference_percent: -30.0,
        };
        assert!((d.log_ratio() - -0.356_674_943_938_732_4).abs() < 1e-15);
        assert!((percent_change(d.log_ratio()) - -30.0).abs() < 1e-12);
    }
}
