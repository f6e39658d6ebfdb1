//! Leverages h_i = G_i H^-1 G_i', and what the standard deviations' gradient wants of H^-1 G_i'.
//!
//! With C the dense system left after the sites, u a site's cross terms and gamma the dense part of G_i after its
//! cell is eliminated, H^-1 G_i' has the dense part delta = C^-1 (gamma - (ss/T_c T_s) u). What depends on the
//! kind of row alone, C^-1 gamma, is worked out once for each kind.

use super::gradient::Gradient;
use super::layout::Layout;
use super::state::State;
use numerics::linalg::cholesky;

/// Of one kind of row (before its cell shrinks it): gamma' C^-1 gamma, the year's entry of C^-1 gamma, and x'
/// times its entries at the fixed effects.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct KindLeverage {
    quad: f64,
    year: f64,
    fixed: f64,
}

/// A site's u' C^-1 u, its T and its cells.
struct Site {
    uqu: f64,
    ts: f64,
    first: usize,
    last: usize,
}

impl State {
    /// Fills `h`, and starts the gradient of the scales in `out`.
    pub(super) fn leverages(&mut self, layout: &Layout, out: &mut Gradient) {
        let q = self.q;
        if q > 0 {
            cholesky::inverse(&self.dense, q, &mut self.inverse);
        }
        self.kind_leverages(layout);
        // C^-1 u of the site at hand.
        let mut qs = std::mem::take(&mut self.qs);
        for (s, &(first, last)) in layout.sites.iter().enumerate() {
            let mut uqu = 0.0;
            if self.scales.site != 0.0 && q > 0 {
                let u = &self.cross[s * q..(s + 1) * q];
                product(&self.inverse, u, &mut qs);
                uqu = qs.iter().zip(u).map(|(a, b)| a * b).sum();
            } else {
                qs.fill(0.0);
            }
            let ts = self.site_t[s];
            let site = Site {
                uqu,
                ts,
                first,
                last,
            };
            if self.has_cells && !layout.kinds.single {
                self.by_cells(layout, &site, &qs, out);
            } else {
                self.by_rows(layout, s, &site, &qs, out);
            }
        }
        self.qs = qs;
        if self.has_cells && layout.kinds.single {
            self.single_leverages(out);
        }
    }

    /// What site-year effects of one row each change: h is that of the other effects until here, as if the weight
    /// were w/T_c.
    fn single_leverages(&mut self, out: &mut Gradient) {
        let sc = self.scales.cell;
        let rows = self.left.iter().zip(&self.cell_t);
        let mut sum = 0.0;
        for (h, (left, t)) in self.h.iter_mut().zip(rows) {
            let inv = 1.0 / t;
            sum += left * (1.0 - left * *h);
            *h = inv * (sc * sc + inv * *h);
        }
        out.cell -= sc * sum;
    }

    fn kind_leverages(&mut self, layout: &Layout) {
        let (q, ny, sy) = (self.q, self.years, self.scales.year);
        for (k, out) in self.kind_leverage.iter_mut().enumerate() {
            let (year, x) = (layout.kinds.year[k], layout.kinds.x(k));
            let x = if self.inner_fixed { x } else { &[] };
            *out = KindLeverage::default();
            let mut mixed = 0.0;
            if ny > 0 {
                let row = &self.inverse[year * q..(year + 1) * q];
                mixed = row[ny..].iter().zip(x).map(|(v, x)| v * x).sum();
                out.year = sy * row[year] + mixed;
            }
            for (j, x_j) in x.iter().enumerate() {
                let row = &self.inverse[(ny + j) * q + ny..(ny + j + 1) * q];
                out.fixed += x_j * row.iter().zip(x).map(|(v, x)| v * x).sum::<f64>();
            }
            out.fixed += sy * mixed;
            out.quad = sy * out.year + out.fixed;
        }
    }

    /// The rows of a site without site-year effects, or with those of single rows eliminated.
    fn by_rows(&mut self, layout: &Layout, s: usize, site: &Site, qs: &[f64], out: &mut Gradient) {
        let (ny, sy, ss) = (self.years, self.scales.year, self.scales.site);
        let share = ss / site.ts;
        let whole = ss * share + share * share * site.uqu;
        let (mut sum_w, mut sum_site, mut sum_year) = (0.0, 0.0, 0.0);
        let rows = layout.rows_of(s);
        let of = &layout.kinds.of[rows.clone()];
        let weights = if self.has_cells {
            &self.left[rows.clone()]
        } else {
            &self.w[rows.clone()]
        };
        if layout.kinds.aligned {
            let qg = &mut self.rho[rows.clone()];
            qg.fill(0.0);
            for (g, q) in qg.iter_mut().zip(&qs[..ny]) {
                *g = sy * q;
            }
            for (j, q) in qs[ny..].iter().enumerate() {
                for (g, x) in qg.iter_mut().zip(layout.kinds.column(j)) {
                    *g += q * x;
                }
            }
            let kinds = self.kind_leverage.iter();
            for ((h, g), kind) in self.h[rows].iter_mut().zip(&*qg).zip(kinds.clone()) {
                *h = whole + kind.quad - 2.0 * share * g;
            }
            for (w, g) in weights.iter().zip(&*qg) {
                sum_w += w;
                sum_site += w * g;
            }
            for ((w, kind), q) in weights.iter().zip(kinds).zip(&qs[..ny]) {
                sum_year += w * (kind.year - share * q);
            }
            out.site -= ((ss + share * site.uqu) * sum_w - sum_site) / site.ts;
            out.year -= sum_year;
            return;
        }
        for ((h, &k), w) in self.h[rows].iter_mut().zip(of).zip(weights) {
            let kind = &self.kind_leverage[k];
            let x = layout.kinds.x(k);
            let mut qg: f64 = qs[ny..].iter().zip(x).map(|(v, x)| v * x).sum();
            if ny > 0 {
                let q_year = qs[layout.kinds.year[k]];
                qg += sy * q_year;
                sum_year += w * (kind.year - share * q_year);
            }
            *h = whole + kind.quad - 2.0 * share * qg;
            sum_w += w;
            sum_site += w * qg;
        }
        out.site -= ((ss + share * site.uqu) * sum_w - sum_site) / site.ts;
        out.year -= sum_year;
    }

    /// The rows of a site with site-year effects.
    fn by_cells(&mut self, layout: &Layout, site: &Site, qs: &[f64], out: &mut Gradient) {
        let ny = self.years;
        let px = self.q - ny;
        let (ss, sy, sc) = (self.scales.site, self.scales.year, self.scales.cell);
        for ci in site.first..site.last {
            let cell = layout.cells[ci];
            let inv = 1.0 / self.cell_t[ci];
            let a = self.cell_w[ci];
            let ba = ss * inv;
            let share = ba / site.ts;
            let q_year = if ny > 0 { qs[cell.year] } else { 0.0 };
            let whole = sc * sc * inv + ba * share + share * share * site.uqu;
            for i in cell.start..cell.end {
                let k = layout.kinds.of[i];
                let x = layout.kinds.x(k);
                // `fixed`: the cell's summed w x times the fixed effects' entries of C^-1 gamma.
                let (kind, qg, fixed, q_fixed) = if layout.kinds.one_per_cell {
                    let kind = self.kind_leverage[k];
                    let qx: f64 = qs[ny..].iter().zip(x).map(|(v, x)| v * x).sum();
                    let shrunk = KindLeverage {
                        quad: kind.quad * inv * inv,
                        year: kind.year * inv,
                        fixed: 0.0,
                    };
                    (
                        shrunk,
                        (sy * q_year + qx) * inv,
                        a * kind.fixed * inv,
                        a * qx,
                    )
                } else {
                    self.mixed_row(layout, ci, x, inv, qs)
                };
                let t_site = (ba - qg + share * site.uqu) / site.ts;
                let t_year = kind.year - share * q_year;
                self.h[i] = whole + kind.quad - 2.0 * share * qg;
                let w = self.w[i];
                out.site -= w * t_site;
                if ny > 0 {
                    out.year -= w * t_year;
                }
                let mut dot = ss * a * t_site + sy * a * t_year;
                if px > 0 {
                    dot += fixed - share * q_fixed;
                }
                out.cell -= w * sc * (1.0 - dot) * inv;
            }
        }
    }

    /// As the kinds' leverages, of one row whose site-year holds rows of several kinds.
    fn mixed_row(
        &self,
        layout: &Layout,
        ci: usize,
        x: &[f64],
        inv: f64,
        qs: &[f64],
    ) -> (KindLeverage, f64, f64, f64) {
        let (p, q, ny) = (layout.columns, self.q, self.years);
        let px = q - ny;
        let (sy, sc) = (self.scales.year, self.scales.cell);
        let year = layout.cells[ci].year;
        let b = &self.cell_wx[ci * p..(ci + 1) * p];
        let gamma = |j: usize| x[j] - sc * sc * b[j] * inv;
        let mut out = KindLeverage::default();
        let (mut qg, mut fixed, mut q_fixed) = (0.0, 0.0, 0.0);
        if ny > 0 {
            let row = &self.inverse[year * q..(year + 1) * q];
            out.year = sy * inv * row[year];
            for j in 0..px {
                out.year += row[ny + j] * gamma(j);
            }
            out.quad = sy * inv * out.year;
            qg = sy * inv * qs[year];
        }
        for j in 0..px {
            let row = &self.inverse[(ny + j) * q..(ny + j + 1) * q];
            let mut entry = if ny > 0 { sy * inv * row[year] } else { 0.0 };
            for l in 0..px {
                entry += row[ny + l] * gamma(l);
            }
            out.quad += entry * gamma(j);
            qg += qs[ny + j] * gamma(j);
            fixed += b[j] * entry;
            q_fixed += b[j] * qs[ny + j];
        }
        (out, qg, fixed, q_fixed)
    }
}

/// Symmetric `matrix` times `u`, four rows at a time.
fn product(matrix: &[f64], u: &[f64], out: &mut [f64]) {
    let q = u.len();
    out.fill(0.0);
    let blocks = matrix.chunks_exact(4 * q);
    let rest = blocks.remainder().chunks_exact(q);
    let done = u.len() / 4 * 4;
    for (four, u) in blocks.zip(u.chunks_exact(4)) {
        let (r0, four) = four.split_at(q);
        let (r1, four) = four.split_at(q);
        let (r2, r3) = four.split_at(q);
        let rows = r0.iter().zip(r1).zip(r2.iter().zip(r3));
        for (out, ((a, b), (c, d))) in out.iter_mut().zip(rows) {
            *out += (u[0] * a + u[1] * b) + (u[2] * c + u[3] * d);
        }
    }
    for (row, u) in rest.zip(&u[done..]) {
        for (out, v) in out.iter_mut().zip(row) {
            *out += u * v;
        }
    }
}
