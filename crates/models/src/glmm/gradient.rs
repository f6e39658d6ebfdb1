//! The exact gradient of the Laplace likelihood.
//!
//! With h_i = G_i H^-1 G_i', c_i = h_i w'_i/2, r = H^-1 G'c and rho = G r (G includes the fixed effects under
//! restricted likelihood):
//!   dL/db_j     = sum x_ij (d1_i - c_i + w_i rho_i)
//!   dL/dscale   = sum q_i (d1_i - c_i + w_i rho_i) - w_i t_i - r_unit(i) d1_i,  q_i the unit's spherical effect,
//!                 t_i that unit's entry of H^-1 G_i'
//!   dL/dlog k   = sum (dlogf/dlog k - h_i dw_i/dlog k /2 - rho_i dd1_i/dlog k)

use super::factor::Rows;
use super::family::{Family, Law};
use super::layout::Layout;
use super::state::State;
use numerics::maths::slices;

/// Gradient by kind of parameter.
#[derive(Clone, Debug, Default)]
pub(super) struct Gradient {
    pub beta: Vec<f64>,
    pub site: f64,
    pub year: f64,
    pub cell: f64,
    pub ln_k: f64,
}

impl State {
    /// The gradient at the mode (predictor, derivatives, factor and sum of logarithms current).
    pub(super) fn gradient(&mut self, layout: &Layout, law: Law, out: &mut Gradient) {
        (out.site, out.year, out.cell, out.ln_k) = (0.0, 0.0, 0.0, 0.0);
        out.beta.clear();
        out.beta.resize(layout.columns, 0.0);
        self.leverages(layout, out);
        let rows = self.mean.iter().zip(&self.w).zip(&self.inv);
        for ((c, h), ((&m, &w), &inv)) in self.c.iter_mut().zip(&self.h).zip(rows) {
            *c = 0.5 * h * law.w1(m, w, inv);
        }
        let mut r = std::mem::take(&mut self.rhs);
        r.clear();
        self.gather(layout, Rows::C, self.scales, self.inner_fixed, &mut r);
        self.solve(layout, &mut r);
        self.rhs = r;
        self.through_the_mode(layout, law, out);
        if law.family == Family::NegativeBinomial {
            out.ln_k += law.k * (self.rising.digamma(law.k) - self.ln_sum);
        }
    }

    /// The part that needs r (in `rhs`) and rho: what a move of the mode changes. Leaves e in `c`.
    fn through_the_mode(&mut self, layout: &Layout, law: Law, out: &mut Gradient) {
        let ny = self.years;
        let kinds = &layout.kinds;
        let r = &self.rhs;
        // rho of each row, at first the part of its kind, into `rho`
        for (k, base) in self.by_kind.iter_mut().enumerate() {
            let fixed: f64 = if self.inner_fixed {
                let pairs = kinds.x(k).iter().zip(&r.dense[ny..]);
                pairs.map(|(x, r)| x * r).sum()
            } else {
                0.0
            };
            let year = if ny > 0 { r.dense[kinds.year[k]] } else { 0.0 };
            *base = fixed + self.scales.year * year;
        }
        for (s, r_site) in r.site.iter().enumerate() {
            let rows = layout.rows_of(s);
            let base = self.scales.site * r_site;
            kinds.spread(&self.by_kind, base, rows, &mut self.rho);
        }
        if self.has_cells {
            for (cell, r) in layout.cells.iter().zip(&r.cell) {
                for rho in &mut self.rho[cell.start..cell.end] {
                    *rho += self.scales.cell * r;
                }
            }
        }
        if law.family == Family::NegativeBinomial {
            let rows = self.y.iter().zip(&self.mean).zip(&self.inv);
            let rows = rows.zip(self.h.iter().zip(&self.rho));
            for (term, (((&y, &m), &inv), (h, rho))) in self.terms.iter_mut().zip(rows) {
                let g = law.in_log_k(y, m, inv);
                *term = g.rest - 0.5 * h * g.w - rho * g.d1;
            }
            out.ln_k += slices::sum(&self.terms);
        }
        let rows = self.d1.iter().zip(&self.w).zip(&self.rho);
        for (c, ((d1, w), rho)) in self.c.iter_mut().zip(rows) {
            *c = d1 - *c + w * rho;
        }
        let z = &self.z;
        self.by_kind.fill(0.0);
        self.by_kind_d1.fill(0.0);
        for (s, (z, r)) in z.site.iter().zip(&r.site).enumerate() {
            let rows = layout.rows_of(s);
            let e = kinds.collect(&self.c, rows.clone(), &mut self.by_kind);
            let d1 = kinds.collect(&self.d1, rows, &mut self.by_kind_d1);
            out.site += z * e - r * d1;
        }
        if self.has_cells {
            for (cell, (z, r)) in layout.cells.iter().zip(z.cell.iter().zip(&r.cell)) {
                for i in cell.start..cell.end {
                    out.cell += z * self.c[i] - r * self.d1[i];
                }
            }
        }
        for (k, (e, d1)) in self.by_kind.iter().zip(&self.by_kind_d1).enumerate() {
            if ny > 0 {
                let year = kinds.year[k];
                out.year += z.dense[year] * e - r.dense[year] * d1;
            }
            for (b, x) in out.beta.iter_mut().zip(kinds.x(k)) {
                *b += x * e;
            }
        }
    }
}
