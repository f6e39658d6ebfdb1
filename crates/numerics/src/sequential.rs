//! Watching a share grow: on which side of a wanted share the truth lies, with an error that holds at every look.
//!
//! An ordinary interval is right at one number of trials fixed beforehand; who looks again and again and stops when it
//! excludes something is wrong far more often than it says. The interval here may be looked at after every trial.
//!
//! With hits and misses of true share p, the mixture of all likelihoods, integral of q^h (1-q)^(n-h) dq, over the
//! likelihood p^h (1-p)^(n-h) of the truth is a nonnegative martingale that begins at 1. By Ville's inequality it ever
//! reaches 1/error with probability error at most. The shares at which it stays below 1/error therefore hold the truth
//! at all numbers of trials at once, with probability 1 - error:
//! (n+1) C(n,h) p^h (1-p)^(n-h) > error.
//!
//! Robbins (1970), Ann. Math. Stat. 41:1397-1409, gives this very example; Howard, Ramdas, McAuliffe & Sekhon (2021),
//! Ann. Stat. 49:1055-1080, the general theory of such confidence sequences.

use crate::maths::{ln, ln_1p};
use crate::special::beta::ln_beta;
use crate::special::normal;

/// The side of the wanted share on which the true one surely lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The true share is smaller.
    Below,
    /// The true share is larger.
    Above,
}

/// Log of the mixture over the likelihood of share `p`: large when `hits` out of `n` speak against it.
fn evidence_against(hits: u64, n: u64, p: f64) -> f64 {
    let (h, m) = (hits as f64, (n - hits) as f64);
    // 0 ln 0 is 0.
    let part = |count: f64, log: f64| if count == 0.0 { 0.0 } else { count * log };
    ln_beta(h + 1.0, m + 1.0) - part(h, ln(p)) - part(m, ln_1p(-p))
}

/// The shares that `hits` out of `n` do not speak against, low and high: they hold the truth at all numbers of trials
/// at once with probability 1 - `error`. Without trials it is the whole of 0 to 1.
pub fn confidence_sequence(hits: u64, n: u64, error: f64) -> (f64, f64) {
    let bar = -ln(error);
    let share = hits as f64 / (n as f64).max(1.0);
    // The evidence falls up to the observed share and rises beyond it.
    let end = |outer: f64| {
        if evidence_against(hits, n, outer) < bar {
            return outer;
        }
        let (mut inside, mut outside) = (share, outer);
        for _ in 0..60 {
            let mid = 0.5 * (inside + outside);
            if evidence_against(hits, n, mid) < bar {
                inside = mid;
            } else {
                outside = mid;
            }
        }
        outside
    };
    (end(0.0), end(1.0))
}

/// A race of a growing share against a wanted one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Race {
    /// The wanted share.
    pub wanted: f64,
    /// Probability of ever naming the wrong side, over all looks together, at most.
    pub error: f64,
}

impl Race {
    /// Trials between two looks.
    pub const STEP: u64 = 25;

    /// The side on which the true share surely lies after `hits` out of `n`, or `None` while that is open.
    ///
    /// `extra_se` is for hits that are counted against an estimated threshold, such as a critical value from simulated
    /// nulls: the standard error of the share that this estimate alone brings; 0 when the threshold is known. The side
    /// must then be sure although the share is off by as many of them as a normal error passes with half the look's
    /// part of the error, and the other half is left to the hits. Look j, of every [`Race::STEP`] trials, has part
    /// 1/(j (j+1)) of the error, because thresholds that change from look to look make no single martingale; the parts
    /// add up to all of it.
    pub fn side(&self, hits: u64, n: u64, extra_se: f64) -> Option<Side> {
        if n == 0 {
            return None;
        }
        let (error, margin) = if extra_se > 0.0 {
            let look = (n / Self::STEP).max(1) as f64;
            let half = 0.5 * self.error / (look * (look + 1.0));
            (half, -normal::quantile(0.5 * half) * extra_se)
        } else {
            (self.error, 0.0)
        };
        let share = hits as f64 / n as f64;
        let (side, edge) = if share < self.wanted {
            (Side::Below, self.wanted - margin)
        } else {
            (Side::Above, self.wanted + margin)
        };
        let beyond = match side {
            Side::Below => share < edge && edge > 0.0,
            Side::Above => share > edge && edge < 1.0,
        };
        (beyond && evidence_against(hits, n, edge) >= -ln(error)).then_some(side)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Stream;

    /// Hand calculation from (n+1) C(n,h) p^h (1-p)^(n-h): 51 x .8^50 = 7.279e-4; 26 x
    /// C(25,10) .8^10 .2^15 = 2.990e-4 and 26 x C(25,11) .8^11 .2^14 = 1.631e-3.
    #[test]
    fn stops_where_robbins_formula_says() {
        let race = Race {
            wanted: 0.8,
            error: 1e-3,
        };
        assert!((evidence_against(50, 50, 0.8) + ln(7.278_963e-4)).abs() < 1e-6);
        assert_eq!(race.side(50, 50, 0.0), Some(Side::Above));
        assert_eq!(race.side(25, 25, 0.0), None);
        assert!((evidence_against(10, 25, 0.8) + ln(2.990_241e-4)).abs() < 1e-6);
        assert_eq!(race.side(10, 25, 0.0), Some(Side::Below));
        assert_eq!(race.side(11, 25, 0.0), None);
        assert_eq!(race.side(0, 0, 0.0), None);
    }

    /// The ends are where the formula meets the error, and a side is sure just when they exclude the wanted share.
    #[test]
    fn ends_solve_the_formula_and_agree_with_the_race() {
        for (hits, n) in [(0, 40), (40, 40), (7, 40), (611, 800)] {
            let (low, high) = confidence_sequence(hits, n, 0.05);
            for end in [low, high] {
                if end > 0.0 && end < 1.0 {
                    assert!((evidence_against(hits, n, end) + ln(0.05)).abs() < 1e-9);
                }
            }
            for wanted in [0.05, 0.2, 0.7, 0.75, 0.8, 0.95] {
                let side = Race {
                    wanted,
                    error: 0.05,
                }
                .side(hits, n, 0.0);
                let excluded = if wanted < low {
                    Some(Side::Above)
                } else if wanted > high {
                    Some(Side::Below)
                } else {
                    None
                };
                assert_eq!(side, excluded, "{hits} of {n}, {wanted}");
            }
        }
        assert_eq!(confidence_sequence(0, 0, 0.05), (0.0, 1.0));
    }

    /// An estimated threshold makes it slower, never quicker, and one that is hardly known lets nothing be sure.
    #[test]
    fn an_uncertain_threshold_slows_the_race() {
        let race = Race {
            wanted: 0.8,
            error: 1e-3,
        };
        assert_eq!(race.side(330, 600, 0.0), Some(Side::Below));
        assert_eq!(race.side(330, 600, 0.02), Some(Side::Below));
        assert_eq!(race.side(420, 600, 0.0), Some(Side::Below));
        assert_eq!(race.side(420, 600, 0.02), None);
        assert_eq!(race.side(330, 600, 0.3), None);
        for hits in 0..=200 {
            if let Some(side) = race.side(hits, 200, 0.01) {
                assert_eq!(race.side(hits, 200, 0.0), Some(side), "{hits}");
            }
        }
    }

    /// Where 10^4 sequences of up to 2000 trials first stop: at share `p`, for each error, those that name each side,
    /// and the mean number of trials.
    fn stops(p: f64, wanted: f64, error: f64, extra_se: impl Fn(u64) -> f64) -> (u64, u64, f64) {
        let race = Race { wanted, error };
        let (mut below, mut above, mut trials) = (0, 0, 0);
        for sequence in 0..10_000 {
            let mut stream = Stream::new(2026, sequence);
            let (mut hits, mut n, mut side) = (0, 0, None);
            while side.is_none() && n < 2000 {
                for _ in 0..Race::STEP {
                    hits += u64::from(stream.uniform() < p);
                }
                n += Race::STEP;
                side = race.side(hits, n, extra_se(n));
            }
            trials += n;
            match side {
                Some(Side::Below) => below += 1,
                Some(Side::Above) => above += 1,
                None => {}
            }
        }
        (below, above, trials as f64 / 1e4)
    }

    /// Shares of wrong stops stay within the stated error, at and beside the wanted share, after 80 looks.
    #[test]
    fn the_error_holds_at_every_look() {
        for (wanted, error) in [(0.8, 1e-3), (0.8, 0.05), (0.5, 0.01), (0.9, 0.05)] {
            let most = (1e4 * error) as u64;
            let (below, above, _) = stops(wanted, wanted, error, |_| 0.0);
            assert!(below + above <= most, "{wanted} {error}: {below} {above}");
            let (below, _, _) = stops(wanted + 0.02, wanted, error, |_| 0.0);
            assert!(below <= most, "{wanted} {error}: {below} below");
            let (_, above, _) = stops(wanted - 0.02, wanted, error, |_| 0.0);
            assert!(above <= most, "{wanted} {error}: {above} above");
        }
        // The bound is no loose one: at 5 % it is used to a fair part.
        let (below, above, _) = stops(0.8, 0.8, 0.05, |_| 0.0);
        assert!(below + above > 50, "{below} {above}");
    }

    /// An ordinary 95 % interval looked at as often is wrong many times as often: why it is not used.
    #[test]
    fn an_ordinary_interval_would_not_hold() {
        let mut wrong = 0;
        for sequence in 0..2000 {
            let mut stream = Stream::new(2026, sequence);
            let mut hits = 0;
            wrong += u64::from((1..=80).any(|look| {
                for _ in 0..Race::STEP {
                    hits += u64::from(stream.uniform() < 0.8);
                }
                let (low, high) = crate::interval::wilson(hits, look * Race::STEP, 0.95);
                low > 0.8 || high < 0.8
            }));
        }
        assert!(wrong > 4 * 100, "{wrong} of 2000");
    }

    /// Trials until the side is sure, wanted .8, error .001, by true share: a plan well off the mark costs a tenth of
    /// 1000 trials or less, one at the mark all of them.
    #[test]
    fn what_is_saved() {
        for (p, most) in [
            (0.3, 30.0),
            (0.5, 60.0),
            (0.6, 115.0),
            (0.7, 420.0),
            (0.95, 160.0),
            (0.99, 80.0),
        ] {
            let (_, _, trials) = stops(p, 0.8, 1e-3, |_| 0.0);
            assert!(trials < most, "{p}: {trials}");
        }
        assert!(stops(0.8, 0.8, 1e-3, |_| 0.0).2 > 1950.0);
    }
}
