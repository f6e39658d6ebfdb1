//! The general engine as the shared search and its standard errors see it.

use super::super::family::{Family, Law};
use super::super::fit::{MISSING, ln_start};
use super::super::search::{HALF_LN_2PI, Search, Shape, Trail};
use super::curvature::Move;
use super::design::GeneralStart;
use super::fit::GeneralFitter;
use numerics::maths::exp;
use numerics::optimise::Bfgs;

impl GeneralFitter {
    pub(super) fn law(&self) -> Law {
        Law {
            family: self.family,
            k: self.state.k,
        }
    }

    /// The outer parameters `theta` by name.
    fn named<'a>(&self, theta: &'a [f64]) -> Move<'a> {
        let (beta, rest) = theta.split_at(self.state.beta.len());
        let (sd, ln_k) = rest.split_at(self.incidence.groups);
        Move {
            beta,
            sd,
            ln_k: ln_k.first().copied().unwrap_or(0.0),
        }
    }
}

impl Search for GeneralFitter {
    /// With standard deviations of the predictor.
    type Start = GeneralStart;
    type Mode = Vec<f64>;
    type Sds = Vec<f64>;

    fn shape(&self) -> Shape {
        Shape {
            columns: self.incidence.design.columns,
            inner_fixed: self.incidence.inner,
            sds: self.incidence.groups,
            dispersion: self.family == Family::NegativeBinomial,
        }
    }

    fn optimiser(&mut self) -> &mut Bfgs {
        &mut self.optimiser
    }

    fn trail(&mut self) -> &mut Trail {
        &mut self.trail
    }

    fn counts(&self) -> &[f64] {
        &self.state.y
    }

    fn begin(&mut self, start: &GeneralStart, _nearer: bool) -> Vec<f64> {
        self.trail.at = None;
        self.state.z.fill(0.0);
        let mut theta = Vec::new();
        if self.incidence.inner {
            self.state.z[self.incidence.levels..].copy_from_slice(&start.beta);
        } else {
            theta.extend_from_slice(&start.beta);
        }
        theta.extend_from_slice(&start.sd);
        if self.family == Family::NegativeBinomial {
            theta.push(ln_start(start.k));
        }
        theta
    }

    fn plain(&self) -> GeneralStart {
        GeneralStart::plain(&self.incidence.design, &self.state.y, self.family)
    }

    fn unpack(&mut self, theta: &[f64]) {
        let at = self.named(theta);
        self.state.beta.copy_from_slice(at.beta);
        self.state.sd.copy_from_slice(at.sd);
        self.state.k = exp(at.ln_k);
    }

    fn expected_curvature(&self) -> Vec<f64> {
        self.state.expected_curvature(&self.incidence)
    }

    /// Per unit of each grouping's weight.
    fn by_term(&self, values: &[f64], _absent: f64) -> Vec<f64> {
        let scale = &self.incidence.scale;
        values.iter().zip(scale).map(|(v, s)| v / s).collect()
    }

    fn find_mode(&mut self, last: f64) -> bool {
        let law = self.law();
        self.state.find_mode(&self.incidence, law, last)
    }

    fn stay(&mut self) -> bool {
        let law = self.law();
        self.state.predict(&self.incidence, law, false);
        self.state.factor(&self.incidence)
    }

    fn clear_mode(&mut self, fixed: bool) {
        let (levels, beta) = self.state.z.split_at_mut(self.incidence.levels);
        levels.fill(0.0);
        if fixed || !beta.iter().all(|b| b.is_finite()) {
            beta.fill(0.0);
        }
    }

    fn log_likelihood(&mut self) -> f64 {
        let law = self.law();
        let ln_det =
            self.state.system.ln_det(&self.incidence.pattern) + self.incidence.prior_ln_det;
        let mut value =
            self.constant + self.state.penalised(&self.incidence, law, false) - 0.5 * ln_det;
        if law.family == Family::NegativeBinomial {
            value += self.state.rising.ln(law.k);
        }
        if self.incidence.inner {
            value += HALF_LN_2PI * self.incidence.design.columns as f64;
        }
        value
    }

    fn differentiate(&mut self) {
        let law = self.law();
        self.state
            .gradient(&self.incidence, law, &mut self.gradient);
    }

    fn log_sum(&mut self) {
        let law = self.law();
        if law.family == Family::NegativeBinomial {
            self.state.log_sums(law);
        }
    }

    fn put_gradient(&self, gradient: &mut [f64]) {
        let g = &self.gradient;
        let parts = g.beta.iter().chain(&g.sd).chain(std::iter::once(&g.ln_k));
        for (out, v) in gradient.iter_mut().zip(parts) {
            *out = -v;
        }
    }

    fn heaviest(&self) -> f64 {
        self.state.w.iter().fold(0.0, |m, w| m.max(*w))
    }

    fn mode(&self) -> Vec<f64> {
        self.state.z.clone()
    }

    fn scratch(&mut self) -> &mut Vec<f64> {
        &mut self.state.z_try
    }

    fn step_mode(&mut self, step: &Vec<f64>, far: f64) {
        if step.iter().all(|s| s.abs() < far) {
            let z = self.state.z.iter_mut();
            z.zip(step).for_each(|(z, s)| *z += s);
        }
    }

    fn put_mode(&mut self, mode: &Vec<f64>, step: f64, along: &Vec<f64>) {
        self.trail.at = None;
        for (z, (m, a)) in self.state.z.iter_mut().zip(mode.iter().zip(along)) {
            *z = m + step * a;
        }
    }

    fn mode_along(&mut self, by: &[f64], out: &mut Vec<f64>) {
        let law = self.law();
        let by = self.named(by);
        self.state.tangent(&self.incidence, law, &by, out);
    }

    fn fixed<'a>(&self, mode: &'a Vec<f64>) -> &'a [f64] {
        &mode[self.incidence.levels..]
    }

    fn own_covariance(&self) -> Vec<f64> {
        let (first, stride) = self.incidence.corner;
        let p = self.state.z.len() - self.incidence.levels;
        let at = |i: usize, j: usize| first + i.max(j) * stride + i.min(j);
        let pairs = (0..p).flat_map(|i| (0..p).map(move |j| (i, j)));
        pairs
            .map(|(i, j)| self.state.inverse.values[at(i, j)])
            .collect()
    }

    fn covariates(&self) -> impl Iterator<Item = &[f64]> {
        let offsets = self.incidence.design.offset.iter().enumerate();
        let there = offsets.filter(|(_, o)| **o > MISSING);
        there.map(|(i, _)| self.incidence.x(i))
    }
}
