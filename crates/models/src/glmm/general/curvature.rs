//! How the mode moves with the outer parameters, and how curved the likelihood is expected to be.

use super::super::family::{Family, Law};
use super::incidence::Incidence;
use super::state::State;

/// A move of the outer parameters.
pub(super) struct Move<'a> {
    /// Fixed effects; none under restricted likelihood, where they are part of z.
    pub beta: &'a [f64],
    pub sd: &'a [f64],
    pub ln_k: f64,
}

impl State {
    /// The move of the mode that belongs to `by`, into `out`: at the mode the penalised likelihood is level in z, so that
    /// dz = H^-1 (change of its slope) (predictor, derivatives and factor current).
    pub fn tangent(&mut self, incidence: &Incidence, law: Law, by: &Move, out: &mut [f64]) {
        self.c.fill(0.0);
        incidence.spread(&self.z, by.sd, by.beta, &mut self.c);
        for (c, w) in self.c.iter_mut().zip(&self.w) {
            *c *= -w;
        }
        if law.family == Family::NegativeBinomial && by.ln_k != 0.0 {
            let rows = self.y.iter().zip(&self.mean).zip(&self.inv);
            for (c, ((&y, &m), &inv)) in self.c.iter_mut().zip(rows) {
                *c += by.ln_k * law.in_log_k(y, m, inv).d1;
            }
        }
        out.fill(0.0);
        incidence.gather(&self.c, &self.sd, true, out);
        incidence.gather(&self.d1, by.sd, false, out);
        self.system.solve(&incidence.pattern, out);
    }

    /// About how curved the likelihood is expected to be in each standard deviation: a level whose rows weigh A in all
    /// adds 2 s^2 A^2/(1 + s^2 A)^2, were it alone.
    pub fn expected_curvature(&self, incidence: &Incidence) -> Vec<f64> {
        let mut sums = vec![0.0; incidence.levels];
        let groups = incidence.groups;
        for (i, w) in self.w.iter().enumerate() {
            for g in i * groups..(i + 1) * groups {
                let weight = incidence.weight[g];
                sums[incidence.place[g]] += w * weight * weight;
            }
        }
        let mut out = vec![0.0; groups];
        for (a, &g) in sums.iter().zip(&incidence.group) {
            let s2 = self.sd[g] * self.sd[g];
            out[g] += 2.0 * s2 * a * a / ((1.0 + s2 * a) * (1.0 + s2 * a));
        }
        out
    }
}
