//! Trends over years that are correlated with the next: U autoregressive of order 1, cov(U_i, U_j) = s^2 r^|i - j|.

use numerics::linalg::cholesky;

/// The sum over years of centred squares, T (T^2 - 1)/12.
pub fn spread_of_years(years: f64) -> f64 {
    years * (years * years - 1.0) / 12.0
}

/// What least squares make of T years with correlation `r` and variance 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeastSquares {
    /// Variance of the slope: t'R t / (t't)^2 with t the centred years.
    pub slope_variance: f64,
    /// Expected residual mean square on T - 2 degrees of freedom, from which the analysis that knows nothing of r
    /// takes its standard error: tr((I - H) R)/(T - 2).
    pub residual: f64,
}

/// Least squares under correlated years.
pub fn least_squares(years: usize, r: f64) -> LeastSquares {
    let n = years as f64;
    let mid = 0.5 * (n - 1.0);
    let (mut all, mut quadratic) = (0.0, 0.0);
    for i in 0..years {
        let mut c = 1.0;
        for j in i..years {
            let twice = if i == j { 1.0 } else { 2.0 };
            all += twice * c;
            quadratic += twice * c * (i as f64 - mid) * (j as f64 - mid);
            c *= r;
        }
    }
    let stt = spread_of_years(n);
    LeastSquares {
        slope_variance: quadratic / (stt * stt),
        residual: (n - all / n - quadratic / stt) / (n - 2.0),
    }
}

/// The sum over i and j that differ of r^|i - j| a_i b_j: two linear forms under a correlation that falls off evenly,
/// without their own squares.
pub(super) fn off_diagonal(r: f64, a: &[f64], b: &[f64]) -> f64 {
    // Running sums of what came before, each step one power of r further away.
    let (mut before_a, mut before_b, mut sum) = (0.0, 0.0, 0.0);
    for (a, b) in a.iter().zip(b) {
        sum += a * before_b + b * before_a;
        before_a = r * (before_a + a);
        before_b = r * (before_b + b);
    }
    sum
}

/// Variance of the slope by generalised least squares when the analysis knows the covariance of the yearly index:
/// `year_variance` r^|i - j|, and `rest` more in each year by itself. NaN when the covariance is singular.
pub fn generalised(years: usize, r: f64, year_variance: f64, rest: f64) -> f64 {
    let mut v = vec![0.0; years * years];
    for i in 0..years {
        let mut c = year_variance;
        for j in i..years {
            v[i * years + j] = c;
            v[j * years + i] = c;
            c *= r;
        }
        v[i * years + i] += rest;
    }
    if !cholesky::factor(&mut v, years) {
        return f64::NAN;
    }
    let mid = 0.5 * (years as f64 - 1.0);
    let one = vec![1.0; years];
    let t: Vec<f64> = (0..years).map(|y| y as f64 - mid).collect();
    let solved = |x: &[f64]| {
        let mut x = x.to_vec();
        cholesky::solve(&v, years, &mut x);
        x
    };
    let (v_one, v_t) = (solved(&one), solved(&t));
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let (a, b, c) = (dot(&one, &v_one), dot(&one, &v_t), dot(&t, &v_t));
    a / (a * c - b * b)
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::maths::pow;

    /// The stated matrices multiplied out in full.
    #[test]
    fn least_squares_by_dense_matrices() {
        for (years, r) in [(5usize, 0.4f64), (10, -0.3), (12, 0.9), (4, 0.0)] {
            let n = years as f64;
            let mid = 0.5 * (n - 1.0);
            let stt: f64 = (0..years)
                .map(|y| (y as f64 - mid) * (y as f64 - mid))
                .sum();
            let cov = |i: usize, j: usize| pow(r, i.abs_diff(j) as f64);
            let hat = |i: usize, j: usize| 1.0 / n + (i as f64 - mid) * (j as f64 - mid) / stt;
            let (mut slope, mut trace) = (0.0, 0.0);
            for i in 0..years {
                for j in 0..years {
                    slope += (i as f64 - mid) * cov(i, j) * (j as f64 - mid) / (stt * stt);
                    let m = f64::from(u8::from(i == j)) - hat(i, j);
                    trace += m * cov(j, i);
                }
            }
            let got = least_squares(years, r);
            assert!((got.slope_variance / slope - 1.0).abs() < 1e-12);
            assert!((got.residual / (trace / (n - 2.0)) - 1.0).abs() < 1e-12);
        }
        let plain = least_squares(7, 0.0);
        assert!((plain.slope_variance * spread_of_years(7.0) - 1.0).abs() < 1e-14);
        assert!((plain.residual - 1.0).abs() < 1e-14);
    }

    #[test]
    fn off_diagonal_sums() {
        let (a, b, r) = ([1.0, -2.0, 0.5, 3.0], [0.3, 1.0, 2.0, -1.0], -0.6f64);
        let mut want = 0.0;
        for i in 0..4usize {
            for j in (0..4).filter(|&j| j != i) {
                want += pow(r, i.abs_diff(j) as f64) * a[i] * b[j];
            }
        }
        assert!((off_diagonal(r, &a, &b) - want).abs() < 1e-14);
    }

    /// Pure AR(1) errors have a closed inverse, tridiagonal with 1, 1 + r^2, ..., 1 and -r beside, over 1 - r^2
    /// (Prais & Winsten 1954); with r = 0 and other scatter it is the plain formula (Larsen et al. 2001, BioScience
    /// 51:1069); least squares never beat it.
    #[test]
    fn generalised_least_squares() {
        for (years, r) in [(6usize, 0.5), (10, -0.4), (15, 0.8)] {
            let mid = 0.5 * (years as f64 - 1.0);
            let form = |x: &dyn Fn(usize) -> f64, z: &dyn Fn(usize) -> f64| {
                let mut sum = 0.0;
                for i in 0..years {
                    let end = i == 0 || i == years - 1;
                    sum += x(i) * z(i) * if end { 1.0 } else { 1.0 + r * r };
                    if i > 0 {
                        sum -= r * (x(i) * z(i - 1) + x(i - 1) * z(i));
                    }
                }
                sum / (1.0 - r * r)
            };
            let (one, t) = (|_| 1.0, |y: usize| y as f64 - mid);
            let (a, b, c) = (form(&one, &one), form(&one, &t), form(&t, &t));
            let want = 0.04 * a / (a * c - b * b);
            let got = generalised(years, r, 0.04, 0.0);
            assert!((got / want - 1.0).abs() < 1e-10, "{got} {want}");
            let mixed = generalised(years, r, 0.04, 0.01);
            let ols = 0.04 * least_squares(years, r).slope_variance
                + 0.01 / spread_of_years(years as f64);
            assert!(mixed <= ols * (1.0 + 1e-12), "{mixed} {ols}");
            let plain = generalised(years, 0.0, 0.04, 0.01);
            assert!((plain * spread_of_years(years as f64) / 0.05 - 1.0).abs() < 1e-12);
        }
    }
}
