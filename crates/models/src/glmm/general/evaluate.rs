//! The likelihood and its gradient at given outer parameters.

use super::super::family::{Family, Law};
use super::curvature::Move;
use super::fit::GeneralFitter;
use numerics::maths::exp;

impl GeneralFitter {
    pub(super) fn law(&self) -> Law {
        Law {
            family: self.family,
            k: self.state.k,
        }
    }

    /// The outer parameters `theta` by name.
    pub(super) fn named<'a>(&self, theta: &'a [f64]) -> Move<'a> {
        let (beta, rest) = theta.split_at(self.state.beta.len());
        let (sd, ln_k) = rest.split_at(self.incidence.groups);
        Move {
            beta,
            sd,
            ln_k: ln_k.first().copied().unwrap_or(0.0),
        }
    }

    pub(super) fn unpack(&mut self, theta: &[f64]) {
        let at = self.named(theta);
        self.state.beta.copy_from_slice(at.beta);
        self.state.sd.copy_from_slice(at.sd);
        self.state.k = exp(at.ln_k);
    }

    /// Minus the log likelihood at `theta` and its gradient; infinite where the mode cannot be found.
    pub(super) fn value_and_gradient(&mut self, theta: &[f64], gradient: &mut [f64]) -> f64 {
        let known = match &self.at {
            Some((at, value)) if at == theta => Some(*value),
            _ => None,
        };
        let value = known.unwrap_or_else(|| self.move_to(theta));
        self.put_gradient(gradient);
        value
    }

    /// Brings the state to `theta`.
    fn move_to(&mut self, theta: &[f64]) -> f64 {
        self.evaluations += 1;
        if let Some((mut moved, _)) = self.at.take() {
            for (m, t) in moved.iter_mut().zip(theta) {
                *m = t - *m;
            }
            self.follow(&moved);
        }
        self.unpack(theta);
        let law = self.law();
        if !self.state.find_mode(&self.incidence, law) {
            // From the beginning once more before giving up: a far step can leave z where exp overflows.
            let (levels, fixed) = self.state.z.split_at_mut(self.incidence.levels);
            levels.fill(0.0);
            if !fixed.iter().all(|b| b.is_finite()) {
                fixed.fill(0.0);
            }
            if !self.state.find_mode(&self.incidence, law) {
                self.state.z.fill(0.0);
                return f64::INFINITY;
            }
        }
        let mut value = self.constant + self.state.penalised(&self.incidence, law, false)
            - 0.5
                * (self.state.system.ln_det(&self.incidence.pattern) + self.incidence.prior_ln_det);
        if law.family == Family::NegativeBinomial {
            value += self.state.rising.ln(law.k);
        }
        if self.incidence.inner {
            const HALF_LN_2PI: f64 = 0.918_938_533_204_672_7;
            value += HALF_LN_2PI * self.incidence.design.columns as f64;
        }
        self.state
            .gradient(&self.incidence, law, &mut self.gradient);
        if !value.is_finite() {
            return f64::INFINITY;
        }
        self.at = Some((theta.to_vec(), -value));
        -value
    }

    /// Moves z along with the outer parameters; not where the move is so large that a straight line is no guide.
    fn follow(&mut self, moved: &[f64]) {
        const FAR: f64 = 2.0;
        let law = self.law();
        let by = self.named(moved);
        let mut step = std::mem::take(&mut self.state.z_try);
        self.state.tangent(&self.incidence, law, &by, &mut step);
        if step.iter().all(|s| s.abs() < FAR) {
            let z = self.state.z.iter_mut();
            z.zip(&step).for_each(|(z, s)| *z += s);
        }
        self.state.z_try = step;
    }

    /// The gradient of minus the log likelihood at the state's place.
    pub(super) fn put_gradient(&self, gradient: &mut [f64]) {
        let g = &self.gradient;
        let parts = g.beta.iter().chain(&g.sd).chain(std::iter::once(&g.ln_k));
        for (out, v) in gradient.iter_mut().zip(parts) {
            *out = -v;
        }
    }
}
