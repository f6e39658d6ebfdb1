//! The answer for one plan.

use super::share::Share;
use super::significant::{Significant, coverage};
use super::toll::Toll;
use crate::closed_form::{self, Preview};
use crate::evaluate::{Ending, Replicate};
use crate::scenario::{Checked, Direction, Effect, Plan};
use models::wald::{Alternative, WaldTest};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

/// Closed-form preview as told.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct PreviewAnswer {
    /// Approximate power.
    pub power: f64,
    /// Smallest fall found with the wanted power, per cent over the question's horizon (`null` for a range shift).
    pub smallest_change_percent: Option<f64>,
    /// Smallest shift found with the wanted power, gradient units a decade (`null` for a decline).
    pub smallest_shift_per_decade: Option<f64>,
    /// Approximate share of surveys in which nothing changes that raise a false alarm.
    pub false_alarm: f64,
}

/// Fits by how they ended, over both worlds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fits {
    /// Interior optima.
    pub converged: u64,
    /// An SD of 0: used.
    pub singular: u64,
    /// Dispersion at its bound (no more scatter than Poisson): used.
    pub at_bound: u64,
    /// No fit: counted as nothing found.
    pub failed: u64,
}

/// The smallest change found with the wanted power, by simulation.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SmallestChange {
    /// Size in `unit`.
    pub estimate: f64,
    /// `percent` over the question's horizon, or gradient units a decade.
    pub unit: &'static str,
}

/// The same replicates under another test.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Comparison {
    /// `t`, `z` (the same fits) or `annual_index` (regression of yearly means).
    pub test: &'static str,
    /// Power.
    pub power: Share,
    /// False alarms.
    pub false_alarm: Share,
}

/// The answer for one plan: never a power without its interval, false alarms and fits.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Answer {
    /// The plan.
    pub plan: Plan,
    /// Share of simulated surveys that find the stated change.
    pub power: Share,
    /// Share of simulated surveys that find a change when nothing changes.
    pub false_alarm: Share,
    /// Closed forms.
    pub preview: PreviewAnswer,
    /// Smallest change found with the wanted power; `null` when none is or nothing was simulated.
    pub smallest_change: Option<SmallestChange>,
    /// How the fits ended.
    pub fits: Fits,
    /// The same replicates under other tests.
    pub comparison: Vec<Comparison>,
    /// What the significant results are worth.
    pub significant: Significant,
    /// Share of the estimates' intervals (at one less the significance level, two-sided) that hold the truth.
    pub coverage: Share,
    /// Mean estimate less the truth (slope a year, or gradient units a decade).
    pub bias: f64,
    /// SD of the estimates.
    pub estimate_sd: f64,
    /// What the plan kills; `null` before the first simulated survey.
    pub toll: Option<Toll>,
    /// SHA-256 (16 hexadecimal digits) of all estimates, errors and kills: equal results, equal digest.
    pub result_digest: String,
}

/// The test of one estimate.
pub(super) struct Test {
    test: WaldTest,
    critical: f64,
}

impl Test {
    pub(super) fn new(scenario: &Checked, df: f64) -> Self {
        let falls = !matches!(&scenario.question.effect, Effect::RangeShift(r) if r.distance_per_decade > 0.0);
        let alternative = match scenario.question.direction {
            Direction::Either => Alternative::TwoSided,
            Direction::Stated if falls => Alternative::Below,
            Direction::Stated => Alternative::Above,
        };
        let test = WaldTest {
            df,
            level: scenario.question.significance,
            alternative,
        };
        Self {
            critical: test.critical(),
            test,
        }
    }

    pub(super) fn rejects(&self, estimate: f64, se: f64) -> bool {
        self.test.rejects(estimate / se, self.critical)
    }

    fn share<'a>(&self, of: impl Iterator<Item = &'a (f64, f64)>) -> Share {
        let (mut hits, mut n) = (0, 0);
        for &(estimate, se) in of {
            n += 1;
            hits += u64::from(self.rejects(estimate, se));
        }
        Share::of(hits, n)
    }
}

/// Summarises replicates of one plan: `change` from the world of change, `still` from the one without.
pub fn summarise(
    scenario: &Checked,
    plan: &Plan,
    change: &[Replicate],
    still: &[Replicate],
) -> Answer {
    let df = closed_form::degrees_of_freedom(scenario, plan);
    let main = Test::new(scenario, df);
    let pairs = |of: &[Replicate]| of.iter().map(|r| (r.estimate, r.se)).collect::<Vec<_>>();
    let (change_pairs, still_pairs) = (pairs(change), pairs(still));
    let mut fits = Fits::default();
    for r in change.iter().chain(still) {
        match r.ending {
            Ending::Converged => fits.converged += 1,
            Ending::Singular => fits.singular += 1,
            Ending::AtBound => fits.at_bound += 1,
            Ending::Failed => fits.failed += 1,
        }
    }
    let decline = matches!(scenario.question.effect, Effect::Decline(_));
    let compare = |name, test: &Test| Comparison {
        test: name,
        power: test.share(change_pairs.iter()),
        false_alarm: test.share(still_pairs.iter()),
    };
    let t_df = closed_form::t_degrees(scenario, plan);
    let mut comparison = vec![
        compare("t", &Test::new(scenario, t_df)),
        compare("z", &Test::new(scenario, f64::INFINITY)),
    ];
    if decline {
        let test = Test::new(scenario, f64::from(plan.years) - 2.0);
        let index = |of: &[Replicate]| of.iter().map(|r| r.index).collect::<Vec<_>>();
        comparison.push(Comparison {
            test: "annual_index",
            power: test.share(index(change).iter()),
            false_alarm: test.share(index(still).iter()),
        });
    }
    let truth = truth(scenario);
    let both_sides = WaldTest {
        alternative: Alternative::TwoSided,
        ..main.test
    };
    let good: Vec<f64> = change
        .iter()
        .map(|r| r.estimate)
        .filter(|e| e.is_finite())
        .collect();
    let mean = good.iter().sum::<f64>() / good.len() as f64;
    let sd = (good.iter().map(|e| (e - mean) * (e - mean)).sum::<f64>()
        / (good.len() as f64 - 1.0))
        .sqrt();
    Answer {
        plan: plan.clone(),
        power: main.share(change_pairs.iter()),
        false_alarm: main.share(still_pairs.iter()),
        preview: told(scenario, &closed_form::preview(scenario, plan)),
        smallest_change: smallest(scenario, plan, &main, &change_pairs, truth),
        fits,
        comparison,
        significant: Significant::of(&change_pairs, truth, |e, se| main.rejects(e, se)),
        coverage: coverage(&change_pairs, truth, both_sides.critical()),
        bias: mean - truth,
        estimate_sd: sd,
        toll: Toll::of(scenario, plan, change, still),
        result_digest: digest(change, still),
    }
}

/// A preview as told.
pub(crate) fn told(scenario: &Checked, preview: &Preview) -> PreviewAnswer {
    let decline = matches!(scenario.question.effect, Effect::Decline(_));
    PreviewAnswer {
        power: preview.power,
        smallest_change_percent: decline.then_some(preview.smallest_change),
        smallest_shift_per_decade: (!decline).then_some(preview.smallest_change),
        false_alarm: preview.false_alarm,
    }
}

/// The true value of the estimate in the world of change.
fn truth(scenario: &Checked) -> f64 {
    match &scenario.question.effect {
        Effect::Decline(d) => d.log_slope(),
        Effect::RangeShift(r) => r.distance_per_decade,
    }
}

/// The effect at which the wanted share of replicates would be significant: each keeps its error in units of its
/// standard error, and both grow with the effect as the closed form says.
fn smallest(
    scenario: &Checked,
    plan: &Plan,
    test: &Test,
    pairs: &[(f64, f64)],
    truth: f64,
) -> Option<SmallestChange> {
    if pairs.is_empty() {
        return None;
    }
    let sign = if truth < 0.0 { -1.0 } else { 1.0 };
    let n = pairs.len() as f64;
    let here = closed_form::standard_error(scenario, plan);
    let power = |effect: f64| {
        let ratio = closed_form::standard_error_at(scenario, plan, effect) / here;
        let found =
            |(e, se): &&(f64, f64)| test.rejects(ratio * (e - truth) + sign * effect, ratio * se);
        pairs.iter().filter(found).count() as f64 / n
    };
    let wanted = scenario.question.wanted_power;
    let mut high = truth.abs();
    while power(high) < wanted {
        high *= 1.5;
        if high > 1e3 * truth.abs() {
            return None;
        }
    }
    let mut low = 0.0;
    for _ in 0..40 {
        let mid = 0.5 * (low + high);
        if power(mid) < wanted {
            low = mid;
        } else {
            high = mid;
        }
    }
    let unit = match &scenario.question.effect {
        Effect::Decline(_) => "percent",
        Effect::RangeShift(_) => "per_decade",
    };
    Some(SmallestChange {
        estimate: closed_form::in_words_of_question(scenario, high),
        unit,
    })
}

fn digest(change: &[Replicate], still: &[Replicate]) -> String {
    let mut sha = Sha256::new();
    for r in change.iter().chain(still) {
        for v in [r.estimate, r.se].iter().chain(&r.killed).chain(&r.bycatch) {
            // One NaN is as good as another; their bits differ between machines.
            let bits = if v.is_nan() { u64::MAX } else { v.to_bits() };
            sha.update(bits.to_le_bytes());
        }
    }
    sha.finalize()
        .iter()
        .take(8)
        .map(|b| format!("{b:02x}"))
        .collect()
}
