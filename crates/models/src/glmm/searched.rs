//! The fast engine as the shared search and its standard errors see it.

use super::family::Family;
use super::fit::Fitter;
use super::search::{Search, Shape};
use super::start::Start;
use super::state::{Effects, Scales};
use numerics::optimise::Bfgs;

impl Search for Fitter {
    type Start = Start;
    type Mode = Effects;

    fn shape(&self) -> Shape {
        let t = self.model.terms;
        Shape {
            columns: self.layout.columns,
            inner_fixed: self.state.inner_fixed,
            sds: [t.site, t.year, t.site_year]
                .iter()
                .filter(|on| **on)
                .count(),
            dispersion: self.model.family == Family::NegativeBinomial,
        }
    }

    fn optimiser(&self) -> &Bfgs {
        &self.optimiser
    }

    fn begin(&mut self, start: &Start) -> Vec<f64> {
        self.at = None;
        self.state.z.clear();
        if self.state.inner_fixed {
            let years = self.state.years;
            self.state.z.dense[years..].copy_from_slice(&start.beta);
        }
        let t = self.model.terms;
        let scales = Scales {
            site: if t.site { start.site_sd } else { 0.0 },
            year: if t.year { start.year_sd } else { 0.0 },
            cell: 0.0,
        };
        self.state
            .guess(&self.layout, self.model.family, start, scales);
        self.pack(start)
    }

    fn plain(&self) -> Start {
        Start::plain(&self.layout, &self.state.y, self.model.family)
    }

    fn evaluate(&mut self, theta: &[f64], gradient: &mut [f64]) -> f64 {
        Fitter::evaluate(self, theta, gradient)
    }

    fn expected_curvature(&self) -> Vec<f64> {
        let expected = self.state.expected_curvature(&self.layout);
        let t = self.model.terms;
        let on = [t.site, t.year, t.site_year];
        let kept = expected.iter().zip(on).filter(|(_, on)| *on);
        kept.map(|(e, _)| *e).collect()
    }

    fn heaviest(&self) -> f64 {
        self.state.w.iter().fold(0.0, |m, w| m.max(*w))
    }

    fn mode(&self) -> Effects {
        self.state.z.clone()
    }

    fn put_mode(&mut self, mode: &Effects, step: f64, along: &Effects) {
        self.at = None;
        self.state.z.copy_from(mode);
        self.state.z.add(step, along);
    }

    fn mode_along(&mut self, by: &[f64], out: &mut Effects) {
        let law = self.law();
        let by = self.named(by);
        self.state.tangent(&self.layout, law, &by, out);
    }

    fn gradient_here(&mut self, theta: &[f64], search: bool, gradient: &mut [f64]) -> bool {
        self.evaluations += 1;
        self.unpack(theta);
        let law = self.law();
        if search {
            if !self.state.find_mode(&self.layout, law) {
                return false;
            }
        } else {
            self.state.predict(&self.layout, false);
            self.state.derive(&self.layout, law);
            if !self.state.factor(&self.layout) {
                return false;
            }
        }
        if law.family == Family::NegativeBinomial {
            self.state.log_sums(law);
        }
        self.state.gradient(&self.layout, law, &mut self.gradient);
        self.put_gradient(gradient);
        true
    }

    fn fixed<'a>(&self, mode: &'a Effects) -> &'a [f64] {
        &mode.dense[self.state.years..]
    }

    fn own_covariance(&self) -> Vec<f64> {
        let (q, years) = (self.state.q, self.state.years);
        let rows = self.state.inverse.chunks_exact(q.max(1)).skip(years);
        rows.flat_map(|row| row[years..].iter().copied()).collect()
    }

    fn covariates(&self) -> impl Iterator<Item = &[f64]> {
        let kinds = &self.layout.kinds;
        (0..kinds.len()).map(|k| kinds.x(k))
    }
}
