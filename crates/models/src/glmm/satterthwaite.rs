//! Degrees of freedom of a contrast of fixed effects by Satterthwaite's approximation.
//!
//! The contrast's variance v depends on the variance parameters theta. Under restricted likelihood theta's estimates
//! have about the covariance V (the inverse observed information), so that var(v) is about g'Vg with g = dv/dtheta,
//! and a scaled chi-square with the same mean and variance as v has 2 v^2 / g'Vg degrees of freedom (Satterthwaite
//! 1946, Biometrics Bulletin 2:110; for mixed models Giesbrecht & Burns 1985, Biometrics 41:477). For counts this is
//! an approximation on top of Laplace's, and it is blind to a standard deviation at 0.

/// What the approximation needs of a fit by restricted likelihood.
#[derive(Clone, Debug, PartialEq)]
pub struct Conditional {
    /// Covariance of the fixed effects given the variance parameters, p x p, row-major.
    pub(super) own: Vec<f64>,
    /// Its change for each free variance parameter, p x p each, one after another.
    pub(super) slopes: Vec<f64>,
    /// Covariance of the m free variance parameters, m x m.
    pub(super) free: Vec<f64>,
}

impl Conditional {
    /// Degrees of freedom of `contrast` (p weights of the fixed effects); infinite when no variance parameter moves
    /// the contrast's variance, `None` when the numbers do not allow an answer.
    pub fn degrees_of_freedom(&self, contrast: &[f64]) -> Option<f64> {
        let p = contrast.len();
        let quadratic = |m: &[f64]| -> f64 {
            (0..p)
                .flat_map(|i| (0..p).map(move |j| (i, j)))
                .map(|(i, j)| contrast[i] * m[i * p + j] * contrast[j])
                .sum()
        };
        let v = quadratic(&self.own);
        let g: Vec<f64> = self.slopes.chunks_exact(p * p).map(quadratic).collect();
        let m = g.len();
        let spread: f64 = (0..m)
            .flat_map(|a| (0..m).map(move |b| (a, b)))
            .map(|(a, b)| g[a] * self.free[a * m + b] * g[b])
            .sum::<f64>()
            + 0.0; // an empty sum is -0
        let df = 2.0 * v * v / spread;
        (v > 0.0 && spread >= 0.0 && !df.is_nan()).then_some(df)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One variance s^2 estimated from n - 1 squares: v = s^2/n has n - 1 degrees of freedom (Student's t).
    #[test]
    fn one_sample_has_its_own() {
        let (n, s) = (7.0, 1.3);
        // The restricted log likelihood of s: -(n-1) ln s - (n-1) s0^2/(2 s^2), information 2(n-1)/s^2.
        let one = Conditional {
            own: vec![s * s / n],
            slopes: vec![2.0 * s / n],
            free: vec![s * s / (2.0 * (n - 1.0))],
        };
        let df = one.degrees_of_freedom(&[1.0]).unwrap();
        assert!((df - (n - 1.0)).abs() < 1e-12, "{df}");
    }

    #[test]
    fn no_answer_from_nothing() {
        let none = Conditional {
            own: vec![f64::NAN],
            slopes: vec![1.0],
            free: vec![1.0],
        };
        assert_eq!(none.degrees_of_freedom(&[1.0]), None);
        let fixed = Conditional {
            own: vec![2.0],
            slopes: vec![],
            free: vec![],
        };
        assert_eq!(fixed.degrees_of_freedom(&[1.0]), Some(f64::INFINITY));
    }
}
