//! Solves H x = b with the factor at hand: site-years first, then sites, the dense system, and back.

use super::layout::Layout;
use super::state::{Effects, State};
use numerics::linalg::cholesky;

impl State {
    /// Solves H x = b in place.
    pub(super) fn solve(&mut self, layout: &Layout, b: &mut Effects) {
        if !self.has_cells {
            self.solve_sites(b);
        } else if layout.kinds.single {
            self.take_single_cells(layout, b);
            self.solve_sites(b);
            self.give_single_cells(layout, b);
        } else {
            self.take_cells(layout, b);
            self.solve_sites(b);
            self.give_cells(layout, b);
        }
    }

    /// The sites and the dense system, the site-years having been taken off.
    fn solve_sites(&self, b: &mut Effects) {
        let q = self.q;
        if q > 0 {
            let sites = self.cross.chunks_exact(q).zip(&self.site_t);
            for ((u, t), b_s) in sites.clone().zip(&b.site) {
                let f = b_s / t;
                for (d, u) in b.dense.iter_mut().zip(u) {
                    *d -= u * f;
                }
            }
            cholesky::solve(&self.dense, q, &mut b.dense);
            for ((u, _), b_s) in sites.zip(&mut b.site) {
                *b_s -= u.iter().zip(&b.dense).map(|(u, d)| u * d).sum::<f64>();
            }
        }
        for (b_s, t) in b.site.iter_mut().zip(&self.site_t) {
            *b_s /= t;
        }
    }

    fn take_cells(&self, layout: &Layout, b: &mut Effects) {
        let (p, ny) = (layout.columns, self.years);
        let (ss, sy, sc) = (self.scales.site, self.scales.year, self.scales.cell);
        for (ci, cell) in layout.cells.iter().enumerate() {
            let f = sc * b.cell[ci] / self.cell_t[ci];
            b.site[cell.site] -= ss * self.cell_w[ci] * f;
            if ny > 0 {
                b.dense[cell.year] -= sy * self.cell_w[ci] * f;
            }
            let wx = &self.cell_wx[ci * p..(ci + 1) * p];
            for (d, wx) in b.dense[ny..].iter_mut().zip(wx) {
                *d -= wx * f;
            }
        }
    }

    fn give_cells(&self, layout: &Layout, b: &mut Effects) {
        let (p, ny) = (layout.columns, self.years);
        let (ss, sy, sc) = (self.scales.site, self.scales.year, self.scales.cell);
        for (ci, cell) in layout.cells.iter().enumerate() {
            let mut dot = ss * self.cell_w[ci] * b.site[cell.site];
            if ny > 0 {
                dot += sy * self.cell_w[ci] * b.dense[cell.year];
            }
            let wx = &self.cell_wx[ci * p..(ci + 1) * p];
            for (d, wx) in b.dense[ny..].iter().zip(wx) {
                dot += wx * d;
            }
            b.cell[ci] = (b.cell[ci] - sc * dot) / self.cell_t[ci];
        }
    }

    /// As [`State::take_cells`] where each cell is one row, by kinds of row.
    fn take_single_cells(&mut self, layout: &Layout, b: &mut Effects) {
        let kinds = &layout.kinds;
        let (ny, scales) = (self.years, self.scales);
        for (v, (left, b)) in self.rho.iter_mut().zip(self.left.iter().zip(&b.cell)) {
            *v = scales.cell * left * b;
        }
        self.by_kind.fill(0.0);
        for (s, b) in b.site.iter_mut().enumerate() {
            let sum = kinds.collect(&self.rho, layout.rows_of(s), &mut self.by_kind);
            *b -= scales.site * sum;
        }
        for (k, sum) in self.by_kind.iter().enumerate() {
            if ny > 0 {
                b.dense[kinds.year[k]] -= scales.year * sum;
            }
            for (d, x) in b.dense[ny..].iter_mut().zip(kinds.x(k)) {
                *d -= x * sum;
            }
        }
    }

    /// As [`State::give_cells`] where each cell is one row.
    fn give_single_cells(&mut self, layout: &Layout, b: &mut Effects) {
        let kinds = &layout.kinds;
        let (ny, scales) = (self.years, self.scales);
        for (k, base) in self.by_kind.iter_mut().enumerate() {
            let fixed: f64 = b.dense[ny..]
                .iter()
                .zip(kinds.x(k))
                .map(|(d, x)| d * x)
                .sum();
            let year = if ny > 0 { b.dense[kinds.year[k]] } else { 0.0 };
            *base = fixed + scales.year * year;
        }
        for (s, b) in b.site.iter().enumerate() {
            let base = scales.site * b;
            kinds.spread(&self.by_kind, base, layout.rows_of(s), &mut self.rho);
        }
        let rows = self.cell_t.iter().zip(&self.w).zip(&self.rho);
        for (b, ((t, w), dot)) in b.cell.iter_mut().zip(rows) {
            *b = (*b - scales.cell * w * dot) / t;
        }
    }
}
