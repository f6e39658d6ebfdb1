//! How to split a total of site-visits between sites and visits, for a difference in occupancy.
//!
//! The more visits, the fewer sites the same total pays for; by the expected visits of a site
//! ([`super::precision::expected_visits`]) and the closed form of the power ([`super::difference`]). The trade is that of
//! MacKenzie & Royle (2005, J. Appl. Ecol. 42:1105-1114), here for a difference.

use super::difference::OccupancyDifference;
use super::precision::expected_visits;
use crate::wald::Alternative;

/// One way to spend the effort.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EffortSplit {
    /// Visits K of a site at most, the same in both periods.
    pub visits: u32,
    /// Whole sites in each period.
    pub sites: f64,
    /// Expected site-visits of both periods together.
    pub site_visits: f64,
    /// Standard error of the estimated difference.
    pub standard_error: f64,
    /// Power to see it.
    pub power: f64,
}

/// All ways to spend the effort.
#[derive(Clone, Debug, PartialEq)]
pub struct EffortSplits {
    /// From 2 visits on, as long as there is a site for them.
    pub splits: Vec<EffortSplit>,
    /// The place in `splits` of the one with the smallest standard error, and so the most power: the fewest visits
    /// among equals. `None` when the effort pays for nothing.
    pub best: Option<usize>,
}

/// Splits `effort`, expected site-visits of both periods together, for this difference (whose own visits are not looked
/// at), with at most `most_visits` of a site. Sites are rounded down to whole ones; neighbours may therefore differ by
/// what is left over.
pub fn best_split(
    difference: &OccupancyDifference,
    effort: f64,
    most_visits: u32,
    level: f64,
    alternative: Alternative,
) -> EffortSplits {
    let mut splits = Vec::new();
    let mut best: Option<(usize, f64)> = None;
    for visits in 2..=most_visits {
        let mut d = *difference;
        d.first.visits = visits;
        d.second.visits = visits;
        let of = |psi, p| expected_visits(psi, p, visits, d.design);
        let a_site = of(d.first.psi, d.first.p) + of(d.second.psi, d.second.p);
        // A hair more, so that an effort that is just paid for is not lost to rounding.
        let sites = (effort / a_site * (1.0 + 1e-12)).floor();
        if sites.is_nan() || sites < 1.0 {
            break;
        }
        let standard_error = d.standard_error(sites);
        if best.is_none_or(|(_, least)| standard_error < least) {
            best = Some((splits.len(), standard_error));
        }
        splits.push(EffortSplit {
            visits,
            sites,
            site_visits: sites * a_site,
            standard_error,
            power: d.power(sites, level, alternative),
        });
    }
    EffortSplits {
        splits,
        best: best.map(|(at, _)| at),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::occupancy::difference::{OccupancySample, OccupancyScale};
    use crate::occupancy::precision::{SamplingDesign, optimal_visits};
    use SamplingDesign::{Conditional, Removal, Standard};

    fn between(first: f64, second: f64, p: f64, design: SamplingDesign) -> OccupancyDifference {
        let of = |psi| OccupancySample { psi, p, visits: 2 };
        OccupancyDifference {
            first: of(first),
            second: of(second),
            design,
            scale: OccupancyScale::Probability,
        }
    }

    /// Two samples that are all but alike, and effort without end: the published optimum of one sample (MacKenzie &
    /// Royle 2005, table 1).
    #[test]
    fn of_like_samples_the_optimum_of_one() {
        for (psi, p, want) in [(0.4, 0.3, 5), (0.6, 0.4, 5), (0.2, 0.2, 7), (0.8, 0.5, 4)] {
            let d = between(psi, psi + 1e-6, p, Standard);
            let all = best_split(&d, 1e9, 40, 0.05, Alternative::TwoSided);
            assert_eq!(all.splits.len(), 39);
            assert_eq!(all.splits[all.best.unwrap()].visits, want);
            for design in [Removal, Conditional] {
                let d = between(psi, psi + 1e-6, p, design);
                let all = best_split(&d, 1e9, 60, 0.05, Alternative::TwoSided);
                let best = all.splits[all.best.unwrap()].visits;
                assert_eq!(Some(best), optimal_visits(psi, p, design));
            }
        }
    }

    /// Effort is kept to, and the power is that of the difference's own closed form (Guillera-Arroita & Lahoz-Monfort
    /// 2012, Methods Ecol. Evol. 3:860: .8 to .56, p .5, K 3, 100 sites a period).
    #[test]
    fn effort_is_kept_to() {
        let d = between(0.8, 0.56, 0.5, Standard);
        let all = best_split(&d, 600.0, 1000, 0.05, Alternative::TwoSided);
        let three = all.splits[1];
        assert_eq!((three.visits, three.sites), (3, 100.0));
        assert!((three.power - 0.793_320).abs() < 1e-6);
        // One site a period is the last.
        assert_eq!(all.splits.last().unwrap().visits, 300);
        let best = all.splits[all.best.unwrap()];
        assert!((3..=5).contains(&best.visits), "{best:?}");
        for s in &all.splits {
            assert!(s.site_visits <= 600.0 && s.power <= best.power);
        }
        for design in [Removal, Conditional] {
            let d = between(0.6, 0.3, 0.4, design);
            for s in best_split(&d, 500.0, 50, 0.05, Alternative::Below).splits {
                assert!(
                    s.site_visits <= 500.0 && s.site_visits > 500.0 - 2.0 * f64::from(s.visits)
                );
            }
        }
        for effort in [3.9, f64::NAN, -5.0] {
            let none = best_split(&d, effort, 10, 0.05, Alternative::TwoSided);
            assert_eq!((none.splits.len(), none.best), (0, None));
        }
    }
}
