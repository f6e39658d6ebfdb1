//! Cholesky factor A = L L' of a small symmetric positive definite matrix, row-major n by n.

/// Overwrites the lower triangle of `a` (n by n) with L. False when a pivot is not positive: `a` is then not
/// positive definite (or holds a NaN) and its content is of no use.
pub fn factor(a: &mut [f64], n: usize) -> bool {
    for j in 0..n {
        let mut d = a[j * n + j];
        for k in 0..j {
            d -= a[j * n + k] * a[j * n + k];
        }
        if d.is_nan() || d <= 0.0 {
            return false;
        }
        let d = d.sqrt();
        a[j * n + j] = d;
        let inv = 1.0 / d;
        for i in j + 1..n {
            let mut s = a[i * n + j];
            for k in 0..j {
                s -= a[i * n + k] * a[j * n + k];
            }
            a[i * n + j] = s * inv;
        }
    }
    true
}

/// Logarithm of the determinant of L L'.
pub fn ln_det(l: &[f64], n: usize) -> f64 {
    2.0 * (0..n).map(|i| crate::maths::ln(l[i * n + i])).sum::<f64>()
}

/// Solves L L' x = b in place.
pub fn solve(l: &[f64], n: usize, x: &mut [f64]) {
    for i in 0..n {
        let mut s = x[i];
        for k in 0..i {
            s -= l[i * n + k] * x[k];
        }
        x[i] = s / l[i * n + i];
    }
    for i in (0..n).rev() {
        let mut s = x[i];
        for k in i + 1..n {
            s -= l[k * n + i] * x[k];
        }
        x[i] = s / l[i * n + i];
    }
}

/// The full symmetric inverse of L L' into `out` (n by n).
pub fn inverse(l: &[f64], n: usize, out: &mut [f64]) {
    for j in 0..n {
        let column = &mut out[j * n..(j + 1) * n];
        column.fill(0.0);
        column[j] = 1.0;
        solve(l, n, column);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inverse_times_matrix_is_identity() {
        let a = [4.0, 1.0, 0.5, 1.0, 3.0, 0.2, 0.5, 0.2, 2.0];
        let mut l = a;
        assert!(factor(&mut l, 3));
        let mut inv = [0.0; 9];
        inverse(&l, 3, &mut inv);
        for i in 0..3 {
            for j in 0..3 {
                let s: f64 = (0..3).map(|k| a[i * 3 + k] * inv[k * 3 + j]).sum();
                assert!((s - if i == j { 1.0 } else { 0.0 }).abs() < 1e-14);
            }
        }
        let det: f64 = 4.0 * (6.0 - 0.04) - (2.0 - 0.1) + 0.5 * (0.2 - 1.5);
        assert!((ln_det(&l, 3) - crate::maths::ln(det)).abs() < 1e-14);
    }

    #[test]
    fn indefinite_and_nan_are_told() {
        assert!(!factor(&mut [1.0, 2.0, 2.0, 1.0], 2));
        assert!(!factor(&mut [f64::NAN], 1));
    }
}
