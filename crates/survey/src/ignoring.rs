//! What it costs when the analysis is not told of something: the same simulated surveys, analysed by one that knows and
//! by one that does not.

use crate::scenario::{Checked, Fault, Known, Rows, Test};
use crate::summary::{Answer, Fits, Share};
use serde::Serialize;

/// What this world holds that an analysis may be told of.
pub fn relevant(scenario: &Checked) -> Vec<Known> {
    if !scenario.question.effect.counts() {
        return Vec::new();
    }
    let (p, d) = (&scenario.premises, &scenario.premises.departures);
    let there = |known: &Known| match known {
        Known::Losses => p.trap_loss.value > 0.0,
        Known::SiteSlopes => d.site_slope_sd.value > 0.0,
        Known::YearAutocorrelation => d.year_autocorrelation.value != 0.0,
        Known::SiteCorrelation => d.correlation_length_km.value > 0.0,
        Known::SharedWeeks => d.shared_week_sd.value > 0.0 && scenario.plan.weeks > 1,
        Known::DetectionDrift => d.detection_drift_percent.value != 0.0,
    };
    Known::ALL.into_iter().filter(there).collect()
}

/// The scenario with an analysis that is told of `known`, or not. Shared weeks are told apart in rows of weeks; the
/// annual index knows of nothing, so that the mixed model takes its place.
///
/// # Errors
/// When the analysis would be too large.
pub fn telling(scenario: &Checked, known: Known, told: bool) -> Result<Checked, Vec<Fault>> {
    let mut s = scenario.clone().into_inner();
    let a = &mut s.analysis;
    if told {
        a.knows.insert(known);
    } else {
        a.knows.remove(&known);
    }
    if told && known == Known::SharedWeeks {
        a.rows = Rows::Weeks;
    }
    if a.test == Test::AnnualIndex {
        a.test = Test::Calibrated;
    }
    s.check()
}

/// What one of the two analyses finds.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Side {
    /// False alarms of the plain t test.
    pub false_alarm: Share,
    /// Power of the plain t test.
    pub power: Share,
    /// Power at the accepted level: the critical value comes from surveys of this world without a change; `null` with
    /// too few of them.
    pub power_at_level: Option<Share>,
    /// Share of the intervals that hold the truth.
    pub coverage: Share,
    /// Mean estimate less the truth (slope a year, or gradient units a decade).
    pub bias: f64,
    /// How the fits ended.
    pub fits: Fits,
}

impl Side {
    fn of(answer: &Answer) -> Option<Self> {
        let by = |test: Test| answer.comparison.iter().find(|c| c.test == test.key());
        let t = by(Test::T)?;
        Some(Self {
            false_alarm: t.false_alarm,
            power: t.power,
            power_at_level: by(Test::Calibrated).map(|c| c.power),
            coverage: answer.coverage,
            bias: answer.bias,
            fits: answer.fits,
        })
    }
}

/// The cost of not telling the analysis of one thing.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cost {
    /// What it is told of, or not.
    pub of: Known,
    /// The analysis that knows.
    pub told: Side,
    /// The analysis that does not.
    pub untold: Side,
    /// Power at the accepted level that is lost by not knowing; below 0 when knowing costs more than it brings. `null`
    /// with too few surveys.
    pub power_lost: Option<f64>,
}

impl Cost {
    /// From the answers of both analyses on the same surveys.
    pub fn new(of: Known, told: &Answer, untold: &Answer) -> Option<Self> {
        let (told, untold) = (Side::of(told)?, Side::of(untold)?);
        let both = told.power_at_level.zip(untold.power_at_level);
        Some(Self {
            of,
            power_lost: both.map(|(t, u)| t.estimate - u.estimate),
            told,
            untold,
        })
    }
}
