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

#[cfg(test)]
mod tests {
    use super::super::covariance::hessian;
    use super::super::{Design, Family, Fitter, Layout, Likelihood, Model, Start, Terms};

    /// `rows` counts in each of 4 sites by 5 years; one row is left out if `ragged`; a covariate of the site, of
    /// the week, or of the year alone.
    fn fitter(rows: usize, ragged: bool, covariate: usize, model: Model) -> Fitter {
        let mut d = Design {
            columns: 2,
            ..Design::default()
        };
        let mut counts = Vec::new();
        for (s, y, r) in (0..20 * rows).map(|i| (i / rows / 5, i / rows % 5, i % rows)) {
            if ragged && (s, y, r) == (2, 3, 0) {
                continue;
            }
            d.site.push(s);
            d.year.push(y);
            d.offset.push(0.1 * r as f64);
            d.x.extend([1.0, [s * s, r * r, y][covariate] as f64 - 1.5]);
            d.trials.push(40.0);
            counts.push(((7 * s + 5 * y * y + 3 * r) % 11) as f64);
        }
        let mut fitter = Fitter::new(Layout::new(&d).unwrap(), model);
        let start = Start {
            beta: vec![1.2, 0.1],
            site_sd: 0.7,
            year_sd: 0.3,
            site_year_sd: 0.4,
            k: 1.7,
        };
        fitter.learn(&counts, &start).unwrap();
        fitter
    }

    fn all_models() -> impl Iterator<Item = Model> {
        let families = [Family::Poisson, Family::NegativeBinomial, Family::Binomial];
        families.into_iter().flat_map(|family| {
            (0..16).map(move |bits| Model {
                family,
                likelihood: if bits & 8 == 0 {
                    Likelihood::Maximum
                } else {
                    Likelihood::Restricted
                },
                terms: Terms {
                    site: bits & 1 == 0,
                    year: bits & 2 == 0,
                    site_year: bits & 4 == 0,
                },
            })
        })
    }

    /// In every model and layout: the gradient is the likelihood's, and the Hessian that of the gradient.
    #[test]
    fn derivatives_match_differences() {
        const STEP: f64 = 1e-4;
        for model in all_models() {
            for (rows, ragged, covariate) in (0..12).map(|i| (1 + i / 6, i / 3 % 2 == 1, i % 3)) {
                if rows == 1 && covariate == 1 {
                    // One week only: the covariate is a second intercept.
                    continue;
                }
                let mut f = fitter(rows, ragged, covariate, model);
                let theta = [1.1, 0.12, 0.6, 0.35, 0.45, 0.4];
                let t = model.terms;
                let sds = [t.site, t.year, t.site_year];
                let mut at = theta[..f.outer_beta()].to_vec();
                at.extend((0..3).filter(|&j| sds[j]).map(|j| theta[2 + j]));
                if model.family == Family::NegativeBinomial {
                    at.push(theta[5]);
                }
                let n = at.len();
                let (mut g, mut up, mut down) = (vec![0.0; n], vec![0.0; n], vec![0.0; n]);
                f.evaluate(&at, &mut g);
                let hessian = hessian(&mut f, &at).unwrap();
                for j in 0..n {
                    let mut moved = at.clone();
                    moved[j] += STEP;
                    let high = f.evaluate(&moved, &mut up);
                    moved[j] -= 2.0 * STEP;
                    let low = f.evaluate(&moved, &mut down);
                    let slope = (high - low) / (2.0 * STEP);
                    let what = format!("{model:?} {rows} {ragged} {covariate}, parameter {j}");
                    let off = (g[j] - slope).abs() / (1.0 + slope.abs());
                    assert!(off < 1e-6, "{what}: {} {slope}", g[j]);
                    for l in 0..n {
                        let curve = (up[l] - down[l]) / (2.0 * STEP);
                        let got = hessian[j * n + l];
                        let off = (got - curve).abs() / (1.0 + curve.abs());
                        assert!(off < 1e-4, "{what}, {l}: {got} {curve}");
                    }
                }
            }
        }
    }
}
