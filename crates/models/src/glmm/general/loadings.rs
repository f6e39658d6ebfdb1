//! Cholesky factors of correlations that are given, not estimated.

use numerics::linalg::cholesky;
use numerics::maths::exp;

/// Loadings of `levels` equally spaced levels with correlation `rho` to the power of their distance (an autoregression
/// of order 1): z_1, then u_t = rho u_(t-1) + sqrt(1 - rho^2) z_t. `None` unless -1 < rho < 1.
pub fn ar1_loadings(levels: usize, rho: f64) -> Option<Vec<f64>> {
    if !(rho > -1.0 && rho < 1.0) {
        return None;
    }
    let mut loadings = vec![0.0; levels * levels];
    let fresh = (1.0 - rho * rho).sqrt();
    for i in 0..levels {
        let (before, own) = loadings.split_at_mut(i * levels);
        if i > 0 {
            let last = &before[(i - 1) * levels..];
            for (v, l) in own[..i].iter_mut().zip(last) {
                *v = rho * l;
            }
        }
        own[i] = if i == 0 { 1.0 } else { fresh };
    }
    Some(loadings)
}

/// Loadings of levels with correlation exp(-distance / range), `distances` levels by levels, row-major, in the unit of
/// `range` (Diggle & Ribeiro 2007, Model-based Geostatistics, section 3.4: Matern's with kappa 1/2). `None` when that is
/// no correlation matrix: distances not square, not symmetric, negative or 0 between two levels, range not above 0.
pub fn exponential_loadings(distances: &[f64], range: f64) -> Option<Vec<f64>> {
    let n = distances.len().isqrt();
    let at = |i: usize, j: usize| distances[i * n + j];
    let sound = |i: usize, j: usize| {
        let d = at(i, j);
        d == at(j, i) && d.is_finite() && if i == j { d == 0.0 } else { d > 0.0 }
    };
    if n * n != distances.len()
        || range.is_nan()
        || range <= 0.0
        || !(0..n).all(|i| (0..n).all(|j| sound(i, j)))
    {
        return None;
    }
    let mut loadings: Vec<f64> = distances.iter().map(|d| exp(-d / range)).collect();
    if !cholesky::factor(&mut loadings, n) {
        return None;
    }
    for i in 0..n {
        loadings[i * n + i + 1..(i + 1) * n].fill(0.0);
    }
    Some(loadings)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn correlation(l: &[f64], n: usize, i: usize, j: usize) -> f64 {
        (0..n).map(|k| l[i * n + k] * l[j * n + k]).sum()
    }

    #[test]
    fn factors_of_their_correlations() {
        let l = ar1_loadings(5, -0.6).unwrap();
        let place = [0.0, 1.5, 1.7, 4.0, 9.0_f64];
        let distances: Vec<f64> = (0..25)
            .map(|i| (place[i / 5] - place[i % 5]).abs())
            .collect();
        let e = exponential_loadings(&distances, 2.5).unwrap();
        for i in 0..5_usize {
            for j in 0..5 {
                let lag = i.abs_diff(j);
                let want: f64 = (0..lag).map(|_| -0.6).product();
                assert!((correlation(&l, 5, i, j) - want).abs() < 1e-15);
                let want = exp(-distances[i * 5 + j] / 2.5);
                assert!((correlation(&e, 5, i, j) - want).abs() < 1e-15);
                assert!(j <= i || (l[i * 5 + j] == 0.0 && e[i * 5 + j] == 0.0));
            }
        }
    }

    #[test]
    fn what_is_no_correlation_is_refused() {
        assert!(ar1_loadings(3, 1.0).is_none());
        assert!(ar1_loadings(3, f64::NAN).is_none());
        assert!(exponential_loadings(&[0.0, 1.0, 1.0, 0.0], 0.0).is_none());
        assert!(exponential_loadings(&[0.0, 0.0, 0.0, 0.0], 1.0).is_none());
        assert!(exponential_loadings(&[0.0, 1.0, 2.0, 0.0], 1.0).is_none());
        assert!(exponential_loadings(&[0.0, 1.0, 1.0], 1.0).is_none());
    }
}
