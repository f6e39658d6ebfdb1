//! The count model of one group: NB2 mixed model by Laplace maximum likelihood.
//!
//! log mu = b0 [+ b1 u + b2 u^2] + site + year [+ site by year] + log(trap-weeks), with u the week, centred and
//! scaled; variance mu + mu^2/k.

use super::samples::Observation;
use models::glmm::{Design, Family, Fit, Fitter, Layout, Likelihood, Model, Outcome, Terms};
use numerics::maths::ln;

/// Which terms are in the model.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Spec {
    /// Week and its square.
    pub season: bool,
    /// Random terms.
    pub terms: Terms,
}

/// How weeks become the covariate u = (week - centre) / scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Weeks {
    /// Effort-weighted mean week.
    pub centre: f64,
    /// SD of the weeks.
    pub scale: f64,
    /// First week sampled.
    pub first: f64,
    /// Last week sampled.
    pub last: f64,
    /// Distinct weeks.
    pub distinct: usize,
}

impl Weeks {
    /// From the rows that tell a week; none if not all do.
    pub fn of(rows: &[Observation]) -> Option<Self> {
        let mut weeks: Vec<(u8, f64)> = Vec::with_capacity(rows.len());
        for row in rows {
            weeks.push((row.week?, row.effort));
        }
        let effort: f64 = weeks.iter().map(|w| w.1).sum();
        let mean = |f: &dyn Fn(f64) -> f64| {
            weeks.iter().map(|&(w, e)| e * f(f64::from(w))).sum::<f64>() / effort
        };
        let centre = mean(&|w| w);
        let scale = mean(&|w| (w - centre) * (w - centre)).sqrt();
        let mut distinct: Vec<u8> = weeks.iter().map(|w| w.0).collect();
        distinct.sort_unstable();
        distinct.dedup();
        Some(Self {
            centre,
            scale: if scale > 0.0 { scale } else { 1.0 },
            first: f64::from(*distinct.first()?),
            last: f64::from(*distinct.last()?),
            distinct: distinct.len(),
        })
    }

    /// Covariate of a week.
    pub fn u(&self, week: f64) -> f64 {
        (week - self.centre) / self.scale
    }
}

/// Fits the model to one group's counts.
///
/// # Errors
/// In words, when there is no usable fit.
pub(crate) fn fit(rows: &[Observation], spec: Spec, weeks: Option<Weeks>) -> Result<Fit, String> {
    let columns = if spec.season { 3 } else { 1 };
    let mut design = Design {
        columns,
        ..Design::default()
    };
    for row in rows {
        design.site.push(row.site);
        design.year.push(row.year);
        design.offset.push(ln(row.effort));
        design.x.push(1.0);
        if spec.season {
            let u = match (weeks, row.week) {
                (Some(weeks), Some(w)) => weeks.u(f64::from(w)),
                _ => return Err("a row has no week".into()),
            };
            design.x.extend([u, u * u]);
        }
    }
    let counts: Vec<f64> = rows.iter().map(|r| r.count).collect();
    let model = Model {
        family: Family::NegativeBinomial,
        terms: spec.terms,
        likelihood: Likelihood::Maximum,
    };
    let layout = Layout::new(&design).map_err(|e| e.to_string())?;
    let fit = Fitter::new(layout, model)
        .fit(&counts, None)
        .map_err(|e| e.to_string())?;
    match fit.outcome {
        Outcome::Failed(why) => Err(why.to_owned()),
        _ => Ok(fit),
    }
}

/// Predictor b'x for x = (1, u, u^2) and its standard error; the intercept alone without a season.
pub(crate) fn predictor(fit: &Fit, u: f64) -> (f64, f64) {
    let p = fit.beta.len();
    let x = [1.0, u, u * u];
    let mut eta = 0.0;
    let mut variance = 0.0;
    for i in 0..p {
        eta += fit.beta[i] * x[i];
        for j in 0..p {
            variance += x[i] * x[j] * fit.covariance[i * p + j];
        }
    }
    (eta, variance.sqrt())
}
