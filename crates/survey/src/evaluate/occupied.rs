//! The planned analysis of occupied sites, and of an edge of a range by them: maximum likelihood under imperfect
//! detection.

use super::analyser::{Finding, Sample};
use super::edge::{EDGE_SHIFT, EdgeAxis};
use super::replicate::Ending;
use crate::closed_form::{self, in_a_row, truth};
use crate::generator::World;
use crate::scenario::{Checked, Detection, Plan, Test, log_odds};
use models::occupancy::{
    DetectionKernel, OccupancyDesign, OccupancyFit, OccupancyFitter, OccupancyOutcome,
    OccupancyStart,
};

/// Standard error of the place's coefficient, a quarter of the transect to the unit, above which sites are taken to be
/// separated by the edge.
const MOST_SE: f64 = 100.0;

/// What changes.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Change {
    /// Log odds of occupancy, year by year.
    Trend,
    /// The share of sites, between two years.
    Difference,
    /// The place of an edge: gradient units of one unit of the scaled place, and the sign of its coefficient where there
    /// is an edge of the kind asked for.
    Edge { scale: f64, falls: f64 },
}

/// Fits surveys of one plan with and without the change.
#[derive(Clone, Debug)]
pub(super) struct OccupiedSites {
    with: OccupancyFitter,
    without: OccupancyFitter,
    /// With just the true move of an edge: for the profile's coverage, where the likelihood ratio is planned.
    moved: Option<OccupancyFitter>,
    /// The likelihood ratio is taken of every survey, not only where there is no standard error.
    ratio: bool,
    /// Where fits of an edge start.
    start: Option<OccupancyStart>,
    weeks: usize,
    years: usize,
    /// What the change is of.
    change: Change,
    detections: Vec<u32>,
    visits: Vec<u32>,
}

impl OccupiedSites {
    /// The analysis of a plan. A row is a site in a year (`s * years + y`).
    pub fn new(scenario: &Checked, plan: &Plan) -> Self {
        let (sites, years) = (plan.sites as usize, plan.years as usize);
        let axis = scenario
            .edge()
            .map(|sign| (EdgeAxis::new(scenario, plan), sign));
        let change = match &axis {
            Some((axis, sign)) => Change::Edge {
                scale: axis.scale,
                falls: -sign,
            },
            None if in_a_row(scenario) => Change::Trend,
            None => Change::Difference,
        };
        let mid = if change == Change::Trend {
            0.5 * (years as f64 - 1.0)
        } else {
            0.0
        };
        let rows = || (0..sites).flat_map(|_| 0..years);
        let each_year = scenario.analysis.detection != Detection::Constant;
        // Only years in which anybody traps have a detection of their own.
        let trapped = plan.years_of_trapping();
        let z: Vec<f64> = if each_year {
            let of_year = |y: usize| {
                let trapped = trapped.iter();
                trapped.map(move |&c| f64::from(u8::from(c as usize == y)))
            };
            rows().flat_map(of_year).collect()
        } else {
            rows().map(|_| 1.0).collect()
        };
        let by_year = |change: bool| -> Vec<f64> {
            let row = |y: usize| {
                let t = change.then_some(y as f64 - mid);
                std::iter::once(1.0).chain(t)
            };
            rows().flat_map(row).collect()
        };
        let design = |x: Vec<f64>| OccupancyDesign {
            columns: x.len() / (sites * years),
            x,
            z: z.clone(),
            detection_columns: if each_year { trapped.len() } else { 1 },
            kernel: match scenario.analysis.detection {
                Detection::Varying => DetectionKernel::BetaBinomial,
                Detection::EachYear | Detection::Constant => DetectionKernel::Binomial,
            },
        };
        let fitter = |x| {
            // Sites and years are at least two, and the columns independent.
            OccupancyFitter::new(design(x)).unwrap_or_else(|e| unreachable!("{e}"))
        };
        let ratio = change == Change::Trend
            || change == Change::Difference
            || scenario.analysis.test == Test::LikelihoodRatio;
        let start = axis.as_ref().map(|(axis, _)| {
            let p = closed_form::Detection::new(scenario, plan)
                .even()
                .clamp(0.001, 0.999);
            OccupancyStart {
                beta: axis.coefficients(scenario, plan, truth(scenario)),
                gamma: vec![log_odds(p); if each_year { trapped.len() } else { 1 }],
                rho: None,
            }
        });
        let (with, without, moved) = match axis {
            Some((axis, _)) => {
                let moved = axis.fixed_at(truth(scenario));
                let still = axis.fixed_at(0.0);
                (axis.x, still, ratio.then(|| fitter(moved)))
            }
            None => (by_year(true), by_year(false), None),
        };
        Self {
            with: fitter(with),
            without: fitter(without),
            moved,
            ratio,
            start,
            weeks: plan.weeks as usize,
            years,
            change,
            detections: Vec::new(),
            visits: Vec::new(),
        }
    }

    /// Analyses one survey, told week by week.
    pub fn analyse(&mut self, sample: Sample, world: World) -> Finding {
        self.detections.clear();
        self.visits.clear();
        let weeks = sample.counts.chunks_exact(self.weeks);
        for (counts, effort) in weeks.zip(sample.effort.chunks_exact(self.weeks)) {
            let made = effort.iter().filter(|e| **e > 0.0).count();
            let caught = counts.iter().filter(|c| **c > 0.0).count();
            self.visits.push(made as u32);
            self.detections.push(caught as u32);
        }
        let fit = |fitter: &mut OccupancyFitter, start: Option<&OccupancyStart>| {
            let fit = fitter.fit(&self.detections, &self.visits, start);
            fit.ok().filter(OccupancyFit::usable)
        };
        let Some(with) = fit(&mut self.with, self.start.as_ref()) else {
            return Finding::FAILED;
        };
        let Some((estimate, se)) = change(self.change, &with) else {
            return Finding::FAILED;
        };
        let at_boundary = with.outcome == OccupancyOutcome::AtBoundary;
        // An edge may be well told where detection runs off to certainty.
        let edge = matches!(self.change, Change::Edge { .. });
        let at_end = |y: usize| !(1e-4..=1.0 - 1e-4).contains(&with.psi(y));
        let untold = at_boundary && !edge && (0..self.years).any(at_end) || !se.is_finite();
        let ending = if at_boundary {
            Ending::AtBound
        } else {
            Ending::Converged
        };
        // A model with less begins where the whole one ended.
        let less = self.start.as_ref().map(|_| OccupancyStart {
            beta: with.beta[..2].to_vec(),
            gamma: with.gamma.clone(),
            rho: None,
        });
        if !(self.ratio || untold) {
            return Finding {
                estimate,
                se,
                ending,
                ..Finding::FAILED
            };
        }
        let Some(without) = fit(&mut self.without, less.as_ref()) else {
            return Finding::FAILED;
        };
        let lost = |less: &OccupancyFit| {
            let gain = 2.0 * (with.log_likelihood - less.log_likelihood);
            gain.max(0.0).sqrt()
        };
        let root = lost(&without).copysign(estimate);
        let from_truth = match (&mut self.moved, world) {
            (Some(_), World::Still) => root.abs(),
            (Some(moved), World::Change) => {
                fit(moved, less.as_ref()).map_or(f64::NAN, |fit| lost(&fit))
            }
            (None, _) => f64::NAN,
        };
        Finding {
            estimate,
            // Where occupancy is at a boundary there is no standard error; the likelihood ratio stands for it.
            se: if untold {
                (estimate / root).abs().max(f64::MIN_POSITIVE)
            } else {
                se
            },
            root,
            from_truth,
            ending,
            ..Finding::FAILED
        }
    }
}

/// The estimated change with its standard error; `None` where an edge is not one.
fn change(of: Change, fit: &OccupancyFit) -> Option<(f64, f64)> {
    let width = fit.beta.len() + fit.gamma.len() + usize::from(fit.rho.is_some());
    match of {
        Change::Trend => return Some((fit.beta[1], fit.se(1))),
        Change::Edge { scale, falls } => {
            // Sites that all lie on their side of a line tell the edge no steepness, and so no move.
            let told = fit.se(1) < MOST_SE && fit.beta[1] * falls > 0.0;
            let shift = EDGE_SHIFT.estimate(&fit.beta, &fit.covariance, width);
            let scale = 10.0 * scale;
            return told.then_some((scale * shift.value, scale * shift.se));
        }
        Change::Difference => {}
    }
    let (first, last) = (fit.psi(0), fit.psi(1));
    // Slopes of the difference in the coefficients.
    let (a, b) = (first * (1.0 - first), last * (1.0 - last));
    let slopes = [b - a, b];
    let variance: f64 = (0..2)
        .flat_map(|i| (0..2).map(move |j| (i, j)))
        .map(|(i, j)| slopes[i] * slopes[j] * fit.covariance[i * width + j])
        .sum();
    Some((last - first, variance.sqrt()))
}
