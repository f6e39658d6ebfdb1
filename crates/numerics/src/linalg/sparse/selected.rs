//! The inverse where the factor has entries.
//!
//! With Z = A^-1, Z L = L^-T D^-1 gives, column by column from the last, Z_aj = -sum_b Z_ab l_bj over the rows b of
//! column j, and Z_jj = 1/d_j - sum_b l_bj Z_bj: only entries of Z on the pattern are ever wanted.

use super::factor::Factor;
use super::pattern::Pattern;
use crate::linalg::cholesky;

impl Factor {
    /// Fills the entries with those of the inverse of the matrix that `of` holds the factor of.
    pub fn selected_inverse(&mut self, pattern: &Pattern, of: &Self) {
        let (head, q) = (pattern.head, pattern.tail);
        let (diagonal, rest) = self.values.split_at_mut(head);
        let (below, tail) = rest.split_at_mut(pattern.rows.len());
        let (below_of, tail_of) = of.values[head..].split_at(pattern.rows.len());
        cholesky::inverse(tail_of, q, tail);
        for j in (0..head).rev() {
            let column = &pattern.columns[j];
            let end = column.entries.end;
            let (done, later) = below.split_at_mut(end);
            let z = &mut done[column.entries.clone()];
            let l = &below_of[column.entries.clone()];
            let rows = &pattern.rows[column.entries.clone()];
            z.fill(0.0);
            let mut next = column.updates;
            for s in 0..column.in_head {
                let a = rows[s];
                let mut sum = l[s] * diagonal[a];
                let scattered = if column.full { column.in_head } else { l.len() };
                let targets = &pattern.updates[next..next + scattered - s - 1];
                next += targets.len();
                for ((&at, l_t), z_t) in targets.iter().zip(&l[s + 1..]).zip(&mut z[s + 1..]) {
                    let v = later[at - end];
                    sum += l_t * v;
                    *z_t -= l[s] * v;
                }
                if column.full {
                    let start = pattern.columns[a].entries.end - q - end;
                    let own = l[column.in_head..].iter().zip(&mut z[column.in_head..]);
                    for (v, (l_t, z_t)) in later[start..start + q].iter().zip(own) {
                        sum += l_t * v;
                        *z_t -= l[s] * v;
                    }
                }
                z[s] -= sum;
            }
            let ends = &l[column.in_head..];
            let out = &mut z[column.in_head..];
            if column.full {
                for (row, l) in tail.chunks_exact(q.max(1)).zip(ends) {
                    for (z, v) in out.iter_mut().zip(row) {
                        *z -= l * v;
                    }
                }
            } else {
                let places = &rows[column.in_head..];
                for (&r, l) in places.iter().zip(ends) {
                    let row = &tail[(r - head) * q..];
                    for (z, &t) in out.iter_mut().zip(places) {
                        *z -= l * row[t - head];
                    }
                }
            }
            let sum: f64 = l.iter().zip(&*z).map(|(l, z)| l * z).sum();
            diagonal[j] = 1.0 / of.values[j] - sum;
        }
    }
}
