//! Stop lines of sequential sampling for a fixed precision: one samples until the total is at the line.
//!
//! Green (1970), Researches on Population Ecology 12:249-251, on Taylor's power law s2 = a m^b; Kuno (1969), Researches
//! on Population Ecology 11:127-136, on Iwao's regression s2 = (alpha + 1) m + (beta - 1) m^2. On either line the
//! standard error of the mean total/n, as the regression gives it at that mean, is the wanted share of the mean.

use super::fixed_number::{self, Criterion, Factor};
use super::{SLACK, Spread};

/// A pair of lines of the total against the number of samples; a walk ends at or beyond either.
pub trait StopLines {
    /// The smallest number of samples at which there are lines, 1 or more.
    fn first(&self) -> u64 {
        1
    }

    /// After n samples one stops at totals of at most this; minus infinity without a lower line.
    fn lower(&self, samples: u64) -> f64;

    /// After n samples one stops at totals of at least this; infinite without an upper line.
    fn upper(&self, samples: u64) -> f64;
}

/// The smallest whole total at or above a line; a line within rounding noise of a whole number is on it.
pub fn at_least(line: f64) -> f64 {
    (line - SLACK * line.abs()).ceil()
}

/// The largest whole total at or below a line, with the same allowance.
pub fn at_most(line: f64) -> f64 {
    (line + SLACK * line.abs()).floor()
}

/// Green's line on Taylor's power law, with b below 2.
///
/// It falls with n for b between 1 and 2, is level for b = 1 and rises for b below 1. From b = 2 on more animals do not
/// make a mean relatively more precise, and there is no line to climb to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Green {
    /// Wanted standard error over the mean, above 0.
    pub relative_error: f64,
    /// Variance at a mean of 1, above 0.
    pub a: f64,
    /// Power of the mean, below 2.
    pub b: f64,
}

impl Green {
    /// Total at which one stops after n samples, (D^2/a)^(1/(b-2)) n^((b-1)/(b-2)). `None` without samples or with a
    /// number out of its bounds.
    pub fn stop_total(&self, samples: u64) -> Option<f64> {
        use numerics::maths::{exp, ln};
        let d = self.relative_error;
        if !(samples > 0 && d > 0.0 && self.a > 0.0 && self.b < 2.0) {
            return None;
        }
        let log = 2.0 * ln(d) - ln(self.a) + (self.b - 1.0) * ln(samples as f64);
        Some(exp(log / (self.b - 2.0)))
    }

    /// The variance the line rests on.
    pub fn spread(&self) -> Spread {
        Spread::Taylor {
            a: self.a,
            b: self.b,
        }
    }

    /// Number of samples at which a total that keeps to the mean per sample meets the line (not rounded).
    pub fn samples_at(&self, mean: f64) -> f64 {
        samples_at(self.spread(), self.relative_error, mean)
    }
}

impl StopLines for Green {
    fn lower(&self, _: u64) -> f64 {
        f64::NEG_INFINITY
    }

    fn upper(&self, samples: u64) -> f64 {
        self.stop_total(samples).unwrap_or(f64::INFINITY)
    }
}

/// Kuno's line on Iwao's regression of mean crowding on the mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kuno {
    /// Wanted standard error over the mean, above 0.
    pub relative_error: f64,
    /// Mean crowding at a mean of 0, above -1.
    pub alpha: f64,
    /// Slope of mean crowding on the mean; above 1 when clumps are denser where the mean is.
    pub beta: f64,
}

impl Kuno {
    /// Total at which one stops after n samples, (alpha + 1) / (D^2 - (beta - 1)/n). `None` below [`Kuno::fewest`] or
    /// with a number out of its bounds.
    pub fn stop_total(&self, samples: u64) -> Option<f64> {
        if samples < self.fewest()? {
            return None;
        }
        let d = self.relative_error;
        Some((self.alpha + 1.0) / (d * d - (self.beta - 1.0) / samples as f64))
    }

    /// The smallest number of samples at which there is a line, the first whole one above (beta - 1)/D^2: with fewer no
    /// total is precise enough. `None` with a number out of its bounds, or beyond 2^53.
    pub fn fewest(&self) -> Option<u64> {
        let d = self.relative_error;
        if !(d > 0.0 && self.alpha > -1.0 && self.beta.is_finite()) {
            return None;
        }
        let edge = at_most(((self.beta - 1.0) / d / d).max(0.0));
        (edge < super::LARGEST).then(|| edge as u64 + 1)
    }

    /// The variance the line rests on.
    pub fn spread(&self) -> Spread {
        Spread::Iwao {
            alpha: self.alpha,
            beta: self.beta,
        }
    }

    /// Number of samples at which a total that keeps to the mean per sample meets the line (not rounded).
    pub fn samples_at(&self, mean: f64) -> f64 {
        samples_at(self.spread(), self.relative_error, mean)
    }
}

impl StopLines for Kuno {
    fn first(&self) -> u64 {
        self.fewest().unwrap_or(1)
    }

    fn lower(&self, _: u64) -> f64 {
        f64::NEG_INFINITY
    }

    fn upper(&self, samples: u64) -> f64 {
        self.stop_total(samples).unwrap_or(f64::INFINITY)
    }
}

fn samples_at(spread: Spread, ratio: f64, mean: f64) -> f64 {
    fixed_number::samples(
        spread,
        mean,
        Criterion::RelativeError { ratio },
        Factor::Normal,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn green(relative_error: f64) -> Green {
        Green {
            relative_error,
            a: 2.5,
            b: 1.4,
        }
    }

    const KUNO: Kuno = Kuno {
        relative_error: 0.25,
        alpha: 0.5,
        beta: 1.2,
    };

    /// Green (1970) with a = 2.5, b = 1.4; from his formula by scipy 1.17.
    #[test]
    fn greens_line() {
        for (d, rows) in [
            (
                0.25,
                [160.000_000, 100.793_684, 63.496_042, 34.470_955, 21.715_341],
            ),
            (
                0.1,
                [
                    3_393.022_021,
                    2_137.469_933,
                    1_346.521_681,
                    731.004_435,
                    460.503_937,
                ],
            ),
        ] {
            for (n, want) in [5, 10, 20, 50, 100].into_iter().zip(rows) {
                let got = green(d).stop_total(n).unwrap();
                assert!((got / want - 1.0f64).abs() < 1e-7, "{d} {n}: {got}");
            }
        }
        // 160 is the line at 5 samples: 160 animals are on it, rounding noise or not.
        assert_eq!(at_least(green(0.25).upper(5)), 160.0);
    }

    /// Kuno (1969) with alpha = .5, beta = 1.2, D = .25; from the formula by scipy 1.17.
    #[test]
    fn kunos_line() {
        for (n, want) in [
            (5, 66.666_667),
            (10, 35.294_118),
            (20, 28.571_429),
            (50, 25.641_026),
        ] {
            let got = KUNO.stop_total(n).unwrap();
            assert!((got / want - 1.0f64).abs() < 1e-7, "{n}: {got}");
        }
        assert_eq!(KUNO.fewest(), Some(4));
        assert!(KUNO.stop_total(3).is_none() && KUNO.stop_total(4).is_some());
    }

    /// On the line the standard error is the wanted share of the mean; and a total that keeps to the mean meets the
    /// line at the fixed number of samples for that mean.
    #[test]
    fn precision_on_the_line() {
        for n in [4, 7, 60, 100_000] {
            for b in [-0.5, 0.8, 1.0, 1.4, 1.9] {
                let line = Green { b, ..green(0.1) };
                let mean = line.stop_total(n).unwrap() / n as f64;
                let got = fixed_number::relative_error(line.spread(), mean, n as f64);
                assert!((got / 0.1 - 1.0).abs() < 1e-10, "{n} {b}: {got}");
                assert!((line.samples_at(mean) / n as f64 - 1.0).abs() < 1e-10);
            }
            for beta in [0.9, 1.0, 1.2] {
                let line = Kuno { beta, ..KUNO };
                let mean = line.stop_total(n).unwrap() / n as f64;
                // Below a slope of 1 the regression has no variance at means that large.
                let got = fixed_number::relative_error(line.spread(), mean, n as f64);
                assert!((got / 0.25 - 1.0).abs() < 1e-10, "{n} {beta}: {got}");
                assert!((line.samples_at(mean) / n as f64 - 1.0).abs() < 1e-10);
            }
        }
    }

    /// Poisson counts (a = b = 1; alpha = 0, beta = 1): both lines are level at 1/D^2 animals.
    #[test]
    fn poisson_lines_are_level() {
        for n in [1, 10, 1_000_000] {
            let line = Green {
                relative_error: 0.2,
                a: 1.0,
                b: 1.0,
            };
            assert!((line.stop_total(n).unwrap() - 25.0).abs() < 1e-12);
            let line = Kuno {
                relative_error: 0.2,
                alpha: 0.0,
                beta: 1.0,
            };
            assert!((line.stop_total(n).unwrap() - 25.0).abs() < 1e-12);
        }
    }

    /// (beta - 1)/D^2 = 16 but for rounding: at 16 samples the line is at infinity, it begins at 17.
    #[test]
    fn the_first_line_where_the_edge_is_whole() {
        for (beta, relative_error, want) in [(1.16, 0.1, 17), (1.64, 0.2, 17), (1.0, 0.1, 1)] {
            let line = Kuno {
                relative_error,
                alpha: 0.0,
                beta,
            };
            assert_eq!(line.fewest(), Some(want), "{beta}");
        }
    }

    #[test]
    fn out_of_bounds() {
        assert!(green(0.25).stop_total(0).is_none());
        assert!(green(-0.1).stop_total(5).is_none());
        assert!(
            Green {
                b: 2.0,
                ..green(0.1)
            }
            .stop_total(5)
            .is_none()
        );
        assert!(
            Green {
                a: 0.0,
                ..green(0.1)
            }
            .stop_total(5)
            .is_none()
        );
        assert!(
            Kuno {
                alpha: -1.0,
                ..KUNO
            }
            .fewest()
            .is_none()
        );
        assert!(
            Kuno {
                relative_error: f64::NAN,
                ..KUNO
            }
            .stop_total(9)
            .is_none()
        );
        assert!(
            Kuno {
                relative_error: 1e-12,
                ..KUNO
            }
            .fewest()
            .is_none()
        );
        for beta in [f64::NAN, f64::NEG_INFINITY, f64::INFINITY] {
            let line = Kuno { beta, ..KUNO };
            assert_eq!((line.fewest(), line.stop_total(9)), (None, None), "{beta}");
        }
    }
}
