//! The planned analysis of occupied sites: maximum likelihood under imperfect detection.

use super::analyser::{Finding, Sample};
use super::replicate::Ending;
use crate::closed_form::in_a_row;
use crate::scenario::{Checked, Detection, Plan};
use models::occupancy::{
    DetectionKernel, OccupancyDesign, OccupancyFit, OccupancyFitter, OccupancyOutcome,
};

/// Fits surveys of one plan with and without the change.
#[derive(Clone, Debug)]
pub(super) struct OccupiedSites {
    with: OccupancyFitter,
    without: OccupancyFitter,
    weeks: usize,
    years: usize,
    /// Occupancy is followed year by year.
    in_a_row: bool,
    detections: Vec<u32>,
    visits: Vec<u32>,
}

impl OccupiedSites {
    /// The analysis of a plan. A row is a site in a year (`s * years + y`).
    pub fn new(scenario: &Checked, plan: &Plan) -> Self {
        let (sites, years) = (plan.sites as usize, plan.years as usize);
        let in_a_row = in_a_row(scenario);
        let mid = if in_a_row {
            0.5 * (years as f64 - 1.0)
        } else {
            0.0
        };
        let rows = || (0..sites).flat_map(|_| 0..years);
        let each_year = scenario.analysis.detection != Detection::Constant;
        let z: Vec<f64> = if each_year {
            let of_year = |y: usize| (0..years).map(move |c| f64::from(u8::from(c == y)));
            rows().flat_map(of_year).collect()
        } else {
            rows().map(|_| 1.0).collect()
        };
        let design = |change: bool| OccupancyDesign {
            x: rows()
                .flat_map(|y| {
                    let t = change.then_some(y as f64 - mid);
                    std::iter::once(1.0).chain(t)
                })
                .collect(),
            columns: if change { 2 } else { 1 },
            z: z.clone(),
            detection_columns: if each_year { years } else { 1 },
            kernel: match scenario.analysis.detection {
                Detection::Varying => DetectionKernel::BetaBinomial,
                Detection::EachYear | Detection::Constant => DetectionKernel::Binomial,
            },
        };
        let fitter = |change| {
            // Sites and years are at least two, and the columns independent.
            OccupancyFitter::new(design(change)).unwrap_or_else(|e| unreachable!("{e}"))
        };
        Self {
            with: fitter(true),
            without: fitter(false),
            weeks: plan.weeks as usize,
            years,
            in_a_row,
            detections: Vec::new(),
            visits: Vec::new(),
        }
    }

    /// Analyses one survey, told week by week.
    pub fn analyse(&mut self, sample: Sample) -> Finding {
        self.detections.clear();
        self.visits.clear();
        let weeks = sample.counts.chunks_exact(self.weeks);
        for (counts, effort) in weeks.zip(sample.effort.chunks_exact(self.weeks)) {
            let made = effort.iter().filter(|e| **e > 0.0).count();
            let caught = counts.iter().filter(|c| **c > 0.0).count();
            self.visits.push(made as u32);
            self.detections.push(caught as u32);
        }
        let fits = (
            self.with.fit(&self.detections, &self.visits, None),
            self.without.fit(&self.detections, &self.visits, None),
        );
        let (Ok(with), Ok(without)) = fits else {
            return Finding::FAILED;
        };
        if !(with.usable() && without.usable()) {
            return Finding::FAILED;
        }
        let (estimate, se) = self.change(&with);
        let gain = 2.0 * (with.log_likelihood - without.log_likelihood);
        let root = gain.max(0.0).sqrt().copysign(estimate);
        let at_boundary = with.outcome == OccupancyOutcome::AtBoundary;
        Finding {
            estimate,
            // Where occupancy is at a boundary there is no standard error; the likelihood ratio stands for it.
            se: if self.at_end(&with) || !se.is_finite() {
                (estimate / root).abs().max(f64::MIN_POSITIVE)
            } else {
                se
            },
            root,
            ending: if at_boundary {
                Ending::AtBound
            } else {
                Ending::Converged
            },
            ..Finding::FAILED
        }
    }

    /// Whether some year's occupancy is estimated as none or as all.
    fn at_end(&self, fit: &OccupancyFit) -> bool {
        fit.outcome == OccupancyOutcome::AtBoundary
            && (0..self.years).any(|y| !(1e-4..=1.0 - 1e-4).contains(&fit.psi(y)))
    }

    /// The estimated change with its standard error.
    fn change(&self, fit: &OccupancyFit) -> (f64, f64) {
        if self.in_a_row {
            return (fit.beta[1], fit.se(1));
        }
        let (first, last) = (fit.psi(0), fit.psi(1));
        // Slopes of the difference in the coefficients.
        let (a, b) = (first * (1.0 - first), last * (1.0 - last));
        let slopes = [b - a, b];
        let m = fit.beta.len() + fit.gamma.len() + usize::from(fit.rho.is_some());
        let variance: f64 = (0..2)
            .flat_map(|i| (0..2).map(move |j| (i, j)))
            .map(|(i, j)| slopes[i] * slopes[j] * fit.covariance[i * m + j])
            .sum();
        (last - first, variance.sqrt())
    }
}
