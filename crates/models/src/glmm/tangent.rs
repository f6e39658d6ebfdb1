//! How the mode moves with the outer parameters: at the mode the penalised likelihood is level in z, so that
//! dz = H^-1 (change of its slope). One solve with the factor at hand, and the mode at a near place is known to
//! second order.

use super::factor::Rows;
use super::family::{Family, Law};
use super::layout::Layout;
use super::state::{Effects, Scales, State};

/// A move of the outer parameters.
pub(super) struct Move<'a> {
    /// Fixed effects; none under restricted likelihood, where they are part of z.
    pub beta: &'a [f64],
    pub scales: Scales,
    pub ln_k: f64,
}

impl State {
    /// The move of the mode that belongs to `by`, into `out` (predictor, derivatives and factor current).
    pub(super) fn tangent(&mut self, layout: &Layout, law: Law, by: &Move, out: &mut Effects) {
        let ny = self.years;
        let kinds = &layout.kinds;
        let z = &self.z;
        for (k, base) in self.by_kind.iter_mut().enumerate() {
            let pairs = kinds.x(k).iter().zip(by.beta);
            let fixed: f64 = pairs.map(|(x, b)| x * b).sum();
            let year = if ny > 0 { z.dense[kinds.year[k]] } else { 0.0 };
            *base = fixed + by.scales.year * year;
        }
        for (s, z_site) in z.site.iter().enumerate() {
            let rows = layout.rows_of(s);
            let base = by.scales.site * z_site;
            kinds.spread(&self.by_kind, base, rows, &mut self.c);
        }
        if self.has_cells {
            for (cell, z) in layout.cells.iter().zip(&z.cell) {
                for c in &mut self.c[cell.start..cell.end] {
                    *c += by.scales.cell * z;
                }
            }
        }
        // The change of each row's slope: by its predictor, and by k.
        for (c, w) in self.c.iter_mut().zip(&self.w) {
            *c *= -w;
        }
        if law.family == Family::NegativeBinomial && by.ln_k != 0.0 {
            let rows = self.y.iter().zip(&self.mean).zip(&self.inv);
            for (c, ((&y, &m), &inv)) in self.c.iter_mut().zip(rows) {
                *c += by.ln_k * law.in_log_k(y, m, inv).d1;
            }
        }
        out.clear();
        self.gather(layout, Rows::C, self.scales, self.inner_fixed, out);
        if by.scales != Scales::default() {
            self.gather(layout, Rows::D1, by.scales, false, out);
        }
        self.solve(layout, out);
    }

    /// About how curved the likelihood is expected to be in each standard deviation (site, year, site-year): a
    /// unit whose rows weigh A in all adds 2 s^2 A^2/(1 + s^2 A)^2, were it alone.
    pub(super) fn expected_curvature(&self, layout: &Layout) -> [f64; 3] {
        let curve = |s: f64, sums: &[f64]| -> f64 {
            let one = |a: &f64| 2.0 * s * s * a * a / ((1.0 + s * s * a) * (1.0 + s * s * a));
            sums.iter().map(one).sum()
        };
        let sites: Vec<f64> = (0..layout.sites.len())
            .map(|s| self.w[layout.rows_of(s)].iter().sum())
            .collect();
        let mut years = vec![0.0; layout.years];
        for (w, &k) in self.w.iter().zip(&layout.kinds.of) {
            years[layout.kinds.year[k]] += w;
        }
        let cells: &[f64] = if self.has_cells { &self.cell_w } else { &[] };
        [
            curve(self.scales.site, &sites),
            curve(self.scales.year, &years),
            curve(self.scales.cell, cells),
        ]
    }
}
