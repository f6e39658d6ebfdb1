//! The numbers of a sparse symmetric matrix, factored in place.

use super::pattern::Pattern;
use crate::linalg::cholesky;
use crate::maths::ln;

/// Entries of a matrix on a [`Pattern`], and after [`Factor::factor`] those of its factor: D on the head's diagonal, unit
/// lower triangular L below it, and the tail's Cholesky factor.
#[derive(Clone, Debug)]
pub struct Factor {
    /// By [`Pattern::slot`].
    pub values: Vec<f64>,
}

impl Factor {
    /// All zeros.
    pub fn new(pattern: &Pattern) -> Self {
        Self {
            values: vec![0.0; pattern.entries()],
        }
    }

    /// Factors the matrix in place. False when it is not positive definite: its content is then of no use.
    pub fn factor(&mut self, pattern: &Pattern) -> bool {
        let (head, q) = (pattern.head, pattern.tail);
        let (diagonal, rest) = self.values.split_at_mut(head);
        let (below, tail) = rest.split_at_mut(pattern.rows.len());
        for j in 0..head {
            let d = diagonal[j];
            if d.is_nan() || d <= 0.0 || d.is_infinite() {
                return false;
            }
            let inv = 1.0 / d;
            let column = &pattern.columns[j];
            let (done, later) = below.split_at_mut(column.entries.end);
            let own = &mut done[column.entries.clone()];
            let rows = &pattern.rows[column.entries.clone()];
            let end = column.entries.end;
            let mut next = column.updates;
            for s in 0..column.in_head {
                let a = rows[s];
                let l = own[s] * inv;
                diagonal[a] -= l * own[s];
                let scattered = if column.full {
                    column.in_head
                } else {
                    own.len()
                };
                let targets = &pattern.updates[next..next + scattered - s - 1];
                next += targets.len();
                for (&at, u) in targets.iter().zip(&own[s + 1..]) {
                    later[at - end] -= l * u;
                }
                if column.full {
                    let start = pattern.columns[a].entries.end - q - end;
                    for (v, u) in later[start..start + q]
                        .iter_mut()
                        .zip(&own[column.in_head..])
                    {
                        *v -= l * u;
                    }
                }
            }
            let ends = &own[column.in_head..];
            if column.full {
                for (s, (row, u)) in tail.chunks_exact_mut(q.max(1)).zip(ends).enumerate() {
                    let l = u * inv;
                    for (v, u) in row[..=s].iter_mut().zip(ends) {
                        *v -= l * u;
                    }
                }
            } else {
                let places = &rows[column.in_head..];
                for (s, (&r, u)) in places.iter().zip(ends).enumerate() {
                    let l = u * inv;
                    let row = &mut tail[(r - head) * q..];
                    for (&t, u) in places[..=s].iter().zip(ends) {
                        row[t - head] -= l * u;
                    }
                }
            }
            own.iter_mut().for_each(|v| *v *= inv);
        }
        cholesky::factor(tail, q)
    }

    /// Logarithm of the determinant of the factored matrix.
    pub fn ln_det(&self, pattern: &Pattern) -> f64 {
        let (start, q) = pattern.tail();
        let head: f64 = self.values[..pattern.head].iter().map(|&d| ln(d)).sum();
        head + cholesky::ln_det(&self.values[start..], q)
    }

    /// Solves A x = b in place (b by places).
    pub fn solve(&self, pattern: &Pattern, x: &mut [f64]) {
        let head = pattern.head;
        let (below, tail) = self.values[head..].split_at(pattern.rows.len());
        let columns = pattern.columns.iter().enumerate();
        for (j, column) in columns.clone() {
            let known = x[j];
            let rows = &pattern.rows[column.entries.clone()];
            for (&r, l) in rows.iter().zip(&below[column.entries.clone()]) {
                x[r] -= l * known;
            }
        }
        cholesky::solve(tail, pattern.tail, &mut x[head..]);
        for (j, column) in columns.rev() {
            let rows = &pattern.rows[column.entries.clone()];
            let pairs = rows.iter().zip(&below[column.entries.clone()]);
            let sum: f64 = pairs.map(|(&r, l)| l * x[r]).sum();
            x[j] = x[j] / self.values[j] - sum;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A positive definite matrix of `free` + `last` variables, linked at random or so that each of the first half has
    /// one parent (nesting) and one partner (crossing) in the second half.
    fn example(seed: u64) -> (Pattern, Factor, Vec<f64>) {
        let mut x = seed;
        let mut below = |n: usize| {
            x = x
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (x >> 33) as usize % n
        };
        let (free, last) = (1 + below(30), below(4));
        let n = free + last;
        let mut pairs = std::collections::BTreeSet::new();
        if seed.is_multiple_of(2) {
            for _ in 0..below(4 * free) {
                let (a, b) = (below(free), below(free));
                pairs.insert((a.max(b), a.min(b)));
            }
        } else {
            let half = free / 2;
            for a in 0..half {
                for _ in 0..2 {
                    pairs.insert((half + below(free - half), a));
                }
            }
        }
        pairs.retain(|(a, b)| a != b);
        let pattern = Pattern::new(free, last, pairs.iter().copied());
        pairs.extend((free..n).flat_map(|a| (0..a).map(move |b| (a, b))));
        let mut dense = vec![0.0; n * n];
        let mut factor = Factor::new(&pattern);
        for &(a, b) in &pairs {
            let v = below(11) as f64 / 11.0 - 0.4;
            let (a, b) = (pattern.place(a), pattern.place(b));
            dense[a * n + b] = v;
            dense[b * n + a] = v;
            factor.values[pattern.slot(a, b)] = v;
        }
        for v in 0..n {
            let at = pattern.place(v);
            dense[at * n + at] = 15.0 + v as f64;
            factor.values[pattern.slot(at, at)] = 15.0 + v as f64;
        }
        (pattern, factor, dense)
    }

    #[test]
    fn same_as_dense() {
        let (mut sparse_ones, mut with_head_rows, mut not_full) = (0, 0, 0);
        for seed in 0..400 {
            let (pattern, mut sparse, mut dense) = example(seed);
            let n = pattern.len();
            sparse_ones += usize::from(pattern.entries() < n * n / 2);
            with_head_rows += pattern.columns.iter().filter(|c| c.in_head > 1).count();
            not_full += pattern.columns.iter().filter(|c| !c.full).count();
            assert!(cholesky::factor(&mut dense, n), "{seed}");
            assert!(sparse.factor(&pattern), "{seed}");
            let want = cholesky::ln_det(&dense, n);
            assert!((sparse.ln_det(&pattern) - want).abs() < 1e-11, "{seed}");
            let mut x: Vec<f64> = (0..n).map(|i| (i * i % 7) as f64 - 2.5).collect();
            let mut y = x.clone();
            sparse.solve(&pattern, &mut x);
            cholesky::solve(&dense, n, &mut y);
            assert!(x.iter().zip(&y).all(|(a, b)| (a - b).abs() < 1e-13));
            let mut inverse = vec![0.0; n * n];
            cholesky::inverse(&dense, n, &mut inverse);
            let mut selected = Factor::new(&pattern);
            selected.selected_inverse(&pattern, &sparse);
            for j in 0..n {
                for i in j..n {
                    let held = j >= pattern.head || i == j || {
                        let range = pattern.columns[j].entries.clone();
                        pattern.rows[range].contains(&i)
                    };
                    if held {
                        let got = selected.values[pattern.slot(i, j)];
                        let off = (got - inverse[i * n + j]).abs();
                        assert!(off < 1e-14, "{seed} {i} {j}");
                    }
                }
            }
        }
        // The examples go through every branch.
        assert!(sparse_ones > 100 && with_head_rows > 100 && not_full > 100);
    }

    #[test]
    fn indefinite_is_told() {
        let (pattern, mut sparse, _) = example(2);
        let first = pattern.slot(0, 0);
        sparse.values[first] = -1.0;
        assert!(!sparse.factor(&pattern));
        let (pattern, mut sparse, _) = example(2);
        let last = pattern.len() - 1;
        sparse.values[pattern.slot(last, last)] = f64::NAN;
        assert!(!sparse.factor(&pattern));
    }
}
