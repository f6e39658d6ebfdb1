//! Elimination of the integrated effects: H = G'WG + prior, factored site-year by site-year, site by site, and a
//! small dense remainder. Solves H x = b and gives log|H|.
//!
//! With T_c = 1 + s_c^2 A_c (A_c the sum of w in the cell), a cell leaves the weight A_c/T_c to its site and year;
//! with T_s = 1 + s_s^2 sum A_c/T_c, a site leaves U U'/T_s to be taken off the dense system.

use super::layout::Layout;
use super::state::{Effects, State};
use numerics::linalg::cholesky;
use numerics::maths::ln;

impl State {
    /// Builds and factors H at the current w. False when the dense remainder is not positive definite.
    pub(super) fn factor(&mut self, layout: &Layout) -> bool {
        let (p, q, ny) = (layout.columns, self.q, self.years);
        let px = if self.inner_fixed { p } else { 0 };
        let (ss, sy, sc) = (self.scales.site, self.scales.year, self.scales.cell);
        self.dense.fill(0.0);
        for j in 0..ny {
            self.dense[j * q + j] = 1.0;
        }
        for (s, &(first, last)) in layout.sites.iter().enumerate() {
            let u = &mut self.cross[s * q..(s + 1) * q];
            u.fill(0.0);
            let mut sum = 0.0;
            for ci in first..last {
                let cell = layout.cells[ci];
                let a: f64 = self.w[cell.start..cell.end].iter().sum();
                let t = if self.has_cells {
                    1.0 + sc * sc * a
                } else {
                    1.0
                };
                self.cell_w[ci] = a;
                self.cell_t[ci] = t;
                let left = a / t;
                sum += left;
                if ny > 0 {
                    u[cell.year] += ss * sy * left;
                    self.dense[cell.year * q + cell.year] += sy * sy * left;
                }
                if px > 0 {
                    let b = &mut self.cell_wx[ci * p..(ci + 1) * p];
                    b.fill(0.0);
                    for i in cell.start..cell.end {
                        let x = &layout.x[i * p..(i + 1) * p];
                        for j in 0..p {
                            let wx = self.w[i] * x[j];
                            b[j] += wx;
                            for l in 0..=j {
                                self.dense[(ny + j) * q + ny + l] += wx * x[l];
                            }
                        }
                    }
                    let shrink = if self.has_cells { sc * sc / t } else { 0.0 };
                    for j in 0..p {
                        u[ny + j] += ss * b[j] / t;
                        if ny > 0 {
                            self.dense[(ny + j) * q + cell.year] += sy * b[j] / t;
                        }
                        for l in 0..=j {
                            self.dense[(ny + j) * q + ny + l] -= shrink * b[j] * b[l];
                        }
                    }
                }
            }
            let t = 1.0 + ss * ss * sum;
            self.site_t[s] = t;
            if ss != 0.0 {
                let inv = 1.0 / t;
                for j in 0..q {
                    let f = u[j] * inv;
                    let row = &mut self.dense[j * q..j * q + j + 1];
                    for (r, v) in row.iter_mut().zip(&u[..j + 1]) {
                        *r -= f * v;
                    }
                }
            }
        }
        cholesky::factor(&mut self.dense, q)
    }

    /// log|H| of the factored system.
    pub(super) fn ln_det(&self) -> f64 {
        let mut sum = cholesky::ln_det(&self.dense, self.q);
        // Logs of products: the T are at least 1, so a product is taken until it grows large.
        let mut product = 1.0;
        let cells: &[f64] = if self.has_cells { &self.cell_t } else { &[] };
        for &t in cells.iter().chain(&self.site_t) {
            product *= t;
            if product > 1e200 {
                sum += ln(product);
                product = 1.0;
            }
        }
        sum + ln(product)
    }

    /// Solves H x = b in place.
    pub(super) fn solve(&self, layout: &Layout, b: &mut Effects) {
        let (p, q, ny) = (layout.columns, self.q, self.years);
        let px = if self.inner_fixed { p } else { 0 };
        let (ss, sy, sc) = (self.scales.site, self.scales.year, self.scales.cell);
        if self.has_cells {
            for (ci, cell) in layout.cells.iter().enumerate() {
                let f = sc * b.cell[ci] / self.cell_t[ci];
                b.site[cell.site] -= ss * self.cell_w[ci] * f;
                if ny > 0 {
                    b.dense[cell.year] -= sy * self.cell_w[ci] * f;
                }
                for j in 0..px {
                    b.dense[ny + j] -= self.cell_wx[ci * p + j] * f;
                }
            }
        }
        for (s, t) in self.site_t.iter().enumerate() {
            let f = b.site[s] / t;
            for (d, u) in b.dense.iter_mut().zip(&self.cross[s * q..(s + 1) * q]) {
                *d -= u * f;
            }
        }
        cholesky::solve(&self.dense, q, &mut b.dense);
        for (s, t) in self.site_t.iter().enumerate() {
            let cross = &self.cross[s * q..(s + 1) * q];
            let dot: f64 = cross.iter().zip(&b.dense).map(|(u, d)| u * d).sum();
            b.site[s] = (b.site[s] - dot) / t;
        }
        if self.has_cells {
            for (ci, cell) in layout.cells.iter().enumerate() {
                let mut dot = ss * self.cell_w[ci] * b.site[cell.site];
                if ny > 0 {
                    dot += sy * self.cell_w[ci] * b.dense[cell.year];
                }
                for j in 0..px {
                    dot += self.cell_wx[ci * p + j] * b.dense[ny + j];
                }
                b.cell[ci] = (b.cell[ci] - sc * dot) / self.cell_t[ci];
            }
        }
    }

    /// G'v for a row vector v, into `out`.
    pub(super) fn gather(&self, layout: &Layout, v: &[f64], out: &mut Effects) {
        let (p, ny) = (layout.columns, self.years);
        out.clear();
        for (ci, cell) in layout.cells.iter().enumerate() {
            let sum: f64 = v[cell.start..cell.end].iter().sum();
            if self.has_cells {
                out.cell[ci] = self.scales.cell * sum;
            }
            out.site[cell.site] += self.scales.site * sum;
            if ny > 0 {
                out.dense[cell.year] += self.scales.year * sum;
            }
            if self.inner_fixed {
                for i in cell.start..cell.end {
                    for j in 0..p {
                        out.dense[ny + j] += v[i] * layout.x[i * p + j];
                    }
                }
            }
        }
    }
}
