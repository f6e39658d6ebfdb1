//! The general engine as the shared search and its standard errors see it.

use super::super::family::Family;
use super::super::fit::{K_RANGE, MISSING};
use super::super::search::{Search, Shape};
use super::design::GeneralStart;
use super::fit::GeneralFitter;
use numerics::maths::ln;
use numerics::optimise::Bfgs;

impl Search for GeneralFitter {
    /// With standard deviations of the predictor.
    type Start = GeneralStart;
    type Mode = Vec<f64>;

    fn shape(&self) -> Shape {
        Shape {
            columns: self.incidence.design.columns,
            inner_fixed: self.incidence.inner,
            sds: self.incidence.groups,
            dispersion: self.family == Family::NegativeBinomial,
        }
    }

    fn optimiser(&self) -> &Bfgs {
        &self.optimiser
    }

    fn begin(&mut self, start: &GeneralStart) -> Vec<f64> {
        self.at = None;
        self.state.z.fill(0.0);
        let mut theta = Vec::new();
        if self.incidence.inner {
            self.state.z[self.incidence.levels..].copy_from_slice(&start.beta);
        } else {
            theta.extend_from_slice(&start.beta);
        }
        theta.extend_from_slice(&start.sd);
        if self.family == Family::NegativeBinomial {
            theta.push(ln(start.k.clamp(K_RANGE.0, K_RANGE.1)));
        }
        theta
    }

    fn plain(&self) -> GeneralStart {
        GeneralStart::plain(&self.incidence.design, &self.state.y, self.family)
    }

    fn evaluate(&mut self, theta: &[f64], gradient: &mut [f64]) -> f64 {
        self.value_and_gradient(theta, gradient)
    }

    fn expected_curvature(&self) -> Vec<f64> {
        self.state.expected_curvature(&self.incidence)
    }

    fn heaviest(&self) -> f64 {
        self.state.w.iter().fold(0.0, |m, w| m.max(*w))
    }

    fn mode(&self) -> Vec<f64> {
        self.state.z.clone()
    }

    fn put_mode(&mut self, mode: &Vec<f64>, step: f64, along: &Vec<f64>) {
        self.at = None;
        for (z, (m, a)) in self.state.z.iter_mut().zip(mode.iter().zip(along)) {
            *z = m + step * a;
        }
    }

    fn mode_along(&mut self, by: &[f64], out: &mut Vec<f64>) {
        let law = self.law();
        let by = self.named(by);
        self.state.tangent(&self.incidence, law, &by, out);
    }

    fn gradient_here(&mut self, theta: &[f64], search: bool, gradient: &mut [f64]) -> bool {
        self.evaluations += 1;
        self.unpack(theta);
        let law = self.law();
        if search {
            if !self.state.find_mode(&self.incidence, law) {
                return false;
            }
        } else {
            self.state.predict(&self.incidence, law, false);
            if !self.state.factor(&self.incidence) {
                return false;
            }
        }
        if law.family == Family::NegativeBinomial {
            self.state.log_sums(law);
        }
        self.state
            .gradient(&self.incidence, law, &mut self.gradient);
        self.put_gradient(gradient);
        true
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
