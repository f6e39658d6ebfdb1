//! The planned analysis of one survey by a mixed model of its counts.

use super::analyser::{Finding, Sample};
use super::covariates::Covariates;
use super::model::{Columns, Fitted, MixedModel, OPTIMUM_SHIFT};
use super::replicate::Ending;
use super::start::start;
use crate::closed_form::truth;
use crate::generator::{Generator, World};
use crate::index_trend::index_trend;
use crate::scenario::{Checked, Effect, Known, Plan, Rows, Test};
use models::glmm::{self, DataError, Outcome, Start};
use numerics::maths::{ln, slices};

/// The same model without the change, or with just the true one, for the likelihood ratio.
#[derive(Clone, Debug)]
struct Unchanged {
    model: MixedModel,
    start: Start,
}

/// Analyses surveys of one plan.
#[derive(Clone, Debug)]
pub(super) struct Counted {
    model: MixedModel,
    unchanged: Option<Unchanged>,
    /// With just the true move of an optimum: for the profile's coverage.
    moved: Option<Unchanged>,
    start: Start,
    still_start: Start,
    covariates: Covariates,
    years: usize,
    gradient: bool,
    /// The annual-index regression is made too.
    indexed: bool,
    /// Log of the trap-weeks set for a row; the offset when the analysis is not told of losses.
    nominal: Option<f64>,
    /// Log change of each row that is taken off before the estimate: the drift the analysis is told of, and the margin of
    /// a claim, from which the estimate then counts.
    known: Vec<f64>,
    margin: f64,
    offset: Vec<f64>,
    /// Which rows of a survey are visited, when not all are; the others are no rows of the model.
    visited: Option<Vec<usize>>,
    counts: Vec<f64>,
}

/// Numbers of a survey's rows (`(s * years + y) * weeks + w`) that are visited; `None` when all are.
pub(super) fn visited_rows(plan: &Plan, weeks: usize) -> Option<Vec<usize>> {
    let visited = plan.visits_made();
    let own = |cell: usize| cell * weeks..(cell + 1) * weeks;
    let cells = (0..visited.len()).filter(|&i| visited[i]);
    (!visited.is_empty()).then(|| cells.flat_map(own).collect())
}

impl Counted {
    /// The scenario's analysis under `plan`.
    ///
    /// # Errors
    /// When the plan makes no analysable design (checked scenarios always do).
    pub fn new(scenario: &Checked, plan: &Plan, generator: &Generator) -> Result<Self, DataError> {
        let covariates = Covariates::new(scenario, plan);
        let analysis = &scenario.analysis;
        let told = |k| analysis.knows.contains(&k);
        let weekly = analysis.rows == Rows::Weeks;
        let (weeks, effort) = if weekly {
            (plan.weeks as usize, generator.weekly_effort())
        } else {
            (1, generator.effort())
        };
        let years = plan.years as usize;
        let starts = |world| start(scenario, plan, &covariates, world);
        let model = |columns, start: &Start| {
            MixedModel::new(scenario, plan, generator, &covariates, columns, start)
        };
        let still_start = starts(World::Still);
        let start = starts(World::Change);
        let gradient = matches!(scenario.question.effect, Effect::RangeShift(_));
        let less = |columns, start: &Start| -> Result<Unchanged, DataError> {
            let mut start = start.clone();
            start.beta.remove(covariates.change);
            let model = model(columns, &start)?;
            Ok(Unchanged { model, start })
        };
        let (mut unchanged, mut moved) = (None, None);
        if analysis.test == Test::LikelihoodRatio {
            unchanged = Some(less(Columns::WithoutChange, &still_start)?);
            if gradient {
                let a_year = truth(scenario) / 10.0 / covariates.scale;
                moved = Some(less(Columns::OptimumMoving(a_year), &start)?);
            }
        }
        let margin = match &scenario.question.effect {
            Effect::NoWorse(n) => n.margin_slope(),
            _ => 0.0,
        };
        let drift = if told(Known::DetectionDrift) {
            generator.log_drift()
        } else {
            0.0
        };
        let rows = plan.sites as usize * years * weeks;
        let visited = visited_rows(plan, weeks);
        let of_row = |i: usize| (drift + margin) * (i / weeks % years) as f64;
        Ok(Self {
            model: model(Columns::All, &start)?,
            unchanged,
            moved,
            start,
            still_start,
            covariates,
            years,
            gradient,
            indexed: scenario.question.effect.is_trend() && !weekly && plan.years_hang_together(),
            nominal: (!told(Known::Losses)).then(|| ln(effort)),
            known: match &visited {
                Some(visited) => visited.iter().map(|&i| of_row(i)).collect(),
                None => (0..rows).map(of_row).collect(),
            },
            margin,
            offset: Vec::new(),
            visited,
            counts: Vec::new(),
        })
    }

    /// Learns the likelihood's shape from one survey of the world of change.
    ///
    /// # Errors
    /// When the counts cannot be analysed.
    pub fn learn(&mut self, sample: Sample) -> Result<(), DataError> {
        self.load(&sample)?;
        self.model.learn(&self.counts, &self.start)?;
        for u in [&mut self.unchanged, &mut self.moved].into_iter().flatten() {
            u.model.learn(&self.counts, &u.start)?;
        }
        Ok(())
    }

    /// Takes the rows of a survey that are rows of the model.
    fn load(&mut self, sample: &Sample) -> Result<(), DataError> {
        self.counts.clear();
        match &self.visited {
            Some(visited) => {
                self.counts
                    .extend(visited.iter().map(|&i| sample.counts[i]));
                let effort: Vec<f64> = visited.iter().map(|&i| sample.effort[i]).collect();
                self.load_offset(&effort)
            }
            None => {
                self.counts.extend_from_slice(sample.counts);
                self.load_offset(sample.effort)
            }
        }
    }

    /// A row whose catch was lost altogether says nothing, whatever the analysis is told.
    fn load_offset(&mut self, effort: &[f64]) -> Result<(), DataError> {
        self.offset.clear();
        match self.nominal {
            Some(nominal) => self.offset.resize(effort.len(), nominal),
            None => {
                let some = effort.iter().map(|&e| if e > 0.0 { e } else { 1.0 });
                self.offset.extend(some);
                slices::ln(&mut self.offset);
            }
        }
        for (offset, (known, &effort)) in self.offset.iter_mut().zip(self.known.iter().zip(effort))
        {
            *offset = if effort > 0.0 {
                *offset + known
            } else {
                glmm::MISSING
            };
        }
        for u in [&mut self.unchanged, &mut self.moved].into_iter().flatten() {
            u.model.set_offset(&self.offset)?;
        }
        self.model.set_offset(&self.offset)
    }

    /// Analyses one survey.
    ///
    /// # Errors
    /// When the counts cannot be analysed at all, which a checked scenario never gives.
    pub fn analyse(&mut self, sample: Sample, world: World) -> Result<Finding, DataError> {
        self.load(&sample)?;
        let start = if world == World::Change {
            &self.start
        } else {
            &self.still_start
        };
        let fit = self.model.fit(&self.counts, start)?;
        let mut finding = self.conclude(&fit);
        let lost = |less: &Fitted| {
            let gain = 2.0 * (fit.log_likelihood - less.log_likelihood);
            gain.max(0.0).sqrt()
        };
        if let Some(u) = &mut self.unchanged {
            let flat = u.model.fit(&self.counts, &u.start)?;
            if flat.usable() && finding.ending != Ending::Failed {
                finding.root = lost(&flat).copysign(finding.estimate);
            }
        }
        if let Some(u) = &mut self.moved {
            finding.from_truth = finding.root.abs();
            if world == World::Change && finding.ending != Ending::Failed {
                let moved = u.model.fit(&self.counts, &u.start)?;
                finding.from_truth = if moved.usable() {
                    lost(&moved)
                } else {
                    f64::NAN
                };
            }
        }
        if self.indexed {
            finding.index = index_trend(sample.totals, self.years)
                .map_or((f64::NAN, f64::NAN), |t| (t.slope - self.margin, t.se));
        }
        Ok(finding)
    }

    fn conclude(&self, fit: &Fitted) -> Finding {
        let failed = Finding::FAILED;
        let ending = match fit.outcome {
            Outcome::Converged => Ending::Converged,
            Outcome::Singular => Ending::Singular,
            Outcome::AtBound => Ending::AtBound,
            Outcome::Failed(_) => return failed,
        };
        let (estimate, se, contrast) = if self.gradient {
            // Without a bell curve (b_xx not negative) there is no optimum to have moved.
            if fit.beta[2] >= 0.0 {
                return failed;
            }
            let shift = OPTIMUM_SHIFT.estimate(&fit.beta, &fit.covariance, fit.beta.len());
            let scale = 10.0 * self.covariates.scale;
            let contrast = OPTIMUM_SHIFT.contrast(&fit.beta);
            (scale * shift.value, scale * shift.se, contrast)
        } else {
            let change = self.covariates.change;
            let mut contrast = vec![0.0; fit.beta.len()];
            contrast[change] = 1.0;
            (fit.beta[change], fit.se(change), contrast)
        };
        Finding {
            estimate,
            se,
            df: fit.satterthwaite(&contrast).unwrap_or(f64::NAN),
            ending,
            ..failed
        }
    }
}
