//! The mixed model of the planned analysis, by the engine that holds its random terms.
//!
//! Sites, years and site-years go to the engine of blocks, which is the faster one; with anything else the analysis
//! is told of, all terms go to the general one.

use super::counted::visited_rows;
use super::covariates::Covariates;
use crate::generator::{Generator, pairs};
use crate::scenario::{Checked, Counts, Effect, Known, Likelihood, Plan, Rows};
use models::glmm::general::{
    GeneralDesign, GeneralFitter, GeneralStart, Grouping, ar1_loadings, exponential_loadings,
};
use models::glmm::{self, DataError, Design, Family, Fit, Fitter, Layout, Model, Start, Terms};
use models::ratio::Ratio;

/// Simulated fits stop when a step promises less log likelihood than this. By restricted likelihood Newton's last step
/// makes up for what is left in all that the tests look at: of 8000 t statistics of the demo half are within 2e-5 of
/// those of a search to the end and 99 in 100 within .006; of 38 other designs, from 3 sites by 3 years to catches of .01
/// and of a million, 99 in 100 within .011 (within .03 where three of five site-years are lost), failing no more often
/// (`crates/models/tests/early_stop.rs` holds bounds). By maximum likelihood
/// standard errors are those of where the search ended.
pub(super) fn tolerance(likelihood: glmm::Likelihood) -> f64 {
    match likelihood {
        glmm::Likelihood::Restricted => 1e-3,
        glmm::Likelihood::Maximum => 1e-7,
    }
}

/// The move of the optimum a year, in units of the scaled place.
pub(super) const OPTIMUM_SHIFT: Ratio = Ratio::of_optimum(2, 4);

/// Which covariates are in a model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Columns {
    /// All.
    All,
    /// All but the change.
    WithoutChange,
    /// An optimum that moves by just so much a year, in units of the scaled place.
    OptimumMoving(f64),
}

/// A random term of the general engine with the standard deviation its search starts from.
struct Term {
    grouping: Grouping,
    sd: f64,
}

#[derive(Clone, Debug)]
enum Engine {
    Blocks(Box<Fitter>),
    General(Box<GeneralFitter>, Vec<f64>),
}

/// Fits one model to many surveys.
#[derive(Clone, Debug)]
pub(super) struct MixedModel {
    engine: Engine,
}

/// A fit without its standard deviations, in which the engines' answers differ.
pub(super) type Fitted = Fit<()>;

fn fitted<S>(fit: Fit<S>) -> Fitted {
    Fit {
        outcome: fit.outcome,
        log_likelihood: fit.log_likelihood,
        beta: fit.beta,
        covariance: fit.covariance,
        sd: (),
        sd_se: (),
        k: fit.k,
        ln_k_se: fit.ln_k_se,
        conditional: fit.conditional,
        evaluations: fit.evaluations,
    }
}

/// Site, year and week of a row.
#[derive(Clone, Copy)]
struct Place {
    site: usize,
    year: usize,
    week: usize,
}

fn places(plan: &Plan, weeks: usize) -> Vec<Place> {
    let years = plan.years as usize;
    let rows = plan.sites as usize * years * weeks;
    let place = |i: usize| Place {
        site: i / weeks / years,
        year: i / weeks % years,
        week: i % weeks,
    };
    match visited_rows(plan, weeks) {
        Some(visited) => visited.into_iter().map(place).collect(),
        None => (0..rows).map(place).collect(),
    }
}

impl MixedModel {
    /// The scenario's model under `plan`, with these of its covariates.
    ///
    /// # Errors
    /// When the plan makes no analysable design (checked scenarios always do).
    pub fn new(
        scenario: &Checked,
        plan: &Plan,
        generator: &Generator,
        covariates: &Covariates,
        columns: Columns,
        start: &Start,
    ) -> Result<Self, DataError> {
        let analysis = &scenario.analysis;
        let weekly = analysis.rows == Rows::Weeks && plan.weeks > 1;
        let weeks = if analysis.rows == Rows::Weeks {
            plan.weeks as usize
        } else {
            1
        };
        let places = places(plan, weeks);
        let all = covariates.columns;
        let (x, columns) = match columns {
            Columns::All => (covariates.x.clone(), all),
            Columns::WithoutChange => (covariates.without_change(), all - 1),
            Columns::OptimumMoving(a_year) => {
                (OPTIMUM_SHIFT.fixed_at(&covariates.x, all, a_year), all - 1)
            }
        };
        let x = match visited_rows(plan, weeks) {
            Some(visited) => {
                let row = |i: usize| x[i * columns..(i + 1) * columns].to_vec();
                visited.into_iter().flat_map(row).collect()
            }
            None => x,
        };
        let offset = vec![0.0; places.len()];
        let family = match analysis.counts {
            Counts::NegativeBinomial => Family::NegativeBinomial,
            Counts::Poisson => Family::Poisson,
        };
        let likelihood = match analysis.likelihood {
            Likelihood::Restricted => glmm::Likelihood::Restricted,
            Likelihood::Maximum => glmm::Likelihood::Maximum,
        };
        let Some(terms) = told_terms(scenario, plan, generator, &places, weekly, start) else {
            let design = Design {
                site: places.iter().map(|p| p.site).collect(),
                year: places.iter().map(|p| p.year).collect(),
                x,
                columns,
                offset,
                trials: Vec::new(),
            };
            let terms = Terms {
                site: sites_are_told(scenario, plan, weekly),
                year: years_are_told(scenario, plan),
                site_year: weekly && plan.comes_back(),
            };
            let model = Model {
                family,
                terms,
                likelihood,
            };
            let mut fitter = Fitter::new(Layout::new(&design)?, model);
            fitter.set_tolerance(tolerance(likelihood));
            return Ok(Self {
                engine: Engine::Blocks(Box::new(fitter)),
            });
        };
        let sd = terms.iter().map(|t| t.sd).collect();
        let design = GeneralDesign {
            x,
            columns,
            offset,
            trials: Vec::new(),
            groupings: terms.into_iter().map(|t| t.grouping).collect(),
        };
        let mut fitter = GeneralFitter::new(&design, family, likelihood)?;
        fitter.set_tolerance(tolerance(likelihood));
        Ok(Self {
            engine: Engine::General(Box::new(fitter), sd),
        })
    }

    /// Changes the offsets; [`glmm::MISSING`] takes a row out.
    ///
    /// # Errors
    /// When there is not one finite offset for each row.
    pub fn set_offset(&mut self, offset: &[f64]) -> Result<(), DataError> {
        match &mut self.engine {
            Engine::Blocks(f) => f.set_offset(offset),
            Engine::General(f, _) => f.set_offset(offset),
        }
    }

    /// Learns the likelihood's shape from one survey, for fits that start at `start`.
    ///
    /// # Errors
    /// When the counts do not belong to the design.
    pub fn learn(&mut self, counts: &[f64], start: &Start) -> Result<(), DataError> {
        match &mut self.engine {
            Engine::Blocks(f) => f.learn(counts, start),
            Engine::General(f, sd) => f.learn(counts, &general(start, sd)),
        }
    }

    /// Fits one survey from `start`.
    ///
    /// # Errors
    /// When the counts do not belong to the design.
    pub fn fit(&mut self, counts: &[f64], start: &Start) -> Result<Fitted, DataError> {
        Ok(match &mut self.engine {
            Engine::Blocks(f) => fitted(f.fit(counts, Some(start))?),
            Engine::General(f, sd) => fitted(f.fit(counts, Some(&general(start, sd)))?),
        })
    }
}

fn general(start: &Start, sd: &[f64]) -> GeneralStart {
    GeneralStart {
        beta: start.beta.clone(),
        sd: sd.to_vec(),
        k: start.k,
    }
}

/// Whether the rows can tell sites apart: with one row each they are part of the dispersion, where there is one.
fn sites_are_told(scenario: &Checked, plan: &Plan, weekly: bool) -> bool {
    plan.comes_back() || weekly || scenario.analysis.counts == Counts::Poisson
}

/// Whether the rows can tell years apart from what is asked: a single year cannot, nor one before and one after.
fn years_are_told(scenario: &Checked, plan: &Plan) -> bool {
    let fixed = match scenario.question.effect {
        Effect::BeforeAfter(_) => 2,
        _ => 1,
    };
    plan.turns() > fixed
}

/// All random terms when the analysis is told of one that the engine of blocks does not hold; `None` otherwise.
fn told_terms(
    scenario: &Checked,
    plan: &Plan,
    generator: &Generator,
    places: &[Place],
    weekly: bool,
    start: &Start,
) -> Option<Vec<Term>> {
    let told = |k| scenario.analysis.knows.contains(&k);
    let (sites, years) = (plan.sites as usize, plan.years as usize);
    let slopes = told(Known::SiteSlopes);
    let weeks = told(Known::SharedWeeks) && weekly;
    let rho = generator.year_autocorrelation();
    let along_time = (told(Known::YearAutocorrelation) && rho != 0.0)
        .then(|| ar1_loadings(years, rho))
        .flatten();
    let length = scenario.premises.departures.correlation_length_km.value;
    let in_space = generator
        .site_distances()
        .filter(|_| told(Known::SiteCorrelation))
        .and_then(|d| exponential_loadings(d, length));
    let paired = plan.groups.as_ref().is_some_and(|g| g.paired);
    if !(slopes || weeks || paired || along_time.is_some() || in_space.is_some()) {
        return None;
    }
    let mut terms = Vec::new();
    let mut add = |name: &str, level: &dyn Fn(&Place) -> usize, sd: f64| {
        let grouping = Grouping {
            name: name.into(),
            level: places.iter().map(level).collect(),
            weight: None,
            loadings: None,
        };
        terms.push(Term { grouping, sd });
    };
    let common = pairs(scenario, plan).unwrap_or(0.0);
    if sites_are_told(scenario, plan, weekly) {
        add("sites", &|p| p.site, start.site_sd * (1.0 - common).sqrt());
    }
    if paired {
        let sd = scenario.premises.target.site_sd.value * common.sqrt();
        add("pairs", &|p| p.site / 2, sd.max(0.05));
        if plan.comes_back() {
            let sd = scenario.premises.target.site_year_sd.value * common.sqrt();
            let number = |p: &Place| p.year * sites.div_ceil(2) + p.site / 2;
            add("pair-years", &number, sd.max(0.05));
        }
    }
    if years_are_told(scenario, plan) {
        add("years", &|p| p.year, start.year_sd);
    }
    if plan.comes_back() && (weekly || in_space.is_some()) {
        // Year by year, so that the sites of a year stand together.
        let sd = scenario.premises.target.site_year_sd.value.max(0.05);
        add("site-years", &|p| p.year * sites + p.site, sd);
    }
    if slopes && years > 1 {
        let sd = scenario.premises.departures.site_slope_sd.value.max(0.01);
        add("site slopes", &|p| p.site, sd);
    }
    if weeks {
        let run = generator.weeks();
        let sd = scenario.premises.departures.shared_week_sd.value.max(0.05);
        add("shared weeks", &|p| p.year * run + p.week, sd);
    }
    let mid = 0.5 * (years as f64 - 1.0);
    for term in &mut terms {
        let g = &mut term.grouping;
        match g.name.as_str() {
            "site slopes" => {
                g.weight = Some(places.iter().map(|p| p.year as f64 - mid).collect());
                g.loadings.clone_from(&in_space);
            }
            "sites" => g.loadings.clone_from(&in_space),
            "years" => g.loadings.clone_from(&along_time),
            "site-years" => g.loadings = in_space.as_ref().map(|l| repeated(l, sites, years)),
            _ => {}
        }
    }
    Some(terms)
}

/// The same correlation of `n` levels in each of `times` groups that do not hang together.
fn repeated(loadings: &[f64], n: usize, times: usize) -> Vec<f64> {
    let size = n * times;
    let mut out = vec![0.0; size * size];
    for t in 0..times {
        for (i, row) in loadings.chunks_exact(n).enumerate() {
            let at = (t * n + i) * size + t * n;
            out[at..at + n].copy_from_slice(row);
        }
    }
    out
}
