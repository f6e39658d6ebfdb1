//! Cholesky factor A = L L' of a small symmetric positive definite matrix, row-major n by n.

/// Overwrites the lower triangle of `a` (n by n) with L. False when a pivot is not positive: `a` is then not
/// positive definite (or holds a NaN) and its content is of no use.
pub fn factor(a: &mut [f64], n: usize) -> bool {
    for j in 0..n {
        let (head, below) = a.split_at_mut((j + 1) * n);
        let row = &mut head[j * n..];
        let (left, right) = row.split_at_mut(j);
        let d = right[0] - dot(left, left);
        if d.is_nan() || d <= 0.0 {
            return false;
        }
        let d = d.sqrt();
        right[0] = d;
        let inv = 1.0 / d;
        for other in below.chunks_exact_mut(n) {
            let (before, rest) = other.split_at_mut(j);
            rest[0] = (rest[0] - dot(before, left)) * inv;
        }
    }
    true
}

#[inline(always)]
fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// x += scale y.
#[inline(always)]
fn add(x: &mut [f64], scale: f64, y: &[f64]) {
    for (x, y) in x.iter_mut().zip(y) {
        *x += scale * y;
    }
}

/// Logarithm of the determinant of L L'.
pub fn ln_det(l: &[f64], n: usize) -> f64 {
    2.0 * (0..n).map(|i| crate::maths::ln(l[i * n + i])).sum::<f64>()
}

/// Solves L L' x = b in place.
pub fn solve(l: &[f64], n: usize, x: &mut [f64]) {
    for i in 0..n {
        let row = &l[i * n..=i * n + i];
        x[i] = (x[i] - dot(&row[..i], &x[..i])) / row[i];
    }
    // Backwards by rows of L too: once x_i is known it is taken off all that come before.
    for i in (0..n).rev() {
        let row = &l[i * n..=i * n + i];
        x[i] /= row[i];
        let known = x[i];
        add(&mut x[..i], -known, &row[..i]);
    }
}

/// The full symmetric inverse of L L' into `out` (n by n): W = L^-1 first, then W'W in its place.
pub fn inverse(l: &[f64], n: usize, out: &mut [f64]) {
    for i in 0..n {
        let (done, rest) = out.split_at_mut(i * n);
        let row = &mut rest[..n];
        row.fill(0.0);
        let inv = 1.0 / l[i * n + i];
        for k in 0..i {
            add(
                &mut row[..=k],
                -l[i * n + k] * inv,
                &done[k * n..=k * n + k],
            );
        }
        row[i] = inv;
    }
    // Row i of W'W wants rows i.. of W only, so that it may overwrite row i.
    for i in 0..n {
        let (head, below) = out.split_at_mut((i + 1) * n);
        let row = &mut head[i * n..=i * n + i];
        let own = row[i];
        row.iter_mut().for_each(|v| *v *= own);
        for other in below.chunks_exact(n) {
            add(row, other[i], &other[..=i]);
        }
    }
    for i in 0..n {
        for j in 0..i {
            out[j * n + i] = out[i * n + j];
        }
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
