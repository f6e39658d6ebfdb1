//! One group's premises: what the fit of the model that its counts can carry says.

mod chosen;

use super::estimate::{Estimate, bounds};
use super::model::{self, Weeks};
use super::moments;
use super::options::SiteYear;
use super::problem::Problem;
use super::samples::Counts;
use super::season;
use chosen::Chosen;
use models::glmm::{Fit, Outcome};
use numerics::maths::exp;
use survey::scenario::Source;

/// Fewest counts of a target.
const FEWEST_COUNTS: usize = 3;
const MEAN_CATCH: &str =
    "the catch per trap-week is the mean over the samples, not that of a season's peak.";

/// What the counts of one group tell.
#[derive(Clone, Debug)]
pub(crate) struct GroupPremises {
    pub catch: Estimate,
    pub k: Estimate,
    pub site: Estimate,
    pub year: Estimate,
    pub site_year: Estimate,
    pub peak: Option<Estimate>,
    pub width: Estimate,
    pub log_likelihood: Option<f64>,
    pub outcome: String,
}

/// A group on its way to premises.
pub(crate) struct Group<'a> {
    pub counts: &'a Counts,
    /// The site-by-year term when it is the target; none for by-catch, whose premises have no such SD.
    pub target: Option<SiteYear>,
    pub notes: &'a mut Vec<String>,
}

impl Group<'_> {
    fn note(&mut self, text: &str) {
        self.notes.push(format!("{}: {text}", self.counts.name));
    }

    /// What follows from sites, years and weeks alone is the same for all groups: it is said once, for the target.
    fn note_of_layout(&mut self, text: &str) {
        if self.target.is_some() {
            self.note(text);
        }
    }

    fn within(&mut self, e: Estimate, key: &str) -> Estimate {
        e.within(key, self.target.is_some(), &self.counts.name, self.notes)
    }

    /// The target's premises.
    ///
    /// # Errors
    /// When its counts are too few, all 0, or cannot be fitted.
    pub fn of_target(mut self) -> Result<GroupPremises, Problem> {
        let (group, rows) = (self.counts.name.clone(), self.counts.rows.len());
        if rows > 0 && self.counts.total() == 0.0 {
            let trap_weeks = format!("{:.1}", self.counts.effort());
            return Err(Problem::NothingCaught { group, trap_weeks });
        }
        if rows < FEWEST_COUNTS {
            let least = FEWEST_COUNTS;
            return Err(Problem::TooFew { group, rows, least });
        }
        match self.choose() {
            Ok(chosen) => self.fitted(&chosen),
            Err(why) => Err(Problem::Fit { group, why }),
        }
    }

    /// A by-catch group's premises: fitted where it can be, otherwise from totals.
    pub fn of_bycatch(mut self) -> Result<GroupPremises, Problem> {
        if self.counts.total() < moments::FEWEST_ANIMALS || self.counts.rows.len() < FEWEST_COUNTS {
            let words = format!(
                "{} animals in {:.1} trap-weeks, too few to fit: the rate is the total over the effort, the rest is common practice.",
                self.counts.total(),
                self.counts.effort()
            );
            self.note(&words);
            if self.counts.total() == 0.0 {
                self.note("none caught does not mean none there: up to 3 over the trap-weeks are still possible (95 %).");
            }
            return self.by_totals("too few animals to fit", false);
        }
        match self.choose() {
            Ok(chosen) => self.fitted(&chosen),
            Err(why) => {
                let words = format!(
                    "the model cannot be fitted ({why}): mean rate and dispersion from the totals, which mixes differences between sites, weeks and years into the dispersion."
                );
                self.note(&words);
                self.by_totals(&format!("not fitted: {why}"), true)
            }
        }
    }

    fn fitted(&mut self, chosen: &Chosen) -> Result<GroupPremises, Problem> {
        let Chosen { fit, spec, curve } = chosen;
        if let Some(largest) = moments::dominant(self.counts) {
            self.note(&format!(
                "one count of {largest} is more than half of all {}: rate, k and SDs hang on it.",
                self.counts.total()
            ));
        }
        let (peak, width) = self.season(*curve)?;
        let weeks = Weeks::of(&self.counts.rows);
        let u = match (weeks, peak, spec.season) {
            (Some(w), Some(p), true) => w.u(p.value),
            _ => 0.0,
        };
        if curve.is_none() {
            self.note(if spec.season {
                "the catch per trap-week is that of the mean week of the catch, not of a peak."
            } else {
                MEAN_CATCH
            });
        }
        let (eta, se) = model::predictor(fit, u);
        let catch = self.within(Estimate::log_scale(exp(eta), se), "catch_per_trap_week");
        let k = self.dispersion(fit);
        let mut sd = |on: bool, key: &str, value: f64, se: f64| -> Result<Estimate, Problem> {
            if !on {
                return Estimate::common(key);
            }
            if value == 0.0 || !se.is_finite() {
                let words = key
                    .replace("_sd", "")
                    .replace("site_year", "site's-own-year");
                self.note(&format!(
                    "the {words} SD is {value:.3} without an interval: no differences are seen beyond the spread of counts, which does not prove that there are none."
                ));
            }
            Ok(self.within(Estimate::sd(value, se), key))
        };
        let site = sd(spec.terms.site, "site_sd", fit.sd.site, fit.sd_se.site)?;
        let year = sd(spec.terms.year, "year_sd", fit.sd.year, fit.sd_se.year)?;
        let site_year = sd(
            spec.terms.site_year,
            "site_year_sd",
            fit.sd.site_year,
            fit.sd_se.site_year,
        )?;
        let outcome = match fit.outcome {
            Outcome::Singular => "singular: a standard deviation is 0",
            Outcome::AtBound => "dispersion k at the end of its range",
            Outcome::Converged | Outcome::Failed(_) => "converged",
        };
        Ok(GroupPremises {
            catch,
            k,
            site,
            year,
            site_year,
            peak,
            width,
            log_likelihood: Some(fit.log_likelihood),
            outcome: outcome.into(),
        })
    }

    fn dispersion(&mut self, fit: &Fit) -> Estimate {
        let most = bounds("dispersion_k", self.target.is_some()).map_or(fit.k, |b| b.1);
        if fit.k >= most || (fit.outcome == Outcome::AtBound && fit.k > 1.0) {
            self.note(&format!(
                "the counts show no more spread than Poisson counts: k is given as {most}, the largest a scenario takes."
            ));
            return Estimate::bare(most);
        }
        self.within(Estimate::log_scale(fit.k, fit.ln_k_se), "dispersion_k")
    }

    /// Peak and width: from the curve, else the mean week of the catch and a flat season.
    fn season(
        &mut self,
        curve: Option<season::Curve>,
    ) -> Result<(Option<Estimate>, Estimate), Problem> {
        if let Some(c) = curve {
            let peak = Estimate::plain(c.peak, c.peak_se);
            let width = Estimate::log_scale(c.width, c.width_se / c.width);
            let peak = self.within(peak, "season_peak_week");
            return Ok((Some(peak), self.within(width, "season_width_weeks")));
        }
        // A mean catch may not be taken for a narrow season's peak: the toll of weeks away from it would be lost.
        let flat = bounds("season_width_weeks", self.target.is_some()).map_or(60.0, |b| b.1);
        let width = Estimate {
            source: Source::Guess,
            ..Estimate::bare(flat)
        };
        let rows = &self.counts.rows;
        let (Some(weeks), Some(mean)) = (Weeks::of(rows), season::mean_week(rows)) else {
            return Ok((None, width));
        };
        if season::over_new_year(rows) {
            return Ok((None, width));
        }
        self.note(&format!(
            "the season's peak is given as the mean week of the catch, {mean:.1}, with the weeks sampled as its range; the season is taken as flat (width {flat}), so that no week's catch is left out of the toll."
        ));
        let peak = Estimate {
            low: Some(weeks.first),
            high: Some(weeks.last),
            // Rounding can put a mean a hair outside the weeks it is a mean of.
            ..Estimate::bare(mean.clamp(weeks.first, weeks.last))
        };
        Ok((Some(peak), width))
    }

    /// Premises from totals alone.
    fn by_totals(&mut self, outcome: &str, dispersion: bool) -> Result<GroupPremises, Problem> {
        let (peak, width) = self.season(None)?;
        self.note(MEAN_CATCH);
        let (site, year) = (Estimate::common("site_sd")?, Estimate::common("year_sd")?);
        let catch = if self.counts.effort() > 0.0 {
            // The rate is a mean over sites and years; a premise is the median's.
            moments::rate(self.counts).times(exp(
                -0.5 * (site.value * site.value + year.value * year.value)
            ))
        } else {
            Estimate::bare(0.0)
        };
        let catch = self.within(catch, "catch_per_trap_week");
        let k = match moments::dispersion(self.counts) {
            Some(k) if dispersion => self.within(Estimate::bare(k), "dispersion_k"),
            _ => Estimate::common("dispersion_k")?,
        };
        Ok(GroupPremises {
            catch,
            k,
            site,
            year,
            site_year: Estimate::common("site_year_sd")?,
            peak,
            width,
            log_likelihood: None,
            outcome: outcome.to_owned(),
        })
    }
}
