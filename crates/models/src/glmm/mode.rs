//! The mode of the integrated effects by Newton's method; the problem is concave for all three families.

use super::factor::Rows;
use super::family::Law;
use super::layout::Layout;
use super::state::State;

/// A step whose predicted gain is below this is the last one: Newton squares the remaining error.
pub(super) const LAST_STEP: f64 = 1e-9;
/// The same in searches that stop early themselves.
pub(super) const LAST_STEP_LOOSE: f64 = 1e-3;
pub(super) const STEPS: usize = 60;

impl State {
    /// Moves `z` to the mode, the last step being one that gains less than `last`, and leaves predictor, derivatives and
    /// factor of H current there. False when H cannot be factored or the steps run out.
    pub(super) fn find_mode(&mut self, layout: &Layout, law: Law, last: f64) -> bool {
        self.predict(layout, false);
        self.derive(layout, law);
        for _ in 0..STEPS {
            if !self.factor(layout) {
                return false;
            }
            let mut step = std::mem::take(&mut self.rhs);
            step.clear();
            self.gather(layout, Rows::D1, self.scales, self.inner_fixed, &mut step);
            step.cell
                .iter_mut()
                .zip(&self.z.cell)
                .for_each(|(g, z)| *g -= z);
            step.site
                .iter_mut()
                .zip(&self.z.site)
                .for_each(|(g, z)| *g -= z);
            for j in 0..self.years {
                step.dense[j] -= self.z.dense[j];
            }
            // gradient' H^-1 gradient is twice the gain the quadratic model promises
            self.z_try.copy_from(&step);
            self.solve(layout, &mut step);
            let gain = self.z_try.dot(&step);
            if !gain.is_finite() {
                self.rhs = step;
                return false;
            }
            let ok = if gain < 0.05 {
                self.z.add(1.0, &step);
                self.predict(layout, false);
                self.derive(layout, law);
                true
            } else {
                self.damped(layout, law, &step, gain)
            };
            self.rhs = step;
            if !ok {
                return false;
            }
            if gain < last {
                return self.factor(layout);
            }
        }
        false
    }

    /// A step that must not lower the penalised likelihood: halved until it does not.
    fn damped(
        &mut self,
        layout: &Layout,
        law: Law,
        step: &super::state::Effects,
        gain: f64,
    ) -> bool {
        let before = self.penalised(layout, law, false);
        let mut scale = 1.0;
        for _ in 0..40 {
            self.z_try.copy_from(&self.z);
            self.z_try.add(scale, step);
            self.predict(layout, true);
            self.derive(layout, law);
            let after = self.penalised(layout, law, true);
            if after.is_finite() && after >= before + 1e-4 * scale * gain - 1e-9 * before.abs() {
                std::mem::swap(&mut self.z, &mut self.z_try);
                return true;
            }
            scale *= 0.5;
        }
        false
    }
}
