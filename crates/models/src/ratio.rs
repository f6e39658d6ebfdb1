//! A ratio of two fixed effects, such as the move a year of an optimum or of an edge along a gradient, with its standard
//! error by the delta method and its interval by profile likelihood.
//!
//! With the predictor on position x and year t:
//!   edge of a range: a + b x + c t is 0, an even chance, at x = -(a + c t)/b, which moves by -c/b a year;
//!   Gaussian response: b_x x + b_xx x^2 + b_xt x t has its top at -(b_x + b_xt t)/(2 b_xx), which moves by
//!   -b_xt/(2 b_xx) a year (ter Braak & Looman 1986, Vegetatio 65:3-11, for the optimum).
//! Both are r = f over/under, f being -1 or -1/2. The delta method takes r as a straight line in the two effects; its
//! interval is symmetric, and too short where `under` is poorly known. The profile likelihood fixes r: since over = r
//! under/f, the two columns give way to the one column under + (r/f) over, and the interval holds every r with twice the
//! loss of log likelihood at most the chi-square quantile (Venzon & Moolgavkar 1988, Appl. Stat. 37:87-94). As the ratio
//! of Fieller's theorem it may have no end on a side, where an `under` of 0 is not excluded.

mod profile;

pub use profile::{ProfileInterval, RatioFit, mixed_model, occupancy, profile_interval};

/// Which two fixed effects, by column, and the factor of their ratio.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ratio {
    /// Column of the effect that is divided.
    pub over: usize,
    /// Column of the effect that divides.
    pub under: usize,
    /// What their ratio is multiplied by.
    pub factor: f64,
}

/// A ratio with its standard error by the delta method.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RatioEstimate {
    /// The ratio.
    pub value: f64,
    /// Its standard error.
    pub se: f64,
}

impl Ratio {
    /// Move a unit of t of the place where an even chance is, by the columns of x and t.
    pub const fn of_edge(x: usize, t: usize) -> Self {
        Self {
            over: t,
            under: x,
            factor: -1.0,
        }
    }

    /// Move a unit of t of the top of a Gaussian response, by the columns of x^2 and x t.
    pub const fn of_optimum(xx: usize, xt: usize) -> Self {
        Self {
            over: xt,
            under: xx,
            factor: -0.5,
        }
    }

    /// The ratio of these effects; their covariance is row-major, `width` to a row (of as many effects or more, these
    /// first). Not finite where the dividing effect is 0.
    pub fn estimate(&self, beta: &[f64], covariance: &[f64], width: usize) -> RatioEstimate {
        let (n, d) = (beta[self.over], beta[self.under]);
        let cov = |i: usize, j: usize| covariance[i * width + j];
        let (by_n, by_d) = self.slopes(n, d);
        let variance = by_n * by_n * cov(self.over, self.over)
            + by_d * by_d * cov(self.under, self.under)
            + 2.0 * by_n * by_d * cov(self.over, self.under);
        RatioEstimate {
            value: self.factor * n / d,
            se: variance.sqrt(),
        }
    }

    /// Derivatives of the ratio in the two effects.
    fn slopes(&self, over: f64, under: f64) -> (f64, f64) {
        let by_over = self.factor / under;
        (by_over, -by_over * over / under)
    }

    /// The ratio's slopes in all effects, a contrast for degrees of freedom.
    pub fn contrast(&self, beta: &[f64]) -> Vec<f64> {
        let mut out = vec![0.0; beta.len()];
        let (by_over, by_under) = self.slopes(beta[self.over], beta[self.under]);
        out[self.over] = by_over;
        out[self.under] = by_under;
        out
    }

    /// The covariates of the model whose ratio is `value`: one column fewer, the effect of `over` following from that of
    /// `under`.
    pub fn fixed_at(&self, x: &[f64], columns: usize, value: f64) -> Vec<f64> {
        let follows = value / self.factor;
        let mut out = Vec::with_capacity(x.len() / columns * (columns - 1));
        for row in x.chunks_exact(columns) {
            for (j, v) in row.iter().enumerate().filter(|(j, _)| *j != self.over) {
                out.push(if j == self.under {
                    v + follows * row[self.over]
                } else {
                    *v
                });
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The two published forms of the optimum's move, and the general delta method, agree.
    #[test]
    fn optimum_as_by_its_own_form() {
        let beta = [1.0, 0.2, -1.4, 0.1, 0.3];
        let mut c = vec![0.0; 25];
        (c[24], c[12], c[22], c[14]) = (0.02, 0.07, -0.004, -0.004);
        let got = Ratio::of_optimum(2, 4).estimate(&beta, &c, 5);
        let (value, se) = crate::wald::ratio_minus_half(0.3, -1.4, 0.02, 0.07, -0.004);
        assert!((got.value - value).abs() < 1e-15 && (got.se - se).abs() < 1e-15);
    }

    /// On a predictor whose ratio is v the column that stands for both gives the same predictor.
    #[test]
    fn fixed_columns_span_the_same_predictor() {
        let x = [1.0, 0.5, -2.0, 1.0, 1.5, 3.0];
        for ratio in [Ratio::of_edge(1, 2), Ratio::of_optimum(1, 2)] {
            let under = -0.8;
            let over = 0.3 * under / ratio.factor;
            let fixed = ratio.fixed_at(&x, 3, 0.3);
            for (row, short) in x.chunks_exact(3).zip(fixed.chunks_exact(2)) {
                let whole = 2.0 * row[0] + under * row[1] + over * row[2];
                assert!((whole - (2.0 * short[0] + under * short[1])).abs() < 1e-14);
            }
            let contrast = ratio.contrast(&[0.0, under, over]);
            let h = 1e-6;
            let at = |o: f64| ratio.factor * o / under;
            assert!((contrast[2] - (at(over + h) - at(over - h)) / (2.0 * h)).abs() < 1e-8);
        }
    }
}
