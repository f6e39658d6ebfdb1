//! The likelihood and its gradient at given outer parameters.

use super::family::{Family, Law};
use super::fit::Fitter;
use super::state::Scales;
use super::tangent::Move;
use numerics::maths::exp;

impl Fitter {
    pub(super) fn law(&self) -> Law {
        Law {
            family: self.model.family,
            k: self.state.k,
        }
    }

    /// The outer parameters `theta` by name.
    pub(super) fn named<'a>(&self, theta: &'a [f64]) -> Move<'a> {
        let (beta, rest) = theta.split_at(self.outer_beta());
        let mut rest = rest.iter().copied();
        let mut take = |on: bool| if on { rest.next().unwrap_or(0.0) } else { 0.0 };
        let t = self.model.terms;
        let scales = Scales {
            site: take(t.site),
            year: take(t.year),
            cell: take(t.site_year),
        };
        let ln_k = take(self.model.family == Family::NegativeBinomial);
        Move { beta, scales, ln_k }
    }

    pub(super) fn unpack(&mut self, theta: &[f64]) {
        let at = self.named(theta);
        self.state.beta[..at.beta.len()].copy_from_slice(at.beta);
        self.state.scales = at.scales;
        self.state.k = exp(at.ln_k);
    }

    /// Minus the log likelihood at `theta` and its gradient; infinite where the mode cannot be found.
    pub(super) fn evaluate(&mut self, theta: &[f64], gradient: &mut [f64]) -> f64 {
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
        if !self.state.find_mode(&self.layout, law) {
            // From the beginning once more before giving up: a far step can leave z where exp overflows.
            let keep = self.state.z.dense[self.state.years..].to_vec();
            self.state.z.clear();
            let finite = keep.iter().all(|b| b.is_finite());
            if finite {
                self.state.z.dense[self.state.years..].copy_from_slice(&keep);
            }
            if !self.state.find_mode(&self.layout, law) {
                self.state.z.clear();
                return f64::INFINITY;
            }
        }
        let mut value = self.constant + self.state.penalised(&self.layout, law, false)
            - 0.5 * self.state.ln_det();
        if law.family == Family::NegativeBinomial {
            value += self.state.rising.ln(law.k);
        }
        if self.state.inner_fixed {
            const HALF_LN_2PI: f64 = 0.918_938_533_204_672_7;
            value += HALF_LN_2PI * self.layout.columns as f64;
        }
        self.state.gradient(&self.layout, law, &mut self.gradient);
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
        self.state.tangent(&self.layout, law, &by, &mut step);
        if step.largest() < FAR {
            self.state.z.add(1.0, &step);
        }
        self.state.z_try = step;
    }

    /// The gradient of minus the log likelihood at the state's place.
    pub(super) fn put_gradient(&self, gradient: &mut [f64]) {
        let p = self.outer_beta();
        let g = &self.gradient;
        for (out, b) in gradient.iter_mut().zip(&g.beta[..p]) {
            *out = -b;
        }
        let t = self.model.terms;
        let nb = self.model.family == Family::NegativeBinomial;
        let parts = [
            (t.site, g.site),
            (t.year, g.year),
            (t.site_year, g.cell),
            (nb, g.ln_k),
        ];
        let parts = parts.iter().filter(|part| part.0);
        for (out, (_, v)) in gradient[p..].iter_mut().zip(parts) {
            *out = -v;
        }
    }
}
