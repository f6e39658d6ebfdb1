//! A critical value from simulated surveys in which nothing changes.
//!
//! With n of them, the k-th largest statistic is exceeded by that of one more such survey with chance k/(n + 1), whatever
//! its law (the ranks of exchangeable numbers are uniform), so that k = whole part of level (n + 1) holds the level
//! exactly. The false-alarm rate of this one critical value varies about that: it follows a Beta(k, n + 1 - k) law
//! (David & Nagaraja 2003, Order Statistics, 3rd ed., section 2.3).

use super::share::Share;
use numerics::interval::wilson_of;

/// The level's order statistic must at least be this many places from the top.
const PLACES: u64 = 10;

/// A calibrated critical value.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibration {
    /// What a statistic must exceed.
    pub critical: f64,
    /// The same, were its place two standard errors further down or up: about the ends of its 95 % interval.
    pub low: f64,
    /// See `low`.
    pub high: f64,
    /// Nulls it was taken from.
    pub nulls: u64,
    place: u64,
}

/// Nulls needed before a critical value of this level is taken from them.
pub fn nulls_needed(level: f64) -> u64 {
    (PLACES as f64 / level).ceil() as u64
}

impl Calibration {
    /// From the statistics of nulls, each with its side in mind so that large speaks for a change; NaN (a failed fit)
    /// speaks for none. `None` with too few of them for the level, or with too few that
    /// could be analysed.
    pub fn of(statistics: impl Iterator<Item = f64>, level: f64) -> Option<Self> {
        let mut sorted: Vec<f64> = statistics
            .map(|s| if s.is_nan() { f64::NEG_INFINITY } else { s })
            .collect();
        let n = sorted.len() as u64;
        if n < nulls_needed(level) {
            return None;
        }
        sorted.sort_by(|a, b| b.total_cmp(a));
        let place = ((level * (n as f64 + 1.0)).floor() as u64).max(1);
        let step = two_errors(place, n);
        let at = |place: u64| sorted[(place.clamp(1, n) - 1) as usize];
        // Among those that could not be analysed there is no value: so few of the others are too few.
        if at(place + step) == f64::NEG_INFINITY {
            return None;
        }
        Some(Self {
            critical: at(place),
            low: at(place + step),
            high: at(place.saturating_sub(step)),
            nulls: n,
            place,
        })
    }

    /// The false-alarm rate with what is not known of it: that of this critical value.
    pub fn false_alarm(&self) -> Share {
        let estimate = self.place as f64 / (self.nulls as f64 + 1.0);
        let (low, high) = wilson_of(estimate, self.nulls as f64, 0.95);
        Share {
            estimate,
            low,
            high,
            replicates: self.nulls,
        }
    }

    /// The standard error that the critical value alone brings to the share of `statistics` above it.
    pub fn share_se(&self, statistics: &[f64]) -> f64 {
        let between = statistics
            .iter()
            .filter(|s| **s > self.low && **s <= self.high);
        between.count() as f64 / statistics.len().max(1) as f64 / 4.0
    }

    /// The share of `statistics` above the critical value, its interval widened by what is not known of that value:
    /// two standard errors of its place move the share from `at high` to `at low`.
    pub fn share(&self, statistics: &[f64]) -> Share {
        let n = statistics.len() as u64;
        let above = |c: f64| statistics.iter().filter(|s| **s > c).count() as u64;
        let hits = above(self.critical);
        Share::of(hits, n).with_extra(self.share_se(statistics))
    }
}

/// Two standard errors of the number of nulls above a fixed value, of which `place` are expected.
fn two_errors(place: u64, n: u64) -> u64 {
    let share = place as f64 / n as f64;
    (2.0 * (place as f64 * (1.0 - share)).sqrt()).ceil() as u64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Where the place falls among surveys that could not be analysed there is no critical value.
    #[test]
    fn failed_fits_are_no_critical_value() {
        let some = |good: usize| {
            let all = (0..1000).map(move |i| {
                if i < good {
                    i as f64 / 1000.0
                } else {
                    f64::NAN
                }
            });
            Calibration::of(all, 0.05)
        };
        assert!(some(30).is_none() && some(55).is_none());
        let c = some(400).unwrap();
        assert!(c.low.is_finite() && c.critical > c.low);
    }
    use numerics::random::Stream;
    use numerics::sequential::{Race, Side};
    use numerics::special::normal;

    fn normals(seed: u64, n: usize, mean: f64) -> Vec<f64> {
        let mut rng = Stream::new(seed, 7);
        (0..n).map(|_| mean + rng.normal()).collect()
    }

    #[test]
    fn the_place_holds_the_level() {
        // The 50th largest of 1..=1000 is 951.
        let c = Calibration::of((1..=1000).map(f64::from), 0.05).unwrap();
        assert_eq!((c.critical, c.nulls), (951.0, 1000));
        assert!((c.false_alarm().estimate - 50.0 / 1001.0).abs() < 1e-15);
        assert!(Calibration::of((1..=199).map(f64::from), 0.05).is_none());
        assert!(Calibration::of((1..=200).map(f64::from), 0.05).is_some());
    }

    /// Failed fits count as nothing found: they are the smallest statistics.
    #[test]
    fn failed_fits_are_not_significant() {
        let with = (1..=1000).map(|i| if i <= 100 { f64::NAN } else { f64::from(i) });
        assert_eq!(Calibration::of(with, 0.05).unwrap().critical, 951.0);
    }

    /// Normal statistics: the true false-alarm rate averages the level, and the intervals of power and false alarms
    /// hold the truth about 19 times in 20, where the plain interval of the power does not.
    #[test]
    fn intervals_hold_the_truth() {
        let (runs, n, shift) = (2000u64, 400, 1.2);
        let truth = 1.0 - normal::cdf(normal::quantile(0.95) - shift);
        let (mut held, mut plain, mut alarms, mut mean) = (0, 0, 0, 0.0);
        for run in 0..runs {
            let c = Calibration::of(normals(2 * run, n, 0.0).into_iter(), 0.05).unwrap();
            let share = c.share(&normals(2 * run + 1, n, shift));
            held += u64::from(share.low < truth && truth < share.high);
            let bare = Share::of((share.estimate * n as f64).round() as u64, n as u64);
            plain += u64::from(bare.low < truth && truth < bare.high);
            let rate = 1.0 - normal::cdf(c.critical);
            mean += rate / runs as f64;
            let told = c.false_alarm();
            alarms += u64::from(told.low < rate && rate < told.high);
        }
        let of = |hits: u64| hits as f64 / runs as f64;
        // Standard error of the mean rate: .0109/sqrt(2000) = .00024; of a coverage: .005.
        assert!((mean - 20.0 / 401.0).abs() < 0.001, "{mean}");
        assert!((0.935..0.975).contains(&of(held)), "{}", of(held));
        assert!(of(plain) < 0.85, "{}", of(plain));
        assert!((0.93..0.97).contains(&of(alarms)), "{}", of(alarms));
    }

    /// A race with calibrated critical values, taken anew at each look from the nulls so far: where the true power is
    /// the wanted one, either stop is wrong, and they stay within the stated error. Far from it the race does stop.
    #[test]
    fn a_race_keeps_its_error() {
        let race = Race {
            wanted: 0.8,
            error: 1e-3,
        };
        let stop = |seed: u64, power: f64| {
            let shift = normal::quantile(0.95) + normal::quantile(power);
            let (nulls, change) = (
                normals(2 * seed, 1000, 0.0),
                normals(2 * seed + 1, 1000, shift),
            );
            (1..=40).map(|look| look * 25).find_map(|n| {
                let c = Calibration::of(nulls[..n].iter().copied(), 0.05)?;
                let share = c.share(&change[..n]);
                let hits = (share.estimate * n as f64).round() as u64;
                race.side(hits, n as u64, c.share_se(&change[..n]))
            })
        };
        // Expected are at most 2 of 2000; more than 8 have a chance of 2 in 10,000.
        let wrong = (0..2000).filter(|&seed| stop(seed, 0.8).is_some()).count();
        assert!(wrong <= 8, "{wrong}");
        let below = (5000..5200)
            .filter(|&seed| stop(seed, 0.4) == Some(Side::Below))
            .count();
        assert!(below > 150, "{below}");
    }
}
