//! The shape of the likelihood at the start of a search: the first guess at its inverse Hessian.

use super::fit::Fitter;
use numerics::linalg::cholesky;

impl Fitter {
    /// The inverse Hessian of minus the log likelihood at `theta`, made safe for a first step.
    pub(super) fn metric_at(&mut self, theta: &[f64]) -> Vec<f64> {
        let n = theta.len();
        let mut inverse = vec![0.0; n * n];
        if let Some(mut hessian) = self.hessian(theta) {
            // One set of counts may be much less curved in a standard deviation than counts are on the whole, and
            // the first step would then be far too long: the expectation is the least. A ridge keeps a flat
            // or slightly negative direction (an SD near 0) within a step of about 1.
            let first = self.outer_beta();
            let expected = self.state.expected_curvature(&self.layout);
            let t = self.model.terms;
            let on = [t.site, t.year, t.site_year];
            let mut least = vec![1.0_f64; n];
            let kept = expected.iter().zip(on).filter(|(_, on)| *on);
            for (l, (e, _)) in least[first..].iter_mut().zip(kept) {
                *l = l.max(*e);
            }
            for i in 0..n {
                hessian[i * n + i] = hessian[i * n + i].abs().max(least[i]);
            }
            if cholesky::factor(&mut hessian, n) {
                cholesky::inverse(&hessian, n, &mut inverse);
                return inverse;
            }
        }
        inverse.fill(0.0);
        for i in 0..n {
            inverse[i * n + i] = 0.01;
        }
        inverse
    }
}
