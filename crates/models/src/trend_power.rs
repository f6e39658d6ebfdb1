//! Power of a regression of a yearly index on time, by closed form (Gerrodette 1987, Ecology 68:1364-1372), with the
//! t distribution that small numbers of years need (Link & Hatfield 1990, Ecology 71:1217-1220).

use numerics::maths::{ln_1p, pow};
use numerics::special::{noncentral_t, normal, student};

/// How the index's coefficient of variation goes with its size A.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scatter {
    /// The same at every size.
    Constant,
    /// As 1/sqrt(A): counts.
    InverseRoot,
    /// As sqrt(A).
    Root,
}

/// Shape of the change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// The same amount each interval.
    Linear,
    /// The same share each interval.
    Exponential,
}

/// An index observed on `n` occasions, changing by the share `r` an interval, with coefficient of variation `cv` on the
/// first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IndexSeries {
    /// Occasions, 3 or more.
    pub n: u32,
    /// Change an interval as a share, above -1.
    pub r: f64,
    /// Coefficient of variation on the first occasion.
    pub cv: f64,
    /// How the scatter goes with size.
    pub scatter: Scatter,
    /// Shape of the change.
    pub change: Change,
}

impl IndexSeries {
    /// Slope over its standard error: the noncentrality of the slope's test.
    pub fn delta(&self) -> f64 {
        let (n, r) = (f64::from(self.n), self.r);
        let cube = n * (n - 1.0) * (n + 1.0);
        let square = match self.change {
            Change::Linear => {
                let f = match self.scatter {
                    Scatter::Constant => 1.0 + r * (n - 1.0) * (1.0 + r * (2.0 * n - 1.0) / 6.0),
                    Scatter::InverseRoot => 1.0 + r * (n - 1.0) / 2.0,
                    Scatter::Root => {
                        1.0 + 1.5
                            * r
                            * (n - 1.0)
                            * (1.0 + r * (2.0 * n - 1.0) / 3.0 + r * r * n * (n - 1.0) / 6.0)
                    }
                };
                r * r * cube / (12.0 * self.cv * self.cv * f)
            }
            Change::Exponential => {
                let growth = |i: u32| pow(1.0 + r, f64::from(i));
                let mean = (0..self.n)
                    .map(|i| {
                        let cv2 = self.cv * self.cv;
                        ln_1p(match self.scatter {
                            Scatter::Constant => cv2,
                            Scatter::InverseRoot => cv2 / growth(i),
                            Scatter::Root => cv2 * growth(i),
                        })
                    })
                    .sum::<f64>()
                    / n;
                let slope = ln_1p(r);
                slope * slope * cube / (12.0 * mean)
            }
        };
        square.sqrt()
    }

    /// Power of the two-sided test by the normal distribution, its own side only: Phi(delta - z). Flatters when n is
    /// small.
    pub fn power_normal(&self, level: f64) -> f64 {
        normal::cdf(self.delta() + normal::quantile(0.5 * level))
    }

    /// Power by the noncentral t with n - 2 degrees of freedom.
    pub fn power_t(&self, level: f64, two_sided: bool) -> f64 {
        let df = f64::from(self.n) - 2.0;
        let tail = if two_sided { 0.5 * level } else { level };
        noncentral_t::power(-student::quantile(tail, df), df, self.delta(), two_sided)
    }

    /// Fewest occasions with at least this power by the normal distribution; `None` beyond 10,000.
    pub fn fewest(&self, level: f64, power: f64) -> Option<u32> {
        (3..=10_000).find(|&n| Self { n, ..*self }.power_normal(level) >= power)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCATTERS: [Scatter; 3] = [Scatter::Constant, Scatter::InverseRoot, Scatter::Root];
    const CHANGES: [Change; 2] = [Change::Linear, Change::Exponential];

    fn series(n: u32, r: f64, cv: f64, change: Change, scatter: Scatter) -> IndexSeries {
        IndexSeries {
            n,
            r,
            cv,
            scatter,
            change,
        }
    }

    /// Gerrodette (1987): power, two-tailed .05, from the stated formulas by scipy 1.17; linear then exponential, each
    /// with CV constant, ~ 1/sqrt(A), ~ sqrt(A).
    #[test]
    fn power_by_the_normal() {
        for (n, r, cv, rows) in [
            (
                10,
                -0.05,
                0.2,
                [
                    [0.821_468, 0.732_180, 0.886_677],
                    [0.652_669, 0.552_045, 0.745_845],
                ],
            ),
            (
                10,
                0.05,
                0.2,
                [
                    [0.452_674, 0.536_518, 0.374_992],
                    [0.609_392, 0.698_810, 0.516_236],
                ],
            ),
            (
                20,
                -0.02,
                0.15,
                [
                    [0.987_536, 0.968_587, 0.995_595],
                    [0.937_318, 0.886_177, 0.969_123],
                ],
            ),
            (
                5,
                -0.10,
                0.1,
                [
                    [0.973_353, 0.942_438, 0.988_268],
                    [0.916_227, 0.848_862, 0.958_120],
                ],
            ),
        ] {
            for (change, row) in CHANGES.into_iter().zip(rows) {
                for (scatter, want) in SCATTERS.into_iter().zip(row) {
                    let got = series(n, r, cv, change, scatter).power_normal(0.05);
                    assert!(
                        (got - want).abs() < 1e-6,
                        "{n} {r} {change:?} {scatter:?}: {got} {want}"
                    );
                }
            }
        }
    }

    /// The same with Link & Hatfield's (1990) t: delta, two-sided and one-sided power by scipy 1.17.
    #[test]
    fn power_by_the_noncentral_t() {
        for (n, r, cv, delta, two, one) in [
            (10, -0.05, 0.2, 2.352_501, 0.542_775, 0.692_394),
            (10, 0.05, 0.2, 2.237_698, 0.503_054, 0.654_885),
            (20, -0.02, 0.15, 3.492_605, 0.910_049, 0.956_565),
            (5, -0.1, 0.1, 3.340_097, 0.614_952, 0.807_940),
        ] {
            let s = series(n, r, cv, Change::Exponential, Scatter::Constant);
            assert!((s.delta() - delta).abs() < 1e-6);
            assert!(
                (s.power_t(0.05, true) - two).abs() < 1e-6,
                "{n} {r}: {}",
                s.power_t(0.05, true)
            );
            assert!((s.power_t(0.05, false) - one).abs() < 1e-6);
        }
    }

    /// Gerrodette (1987): fewest occasions, two-tailed .05, power .8; linear then exponential.
    #[test]
    fn fewest_occasions() {
        for (r, cv, rows) in [
            (-0.05, 0.1, [[7, 7, 7], [8, 8, 7]]),
            (-0.05, 0.2, [[10, 11, 10], [12, 13, 11]]),
            (-0.05, 0.3, [[13, 14, 12], [15, 17, 14]]),
            (0.05, 0.2, [[14, 13, 17], [12, 11, 13]]),
            (-0.10, 0.2, [[7, 7, 6], [7, 8, 7]]),
            (-0.02, 0.2, [[19, 20, 18], [21, 23, 20]]),
            (-0.01, 0.2, [[31, 32, 30], [34, 36, 32]]),
        ] {
            for (change, row) in CHANGES.into_iter().zip(rows) {
                for (scatter, want) in SCATTERS.into_iter().zip(row) {
                    let got = series(3, r, cv, change, scatter).fewest(0.05, 0.8);
                    assert_eq!(got, Some(want), "{r} {cv} {change:?} {scatter:?}");
                }
            }
        }
    }

    /// The short form's constant 12 (z_{1-a/2} + z_{1-b})^2; published as "156" for two-tailed .05 and power .95.
    #[test]
    fn constants_of_the_short_form() {
        for (tail, beta, want) in [
            (0.025, 0.05, 155.936_520_145_4),
            (0.025, 0.10, 126.089_076_737_4),
            (0.025, 0.20, 94.186_556_812_2),
            (0.05, 0.05, 129.866_085_796_6),
            (0.05, 0.10, 102.766_168_208_0),
            (0.05, 0.20, 74.190_686_784_2),
        ] {
            let z = -normal::quantile(tail) - normal::quantile(beta);
            assert!((12.0 * z * z / want - 1.0).abs() < 1e-10);
        }
    }
}
