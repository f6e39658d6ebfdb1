//! The exact gradient of the Laplace likelihood.
//!
//! With h_i = G_i H^-1 G_i', c_i = h_i w'_i/2, r = H^-1 G'c and rho = G r (G includes the fixed effects under
//! restricted likelihood):
//!   dL/db_j     = sum x_ij (d1_i - c_i + w_i rho_i)
//!   dL/dscale   = sum q_i (d1_i - c_i + w_i rho_i) - w_i t_i - r_unit(i) d1_i,  q_i the unit's spherical effect,
//!                 t_i that unit's entry of H^-1 G_i'
//!   dL/dlog k   = sum (dlogf/dlog k - h_i dw_i/dlog k /2 - rho_i dd1_i/dlog k)

use super::family::{Family, Law};
use super::layout::Layout;
use super::state::State;
use numerics::linalg::cholesky;

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
    /// The gradient at the mode (predictor, derivatives and factor current).
    pub(super) fn gradient(&mut self, layout: &Layout, law: Law, out: &mut Gradient) {
        let (p, q, ny) = (layout.columns, self.q, self.years);
        let (ss, sy, sc) = (self.scales.site, self.scales.year, self.scales.cell);
        let mut inverse = std::mem::take(&mut self.inverse);
        cholesky::inverse(&self.dense, q, &mut inverse);
        let px = if self.inner_fixed { p } else { 0 };
        // The dense indices a row touches: its year, then the fixed effects.
        let mut idx = vec![0usize; 1 + px];
        for j in 0..px {
            idx[1 + j] = ny + j;
        }
        let from = usize::from(ny == 0);
        let mut gamma = vec![0.0; 1 + px];
        let mut inv_gamma = vec![0.0; 1 + px];
        let mut qs = vec![0.0; q];
        *out = Gradient {
            beta: vec![0.0; p],
            ..Gradient::default()
        };
        for (s, &(first, last)) in layout.sites.iter().enumerate() {
            let u = &self.cross[s * q..(s + 1) * q];
            let mut uqu = 0.0;
            if ss != 0.0 {
                for j in 0..q {
                    let row = &inverse[j * q..(j + 1) * q];
                    qs[j] = row.iter().zip(u).map(|(a, b)| a * b).sum();
                    uqu += qs[j] * u[j];
                }
            }
            let ts = self.site_t[s];
            for ci in first..last {
                let cell = layout.cells[ci];
                let tc = self.cell_t[ci];
                let ba = ss / tc;
                let share = ba / ts;
                idx[0] = cell.year.min(q.saturating_sub(1));
                gamma[0] = sy / tc;
                for i in cell.start..cell.end {
                    // gamma: the dense part of G_i after the cell is eliminated
                    for j in 0..px {
                        let own = layout.x[i * p + j];
                        let shrink = if self.has_cells {
                            sc * sc * self.cell_wx[ci * p + j] / tc
                        } else {
                            0.0
                        };
                        gamma[1 + j] = own - shrink;
                    }
                    let (mut quad, mut qg) = (0.0, 0.0);
                    for a in from..=px {
                        let mut sum = 0.0;
                        for b in from..=px {
                            sum += inverse[idx[a] * q + idx[b]] * gamma[b];
                        }
                        inv_gamma[a] = sum;
                        quad += sum * gamma[a];
                        qg += qs[idx[a]] * gamma[a];
                    }
                    // delta = C^-1 (gamma - share u); its product with u, and its entries at the row's indices
                    let u_delta = qg - share * uqu;
                    let d_delta = quad - 2.0 * share * qg + share * share * uqu;
                    let h = if self.has_cells { sc * sc / tc } else { 0.0 } + ba * share + d_delta;
                    let t_site = (ba - u_delta) / ts;
                    let t_year = if ny > 0 {
                        inv_gamma[0] - share * qs[cell.year]
                    } else {
                        0.0
                    };
                    let w = self.w[i];
                    out.site -= w * t_site;
                    out.year -= w * t_year;
                    if self.has_cells {
                        let mut dot = ss * self.cell_w[ci] * t_site + sy * self.cell_w[ci] * t_year;
                        for j in 0..px {
                            let delta = inv_gamma[1 + j] - share * qs[ny + j];
                            dot += self.cell_wx[ci * p + j] * delta;
                        }
                        out.cell -= w * sc * (1.0 - dot) / tc;
                    }
                    let slopes = law.slopes(self.y[i], layout.trials[i], self.mean[i]);
                    self.h[i] = h;
                    self.c[i] = 0.5 * h * slopes.w1;
                }
            }
        }
        self.inverse = inverse;
        self.finish(layout, law, out);
    }

    /// The part that needs r and rho.
    fn finish(&mut self, layout: &Layout, law: Law, out: &mut Gradient) {
        let (p, ny) = (layout.columns, self.years);
        let mut r = std::mem::take(&mut self.rhs);
        self.gather(layout, &self.c, &mut r);
        self.solve(layout, &mut r);
        for (ci, cell) in layout.cells.iter().enumerate() {
            let (z_site, r_site) = (self.z.site[cell.site], r.site[cell.site]);
            let (z_year, r_year) = if ny > 0 {
                (self.z.dense[cell.year], r.dense[cell.year])
            } else {
                (0.0, 0.0)
            };
            let (z_cell, r_cell) = if self.has_cells {
                (self.z.cell[ci], r.cell[ci])
            } else {
                (0.0, 0.0)
            };
            let base =
                self.scales.site * r_site + self.scales.year * r_year + self.scales.cell * r_cell;
            for i in cell.start..cell.end {
                let x = &layout.x[i * p..(i + 1) * p];
                let mut rho = base;
                if self.inner_fixed {
                    rho += x
                        .iter()
                        .zip(&r.dense[ny..])
                        .map(|(x, r)| x * r)
                        .sum::<f64>();
                }
                let e = self.d1[i] - self.c[i] + self.w[i] * rho;
                out.site += z_site * e - r_site * self.d1[i];
                out.year += z_year * e - r_year * self.d1[i];
                out.cell += z_cell * e - r_cell * self.d1[i];
                for j in 0..p {
                    out.beta[j] += x[j] * e;
                }
                if law.family == Family::NegativeBinomial {
                    let g = law.in_log_k(self.y[i], self.mean[i]);
                    out.ln_k += g.rest - 0.5 * self.h[i] * g.w - rho * g.d1;
                }
            }
        }
        self.rhs = r;
        if law.family == Family::NegativeBinomial {
            out.ln_k += law.k * (self.rising.digamma(law.k) - self.ln_sum);
        }
    }
}
