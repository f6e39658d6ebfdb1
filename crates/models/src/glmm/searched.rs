//! The fast engine as the shared search and its standard errors see it.

use super::family::{Family, Law};
use super::fit::Fitter;
use super::outcome::Sds;
use super::search::{HALF_LN_2PI, Search, Shape, Trail};
use super::start::Start;
use super::state::{Effects, Scales};
use super::tangent::Move;
use numerics::maths::exp;
use numerics::optimise::Bfgs;

impl Fitter {
    fn law(&self) -> Law {
        Law {
            family: self.model.family,
            k: self.state.k,
        }
    }

    /// The outer parameters `theta` by name.
    fn named<'a>(&self, theta: &'a [f64]) -> Move<'a> {
        let (beta, rest) = theta.split_at(self.shape().outer_beta());
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
}

impl Search for Fitter {
    type Start = Start;
    type Mode = Effects;
    type Sds = Sds;

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

    fn optimiser(&mut self) -> &mut Bfgs {
        &mut self.optimiser
    }

    fn trail(&mut self) -> &mut Trail {
        &mut self.trail
    }

    fn counts(&self) -> &[f64] {
        &self.state.y
    }

    fn begin(&mut self, start: &Start, nearer: bool) -> Vec<f64> {
        self.trail.at = None;
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
        let family = self.model.family;
        let start = self
            .state
            .guess(&self.layout, family, start, scales, nearer);
        self.pack(&start)
    }

    fn plain(&self) -> Start {
        Start::plain(&self.layout, &self.state.y, self.model.family)
    }

    fn unpack(&mut self, theta: &[f64]) {
        let at = self.named(theta);
        self.state.beta[..at.beta.len()].copy_from_slice(at.beta);
        self.state.scales = at.scales;
        self.state.k = exp(at.ln_k);
    }

    fn expected_curvature(&self) -> Vec<f64> {
        let expected = self.state.expected_curvature(&self.layout);
        let t = self.model.terms;
        let on = [t.site, t.year, t.site_year];
        let kept = expected.iter().zip(on).filter(|(_, on)| *on);
        kept.map(|(e, _)| *e).collect()
    }

    fn by_term(&self, values: &[f64], absent: f64) -> Sds {
        let t = self.model.terms;
        let mut next = values.iter().copied();
        let mut take = |on: bool| {
            let value = if on { next.next() } else { None };
            value.unwrap_or(absent)
        };
        Sds {
            site: take(t.site),
            year: take(t.year),
            site_year: take(t.site_year),
        }
    }

    fn find_mode(&mut self, last: f64) -> bool {
        let law = self.law();
        self.state.find_mode(&self.layout, law, last)
    }

    fn stay(&mut self) -> bool {
        let law = self.law();
        self.state.predict(&self.layout, false);
        self.state.derive(&self.layout, law);
        self.state.factor(&self.layout)
    }

    fn clear_mode(&mut self, fixed: bool) {
        let z = &mut self.state.z;
        let keep = z.dense.split_off(self.state.years);
        z.clear();
        let kept = !fixed && keep.iter().all(|b| b.is_finite());
        z.dense
            .extend(keep.iter().map(|b| if kept { *b } else { 0.0 }));
    }

    fn log_likelihood(&mut self) -> f64 {
        let law = self.law();
        let mut value = self.constant + self.state.penalised(&self.layout, law, false)
            - 0.5 * self.state.ln_det();
        if law.family == Family::NegativeBinomial {
            value += self.state.rising.ln(law.k);
        }
        if self.state.inner_fixed {
            value += HALF_LN_2PI * self.layout.columns as f64;
        }
        value
    }

    fn differentiate(&mut self) {
        let law = self.law();
        self.state.gradient(&self.layout, law, &mut self.gradient);
    }

    fn log_sum(&mut self) {
        let law = self.law();
        if law.family == Family::NegativeBinomial {
            self.state.log_sum(law);
        }
    }

    fn put_gradient(&self, gradient: &mut [f64]) {
        let p = self.shape().outer_beta();
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

    fn heaviest(&self) -> f64 {
        self.state.w.iter().fold(0.0, |m, w| m.max(*w))
    }

    fn mode(&self) -> Effects {
        self.state.z.clone()
    }

    fn scratch(&mut self) -> &mut Effects {
        &mut self.state.z_try
    }

    fn step_mode(&mut self, step: &Effects, far: f64) {
        if step.largest() < far {
            self.state.z.add(1.0, step);
        }
    }

    fn put_mode(&mut self, mode: &Effects, step: f64, along: &Effects) {
        self.trail.at = None;
        self.state.z.copy_from(mode);
        self.state.z.add(step, along);
    }

    fn mode_along(&mut self, by: &[f64], out: &mut Effects) {
        let law = self.law();
        let by = self.named(by);
        self.state.tangent(&self.layout, law, &by, out);
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
