//! The mode of the integrated effects by Newton's method, as in the fast engine.

use super::super::family::Law;
use super::super::mode::STEPS;
use super::incidence::Incidence;
use super::prior::take_off;
use super::state::State;

impl State {
    /// Moves `z` to the mode, the last step being one that gains less than `last`, and leaves predictor, derivatives and
    /// factor of H current there. False when H cannot be factored or the steps run out.
    pub fn find_mode(&mut self, incidence: &Incidence, law: Law, last: f64) -> bool {
        self.predict(incidence, law, false);
        for _ in 0..STEPS {
            if !self.factor(incidence) {
                return false;
            }
            let mut step = std::mem::take(&mut self.rhs);
            step.fill(0.0);
            incidence.gather(&self.d1, &self.sd, true, &mut step);
            take_off(&incidence.prior, &self.z, &mut step);
            // gradient' H^-1 gradient is twice the gain the quadratic model promises
            self.z_try.copy_from_slice(&step);
            self.system.solve(&incidence.pattern, &mut step);
            let gain: f64 = self.z_try.iter().zip(&step).map(|(g, s)| g * s).sum();
            let moved = if !gain.is_finite() {
                false
            } else if gain < 0.05 {
                self.z.iter_mut().zip(&step).for_each(|(z, s)| *z += s);
                self.predict(incidence, law, false);
                true
            } else {
                self.damped(incidence, law, &step, gain)
            };
            self.rhs = step;
            if !moved {
                return false;
            }
            if gain < last {
                return self.factor(incidence);
            }
        }
        false
    }

    /// A step that must not lower the penalised likelihood: halved until it does not.
    fn damped(&mut self, incidence: &Incidence, law: Law, step: &[f64], gain: f64) -> bool {
        let before = self.penalised(incidence, law, false);
        let mut scale = 1.0;
        for _ in 0..40 {
            let from = self.z.iter().zip(step);
            for (t, (z, s)) in self.z_try.iter_mut().zip(from) {
                *t = z + scale * s;
            }
            self.predict(incidence, law, true);
            let after = self.penalised(incidence, law, true);
            if after.is_finite() && after >= before + 1e-4 * scale * gain - 1e-9 * before.abs() {
                std::mem::swap(&mut self.z, &mut self.z_try);
                return true;
            }
            scale *= 0.5;
        }
        false
    }
}
