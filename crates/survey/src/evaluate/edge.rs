//! The planned analysis of an edge by presence: whether a site shows the target in a year, on place and year, with sites
//! and years as random effects.
//!
//! With x the place and t the year the log odds are a + b x + c t + site + year; an even chance is at -(a + c t)/b, which
//! moves by -c/b a year ([`models::ratio`]).

use super::analyser::{Finding, Sample};
use super::model::tolerance;
use super::replicate::Ending;
use crate::closed_form::{truth, working_site_sd};
use crate::generator::{World, positions};
use crate::scenario::{Checked, Likelihood, Plan, Test};
use models::glmm::{
    self, DataError, Design, Family, Fit, Fitter, Layout, Model, Outcome, Start, Terms,
};
use models::ratio::Ratio;

/// Columns of an edge's design: 1, place, year.
pub(crate) const EDGE_COLUMNS: usize = 3;
/// The move of the edge a year, in units of the scaled place.
pub(crate) const EDGE_SHIFT: Ratio = Ratio::of_edge(1, 2);

/// Least standard deviations of sites' and of years' effects that a fit starts at.
const LEAST_SITE_SD: f64 = 0.3;
const LEAST_YEAR_SD: f64 = 0.2;

/// Place and year of each site-year as the analysis of an edge takes them.
#[derive(Clone, Debug)]
pub(crate) struct EdgeAxis {
    /// Rows of [`EDGE_COLUMNS`] values, `s * years + y`: 1, the place less the transect's middle in quarters of its
    /// length (the scale), the year less the middle one.
    pub x: Vec<f64>,
    /// Gradient units of one unit of the place.
    pub scale: f64,
    /// Middle of the transect.
    pub centre: f64,
}

impl EdgeAxis {
    /// Of a plan with a transect.
    pub fn new(scenario: &Checked, plan: &Plan) -> Self {
        let (centre, scale) = plan.transect.as_ref().map_or((0.0, 1.0), |t| {
            (0.5 * (t.lowest + t.highest), 0.25 * (t.highest - t.lowest))
        });
        let years = plan.years as usize;
        let mid = 0.5 * (years as f64 - 1.0);
        let places = positions(scenario, plan);
        let row = |p: f64, y: usize| [1.0, (p - centre) / scale, y as f64 - mid];
        Self {
            x: places
                .iter()
                .flat_map(|p| (0..years).flat_map(move |y| row(*p, y)))
                .collect(),
            scale,
            centre,
        }
    }

    /// The design's true coefficients of the log odds of being occupied when the edge moves by so much a decade.
    pub fn coefficients(&self, scenario: &Checked, plan: &Plan, per_decade: f64) -> Vec<f64> {
        let sign = scenario.edge().unwrap_or(1.0);
        let Some(moving) = scenario.moving(plan.years) else {
            return vec![0.0; EDGE_COLUMNS];
        };
        let speed = per_decade / 10.0;
        let middle = moving.first + speed * 0.5 * (f64::from(plan.years) - 1.0);
        let per_width = sign / moving.width;
        vec![
            per_width * (middle - self.centre),
            -per_width * self.scale,
            per_width * speed,
        ]
    }

    /// The design without a move, or with one of just so much a decade: the column of the year gives way.
    pub fn fixed_at(&self, per_decade: f64) -> Vec<f64> {
        EDGE_SHIFT.fixed_at(&self.x, EDGE_COLUMNS, per_decade / 10.0 / self.scale)
    }
}

/// A model of one design with where its fits start.
#[derive(Clone, Debug)]
struct Fitted {
    fitter: Fitter,
    start: Start,
}

impl Fitted {
    /// A start from a fit of the whole model, whose first coefficients are this one's.
    fn nearer(&self, fit: &Fit) -> Start {
        Start {
            beta: fit.beta[..self.start.beta.len()].to_vec(),
            // From 0 there is no slope to go down.
            site_sd: fit.sd.site.max(LEAST_SITE_SD),
            year_sd: fit.sd.year.max(LEAST_YEAR_SD),
            ..self.start
        }
    }

    fn fit(&mut self, offset: &[f64], shown: &[f64]) -> Result<Fit, DataError> {
        self.fitter.set_offset(offset)?;
        self.fitter.fit(shown, Some(&self.start))
    }
}

/// Analyses surveys of one plan.
#[derive(Clone, Debug)]
pub(super) struct EdgeByPresence {
    whole: Fitted,
    /// Without a move, and with just the true one: for the likelihood ratio and for the profile's coverage.
    fixed: Option<(Fitted, Fitted)>,
    scale: f64,
    /// Sign of the place's coefficient where there is an edge of the kind asked for.
    falls: f64,
    shown: Vec<f64>,
    offset: Vec<f64>,
}

impl EdgeByPresence {
    /// The scenario's analysis under `plan`.
    ///
    /// # Errors
    /// When the plan makes no analysable design (checked scenarios always do).
    pub fn new(scenario: &Checked, plan: &Plan) -> Result<Self, DataError> {
        let axis = EdgeAxis::new(scenario, plan);
        let (sites, years) = (plan.sites as usize, plan.years as usize);
        let rows = sites * years;
        let model = Model {
            family: Family::Binomial,
            terms: Terms {
                site: true,
                year: true,
                site_year: false,
            },
            likelihood: match scenario.analysis.likelihood {
                Likelihood::Restricted => glmm::Likelihood::Restricted,
                Likelihood::Maximum => glmm::Likelihood::Maximum,
            },
        };
        let site_sd = working_site_sd(scenario, plan).max(LEAST_SITE_SD);
        let fitted = |x: Vec<f64>, beta: Vec<f64>| -> Result<Fitted, DataError> {
            let design = Design {
                site: (0..rows).map(|i| i / years).collect(),
                year: (0..rows).map(|i| i % years).collect(),
                columns: x.len() / rows,
                x,
                offset: vec![0.0; rows],
                trials: vec![1.0; rows],
            };
            let mut fitter = Fitter::new(Layout::new(&design)?, model);
            fitter.set_tolerance(tolerance(model.likelihood));
            let start = Start {
                beta,
                site_sd,
                year_sd: LEAST_YEAR_SD,
                site_year_sd: 0.0,
                k: 1.0,
            };
            Ok(Fitted { fitter, start })
        };
        let whole = |per_decade| axis.coefficients(scenario, plan, per_decade);
        let less = |per_decade| {
            let mut beta = whole(per_decade);
            beta.truncate(EDGE_COLUMNS - 1);
            fitted(axis.fixed_at(per_decade), beta)
        };
        let change = truth(scenario);
        let fixed = if scenario.analysis.test == Test::LikelihoodRatio {
            Some((less(0.0)?, less(change)?))
        } else {
            None
        };
        Ok(Self {
            whole: fitted(axis.x.clone(), whole(change))?,
            fixed,
            scale: axis.scale,
            falls: -scenario.edge().unwrap_or(1.0),
            shown: Vec::new(),
            offset: Vec::new(),
        })
    }

    fn load(&mut self, sample: Sample) {
        let (shown, offset) = (&mut self.shown, &mut self.offset);
        shown.clear();
        offset.clear();
        for (count, effort) in sample.totals.counts.iter().zip(&sample.totals.effort) {
            shown.push(f64::from(u8::from(*count > 0.0)));
            // A site-year whose catch was lost altogether says nothing.
            offset.push(if *effort > 0.0 { 0.0 } else { glmm::MISSING });
        }
    }

    /// Learns the likelihood's shape, and where it is likely to have its optimum, from one survey of the world of change.
    /// A site's effect makes the curve given it steeper than that of all sites (Zeger, Liang & Albert 1988, Biometrics
    /// 44:1049-1060), so that the stated curve is far from it.
    ///
    /// # Errors
    /// When the counts cannot be analysed.
    pub fn learn(&mut self, sample: Sample) -> Result<(), DataError> {
        self.load(sample);
        let fit = self.whole.fit(&self.offset, &self.shown)?;
        let edge = fit.usable() && fit.beta[1] * self.falls > 0.0;
        let fixed = self.fixed.iter_mut().flat_map(|(a, b)| [a, b]);
        for f in std::iter::once(&mut self.whole).chain(fixed) {
            if edge {
                f.start = f.nearer(&fit);
            }
            f.fitter.set_offset(&self.offset)?;
            f.fitter.learn(&self.shown, &f.start)?;
        }
        Ok(())
    }

    /// Analyses one survey.
    ///
    /// # Errors
    /// When the counts cannot be analysed at all, which a checked scenario never gives.
    pub fn analyse(&mut self, sample: Sample, world: World) -> Result<Finding, DataError> {
        self.load(sample);
        let fit = self.whole.fit(&self.offset, &self.shown)?;
        let ending = match fit.outcome {
            Outcome::Converged => Ending::Converged,
            Outcome::Singular => Ending::Singular,
            Outcome::AtBound => Ending::AtBound,
            Outcome::Failed(_) => return Ok(Finding::FAILED),
        };
        // Where sites do not fall off the way the range ends there is no edge to have moved.
        if fit.beta[1] * self.falls <= 0.0 {
            return Ok(Finding::FAILED);
        }
        let shift = EDGE_SHIFT.estimate(&fit.beta, &fit.covariance, EDGE_COLUMNS);
        let scale = 10.0 * self.scale;
        let contrast = EDGE_SHIFT.contrast(&fit.beta);
        let mut finding = Finding {
            estimate: scale * shift.value,
            se: scale * shift.se,
            df: fit.satterthwaite(&contrast).unwrap_or(f64::NAN),
            ending,
            ..Finding::FAILED
        };
        if let Some((still, moved)) = &mut self.fixed {
            // The smaller models begin where the whole one ended.
            still.start = still.nearer(&fit);
            let flat = still.fit(&self.offset, &self.shown)?;
            let best = fit.log_likelihood;
            let lost = |less: &Fit| {
                let gain = 2.0 * (best - less.log_likelihood);
                less.usable().then(|| gain.max(0.0).sqrt())
            };
            let root = lost(&flat);
            finding.root = root.map_or(f64::NAN, |r| r.copysign(shift.value));
            finding.from_truth = match world {
                World::Change => {
                    moved.start = moved.nearer(&fit);
                    lost(&moved.fit(&self.offset, &self.shown)?)
                }
                World::Still => root,
            }
            .unwrap_or(f64::NAN);
        }
        Ok(finding)
    }
}
