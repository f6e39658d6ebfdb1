//! The exact gradient of the Laplace likelihood, by the formulas of the fast engine's gradient: with
//! t_ig = weight_ig times the level's entry of H^-1 G_i', the leverage is h_i = sum_g sd_g t_ig + x_i' (H^-1 G_i')_x.

use super::super::family::{Family, Law};
use super::incidence::Incidence;
use super::state::State;

/// Gradient by kind of parameter.
#[derive(Clone, Debug, Default)]
pub(super) struct Gradient {
    pub beta: Vec<f64>,
    pub sd: Vec<f64>,
    pub ln_k: f64,
}

impl State {
    /// The gradient at the mode (predictor, derivatives, factor and sum of logarithms current).
    pub fn gradient(&mut self, incidence: &Incidence, law: Law, out: &mut Gradient) {
        out.beta.clear();
        out.beta.resize(self.beta.len(), 0.0);
        out.sd.clear();
        out.sd.resize(self.sd.len(), 0.0);
        self.inverse
            .selected_inverse(&incidence.pattern, &self.system);
        self.leverages(incidence, out);
        let rows = self.mean.iter().zip(&self.w).zip(&self.inv);
        for ((c, h), ((&m, &w), &inv)) in self.c.iter_mut().zip(&self.h).zip(rows) {
            *c = 0.5 * h * law.w1(m, w, inv);
        }
        self.rhs.fill(0.0);
        incidence.gather(&self.c, &self.sd, true, &mut self.rhs);
        self.system.solve(&incidence.pattern, &mut self.rhs);
        self.rho.fill(0.0);
        let r = &self.rhs;
        incidence.spread(r, &self.sd, &r[incidence.levels..], &mut self.rho);
        out.ln_k = 0.0;
        if law.family == Family::NegativeBinomial {
            let rows = self.y.iter().zip(&self.mean).zip(&self.inv);
            let rows = rows.zip(self.h.iter().zip(&self.rho));
            for (((&y, &m), &inv), (h, rho)) in rows {
                let g = law.in_log_k(y, m, inv);
                out.ln_k += g.rest - 0.5 * h * g.w - rho * g.d1;
            }
            out.ln_k += law.k * (self.rising.digamma(law.k) - self.ln_sum);
        }
        let rows = self.d1.iter().zip(&self.w).zip(&self.rho);
        for (c, ((d1, w), rho)) in self.c.iter_mut().zip(rows) {
            *c = d1 - *c + w * rho;
        }
        let groups = incidence.groups;
        for (i, (e, d1)) in self.c.iter().zip(&self.d1).enumerate() {
            let own = i * groups..(i + 1) * groups;
            let levels = incidence.place[own.clone()]
                .iter()
                .zip(&incidence.weight[own]);
            for (out, (&a, weight)) in out.sd.iter_mut().zip(levels) {
                *out += weight * (self.z[a] * e - r[a] * d1);
            }
            for (out, x) in out.beta.iter_mut().zip(incidence.x(i)) {
                *out += x * e;
            }
        }
    }

    /// Fills `h`, and starts the gradient of the standard deviations with -sum w_i t_ig.
    fn leverages(&mut self, incidence: &Incidence, out: &mut Gradient) {
        let groups = incidence.groups;
        let pairs = groups * (groups + 1) / 2;
        let inverse = &self.inverse.values;
        let (mut scaled, mut t) = (vec![0.0; groups], vec![0.0; groups]);
        let (corner, width) = incidence.corner;
        for (i, h) in self.h.iter_mut().enumerate() {
            let own = i * groups..(i + 1) * groups;
            let weight = &incidence.weight[own.clone()];
            for ((s, sd), weight) in scaled.iter_mut().zip(&self.sd).zip(weight) {
                *s = sd * weight;
            }
            t.fill(0.0);
            let mut slots = incidence.slots[i * pairs..(i + 1) * pairs].iter();
            for g in 0..groups {
                for (o, &slot) in (0..g).zip(slots.by_ref()) {
                    t[g] += inverse[slot] * scaled[o];
                    t[o] += inverse[slot] * scaled[g];
                }
                t[g] += slots.next().map_or(0.0, |&slot| inverse[slot]) * scaled[g];
            }
            let mut fixed = 0.0;
            if incidence.inner {
                let x = incidence.x(i);
                let places = incidence.fixed[own].iter();
                for ((&(first, stride), t), s) in places.zip(&mut t).zip(&scaled) {
                    let met = x.iter().enumerate();
                    let dot: f64 = met.map(|(j, x)| inverse[first + j * stride] * x).sum();
                    *t += dot;
                    fixed += s * dot;
                }
                for (j, x_j) in x.iter().enumerate() {
                    let row = &inverse[corner + j * width..];
                    let dot: f64 = row.iter().zip(&x[..j]).map(|(v, x)| v * x).sum();
                    fixed += x_j * (2.0 * dot + row[j] * x_j);
                }
            }
            *h = fixed + scaled.iter().zip(&t).map(|(s, t)| s * t).sum::<f64>();
            for ((out, t), weight) in out.sd.iter_mut().zip(&t).zip(weight) {
                *out -= self.w[i] * weight * t;
            }
        }
    }
}
