//! Elimination of the integrated effects: H = G'WG + prior, factored site-year by site-year, site by site, and a
//! small dense remainder; and log|H|.
//!
//! With T_c = 1 + s_c^2 A_c (A_c the sum of w in the cell), a row leaves the weight w/T_c to its site and year;
//! with T_s = 1 + s_s^2 sum w/T_c, a site leaves U U'/T_s to be taken off the dense system. That system is first
//! summed by kind of row (year and covariates), of which there are few.

use super::layout::Layout;
use super::state::{Effects, Scales, State};
use numerics::linalg::cholesky;
use numerics::maths::ln;

/// Which vector over rows is gathered.
#[derive(Clone, Copy)]
pub(super) enum Rows {
    /// First derivatives in the predictor.
    D1,
    /// The work vector c.
    C,
}

impl State {
    /// Builds and factors H at the current w. False when the dense remainder is not positive definite.
    pub(super) fn factor(&mut self, layout: &Layout) -> bool {
        let (q, ny) = (self.q, self.years);
        self.dense.fill(0.0);
        for j in 0..ny {
            self.dense[j * q + j] = 1.0;
        }
        self.by_kind.fill(0.0);
        self.cross.fill(0.0);
        let single = self.has_cells && layout.kinds.single;
        if single {
            self.single_cells();
        }
        for s in 0..layout.sites.len() {
            let sum = if self.has_cells && !single {
                self.site_by_cells(layout, s)
            } else {
                self.site_by_rows(layout, s)
            };
            self.site_t[s] = 1.0 + self.scales.site * self.scales.site * sum;
        }
        self.add_kinds(layout);
        if self.scales.site != 0.0 && q > 0 {
            self.take_sites();
        }
        cholesky::factor(&mut self.dense, q)
    }

    /// Eliminates site-year effects of one row each.
    fn single_cells(&mut self) {
        let square = self.scales.cell * self.scales.cell;
        self.cell_w.copy_from_slice(&self.w);
        for ((t, left), w) in self.cell_t.iter_mut().zip(&mut self.left).zip(&self.w) {
            *t = 1.0 + square * w;
            *left = w / *t;
        }
    }

    /// Weights of one site without site-year effects (or with those of single rows eliminated) into its cross terms and the kinds; their sum.
    fn site_by_rows(&mut self, layout: &Layout, s: usize) -> f64 {
        let (q, ny) = (self.q, self.years);
        let (ss, sy) = (self.scales.site, self.scales.year);
        let rows = layout.rows_of(s);
        let u = &mut self.cross[s * q..(s + 1) * q];
        let kinds = &layout.kinds;
        let w = if self.has_cells { &self.left } else { &self.w };
        let sum = kinds.collect(w, rows.clone(), &mut self.by_kind);
        let w = &w[rows.clone()];
        let (years, fixed) = u.split_at_mut(ny);
        if kinds.aligned {
            for (u, w) in years.iter_mut().zip(w) {
                *u = ss * sy * w;
            }
            for (j, u) in fixed.iter_mut().enumerate() {
                let pairs = w.iter().zip(kinds.column(j));
                *u = ss * pairs.map(|(w, x)| w * x).sum::<f64>();
            }
            return sum;
        }
        for (&w, &k) in w.iter().zip(&kinds.of[rows]) {
            if ny > 0 {
                years[kinds.year[k]] += ss * sy * w;
            }
            for (u, x) in fixed.iter_mut().zip(kinds.x(k)) {
                *u += ss * w * x;
            }
        }
        sum
    }

    /// As [`State::site_by_rows`] with the site-year effects eliminated first.
    fn site_by_cells(&mut self, layout: &Layout, s: usize) -> f64 {
        let (p, q, ny) = (layout.columns, self.q, self.years);
        let px = if self.inner_fixed { p } else { 0 };
        let (ss, sy, sc) = (self.scales.site, self.scales.year, self.scales.cell);
        let kinds = &layout.kinds;
        let u = &mut self.cross[s * q..(s + 1) * q];
        let (first, last) = layout.sites[s];
        let mut sum = 0.0;
        for ci in first..last {
            let cell = layout.cells[ci];
            let a: f64 = self.w[cell.start..cell.end].iter().sum();
            let t = 1.0 + sc * sc * a;
            let inv = 1.0 / t;
            self.cell_w[ci] = a;
            self.cell_t[ci] = t;
            sum += a * inv;
            if ny > 0 {
                u[cell.year] += ss * sy * a * inv;
            }
            let b = &mut self.cell_wx[ci * p..(ci + 1) * p];
            b.fill(0.0);
            for i in cell.start..cell.end {
                let k = kinds.of[i];
                self.by_kind[k] += self.w[i] * inv;
                if px > 0 {
                    for (b, x) in b.iter_mut().zip(kinds.x(k)) {
                        *b += self.w[i] * x;
                    }
                }
            }
            for j in 0..px {
                u[ny + j] += ss * b[j] * inv;
            }
            if px > 0 && !kinds.one_per_cell {
                // What the kinds' weights w/T_c miss where covariates differ within the cell.
                let shrink = sc * sc * inv;
                for j in 0..px {
                    for l in 0..=j {
                        let d = &mut self.dense[(ny + j) * q + ny + l];
                        let mut own = 0.0;
                        for i in cell.start..cell.end {
                            let x = kinds.x(kinds.of[i]);
                            own += self.w[i] * x[j] * x[l];
                        }
                        *d += shrink * (a * own - b[j] * b[l]);
                    }
                }
            }
        }
        sum
    }

    /// The kinds' summed weights into the dense system.
    fn add_kinds(&mut self, layout: &Layout) {
        let (q, ny, sy) = (self.q, self.years, self.scales.year);
        let px = q - ny;
        for (k, &w) in self.by_kind.iter().enumerate() {
            let (year, x) = (layout.kinds.year[k], layout.kinds.x(k));
            if ny > 0 {
                self.dense[year * q + year] += sy * sy * w;
            }
            for j in 0..px {
                let row = &mut self.dense[(ny + j) * q..(ny + j + 1) * q];
                if ny > 0 {
                    row[year] += sy * w * x[j];
                }
                for (d, x_l) in row[ny..=ny + j].iter_mut().zip(x) {
                    *d += w * x[j] * x_l;
                }
            }
        }
    }

    /// Takes U U'/T_s of every site off the lower triangle of the dense system, four sites at a time.
    fn take_sites(&mut self) {
        let q = self.q;
        for (u, t) in self.cross.chunks(4 * q).zip(self.site_t.chunks(4)) {
            let rows = self.dense.chunks_exact_mut(q).enumerate();
            if let [t0, t1, t2, t3] = *t {
                let (u0, rest) = u.split_at(q);
                let (u1, rest) = rest.split_at(q);
                let (u2, u3) = rest.split_at(q);
                let inv = [1.0 / t0, 1.0 / t1, 1.0 / t2, 1.0 / t3];
                for (j, row) in rows {
                    let f = [
                        u0[j] * inv[0],
                        u1[j] * inv[1],
                        u2[j] * inv[2],
                        u3[j] * inv[3],
                    ];
                    let four = u0.iter().zip(u1).zip(u2.iter().zip(u3));
                    for (d, ((a, b), (c, e))) in row[..=j].iter_mut().zip(four) {
                        *d -= (f[0] * a + f[1] * b) + (f[2] * c + f[3] * e);
                    }
                }
            } else {
                for (j, row) in rows {
                    for (u, t) in u.chunks_exact(q).zip(t) {
                        let f = u[j] / t;
                        for (d, v) in row[..=j].iter_mut().zip(u) {
                            *d -= f * v;
                        }
                    }
                }
            }
        }
    }

    /// log|H| of the factored system.
    pub(super) fn ln_det(&self) -> f64 {
        let mut sum = cholesky::ln_det(&self.dense, self.q);
        // Logs of products: the T are at least 1, so a product is taken until it grows large.
        let mut product = 1.0;
        let cells: &[f64] = if self.has_cells { &self.cell_t } else { &[] };
        for &t in cells.iter().chain(&self.site_t) {
            product *= t;
            if product > 1e150 {
                sum += ln(product);
                product = 1.0;
            }
        }
        sum + ln(product)
    }

    /// Adds G'v for a row vector v to `out`, with `scales` in place of those of G, and the part of the fixed
    /// effects only if `fixed`.
    pub(super) fn gather(
        &mut self,
        layout: &Layout,
        v: Rows,
        scales: Scales,
        fixed: bool,
        out: &mut Effects,
    ) {
        let kinds = &layout.kinds;
        let ny = self.years;
        let v = match v {
            Rows::D1 => &self.d1,
            Rows::C => &self.c,
        };
        self.by_kind.fill(0.0);
        for (s, out) in out.site.iter_mut().enumerate() {
            let rows = layout.rows_of(s);
            let sum = kinds.collect(v, rows, &mut self.by_kind);
            *out += scales.site * sum;
        }
        if self.has_cells {
            for (cell, out) in layout.cells.iter().zip(&mut out.cell) {
                *out += scales.cell * v[cell.start..cell.end].iter().sum::<f64>();
            }
        }
        for (k, sum) in self.by_kind.iter().enumerate() {
            if ny > 0 {
                out.dense[kinds.year[k]] += scales.year * sum;
            }
            if fixed {
                for (out, x) in out.dense[ny..].iter_mut().zip(kinds.x(k)) {
                    *out += sum * x;
                }
            }
        }
    }
}
