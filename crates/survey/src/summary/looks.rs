//! Surveys that may stop at planned looks, each walked through the lines; and the same surveys without looks, and with
//! a look every year at the plain critical value.

mod cost;
mod courses;
mod toll;

use super::answer::Evidence;
use super::calibration::{Calibration, nulls_needed};
use super::judge::{Judge, alternative, plain_test};
use super::share::Share;
use crate::closed_form;
use crate::looks::{LookLines, LooksPlan, LooksPreview, Stops, expected_by_end};
use crate::scenario::{Checked, Plan, Test};
pub use cost::LooksCost;
use courses::{Course, End, Reader};
use models::wald::Alternative;
use numerics::special::normal;
use serde::Serialize;
use sha2::{Digest, Sha256};
pub use toll::{GroupSpared, LooksToll, Spared};

/// Surveys of each world whose course is kept to be shown.
const SHOWN: usize = 12;

/// Shares of surveys that stop at a look.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SimulatedStops {
    /// With a change found.
    pub found: Share,
    /// For futility.
    pub futile: Share,
}

/// One look.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LookTold {
    /// Its lines.
    #[serde(flatten)]
    pub lines: LookLines,
    /// Stops with the stated change.
    pub change: SimulatedStops,
    /// Stops without it.
    pub still: SimulatedStops,
    /// Closed form of the stops with the change.
    pub preview_change: Stops,
    /// Closed form of those without.
    pub preview_still: Stops,
    /// Fits that failed at this look in both worlds: they do not stop.
    pub failed_fits: u64,
}

/// What surveys of one world cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LooksWorld {
    /// Mean years until the end; `null` without a simulated survey.
    pub expected_years: Option<f64>,
    /// Animals killed with looks, without them, and spared; `null` without a simulated survey.
    pub toll: Option<LooksToll>,
    /// Money and hours with looks, without them, and spared; `null` when the scenario states no costs.
    pub cost: Option<LooksCost>,
}

/// A survey's course, to be shown.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ShownCourse {
    /// Whether the stated change is there.
    pub changes: bool,
    /// Its statistics at the looks until it ends, on the normal scale, positive towards the stated change; `null` where
    /// the fit failed.
    pub statistics: Vec<Option<f64>>,
    /// How it ends: "found", "wrong_way", "futile" or "not_found".
    pub ends: &'static str,
}

/// What looking again and again at the plain critical value does.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NaiveLooks {
    /// The first year that can be tested.
    pub from_year: u32,
    /// False alarms with a look after every year from then on.
    pub every_year: Share,
    /// False alarms with the planned looks alone.
    pub at_looks: Share,
}

/// The plan without looks.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FixedPlan {
    /// Its power.
    pub power: Share,
    /// Its false alarms.
    pub false_alarm: Share,
}

/// Planned looks, simulated and by closed form.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LooksAnswer {
    /// The question's key.
    pub question: &'static str,
    /// The plan with its looks.
    pub plan: Plan,
    /// The test the scenario plans.
    pub planned_test: &'static str,
    /// The test these numbers are of.
    pub test: &'static str,
    /// Nulls needed before the lines can be calibrated; `null` once they are, and with other tests.
    pub nulls_needed: Option<u64>,
    /// How much farther out the calibrated lines lie than designed, on the normal scale; 1 with other tests.
    pub factor: f64,
    /// The looks.
    pub looks: Vec<LookTold>,
    /// Share of surveys with the change that find it at any look.
    pub power: Share,
    /// Share of surveys without the change that find one at any look, futility heeded.
    pub false_alarm: Share,
    /// The same when futility, which is not binding, is never heeded; `null` where it is binding or there is none.
    pub false_alarm_unheeded: Option<Share>,
    /// False alarms of the lines as designed, without calibration; futility heeded only where it is binding.
    pub false_alarm_as_designed: Share,
    /// Share of surveys with the change that stop with one found the wrong way.
    pub wrong_way: Share,
    /// With the stated change.
    pub change: LooksWorld,
    /// Without it.
    pub still: LooksWorld,
    /// The plan without looks.
    pub fixed: FixedPlan,
    /// Looks without lines of their own.
    pub naive: NaiveLooks,
    /// Closed forms.
    pub preview: LooksPreview,
    /// Some simulated surveys.
    pub shown: Vec<ShownCourse>,
    /// Digest of all simulated surveys; empty as long as some are to come.
    pub result_digest: String,
}

/// The years after which surveys are analysed: every year from the first that can be tested, so that planned looks and
/// the practice of looking every year are judged by the same surveys.
pub fn analysed_years(scenario: &Checked) -> Vec<u32> {
    (scenario.fewest_years()..=scenario.plan.years).collect()
}

/// The answer from surveys analysed after each of [`analysed_years`]; the last entry is the whole survey.
pub fn looks_answer(
    scenario: &Checked,
    plan: &LooksPlan,
    preview: &LooksPreview,
    evidence: &[Evidence],
) -> LooksAnswer {
    let years = analysed_years(scenario);
    let planned = scenario.analysis.test;
    let reader = Reader::new(scenario, plan, &years);
    let (change, still) = (reader.change(evidence), reader.still(evidence));
    let heeded = plan.design.futility.is_some();
    let binding = plan.design.futility.is_some_and(|f| f.binding);
    let best =
        |of: &[Course], heeded: bool| -> Vec<f64> { of.iter().map(|c| c.best(heeded)).collect() };
    let level = scenario.question.significance;
    let calibration = (planned == Test::Calibrated)
        .then(|| Calibration::of(best(&still, binding).into_iter(), level))
        .flatten();
    let factor = calibration.as_ref().map_or(1.0, |c| c.critical);
    let share = |of: &[f64], factor: f64| {
        let hits = of.iter().filter(|r| **r > factor).count() as u64;
        Share::of(hits, of.len() as u64)
    };
    // The rate whose level the lines are made to hold.
    let held = |c: Option<&Calibration>| match c {
        Some(c) => c.false_alarm(),
        None => share(&best(&still, binding), 1.0),
    };
    let false_alarm = if heeded && !binding {
        share(&best(&still, true), factor)
    } else {
        held(calibration.as_ref())
    };
    let power = match &calibration {
        Some(c) => c.share(&best(&change, true)),
        None => share(&best(&change, true), 1.0),
    };
    let ends = |of: &[Course]| -> Vec<End> { of.iter().map(|c| c.end(factor)).collect() };
    let (change_ends, still_ends) = (ends(&change), ends(&still));
    let wrong = change_ends.iter().filter(|e| e.wrong_way).count() as u64;
    let whole = evidence.last();
    let lines = plan.told(factor);
    let looks = lines.iter().enumerate().map(|(k, &lines)| LookTold {
        lines,
        change: stops(&change_ends, k),
        still: stops(&still_ends, k),
        preview_change: preview.change.stops[k],
        preview_still: preview.still.stops[k],
        failed_fits: change.iter().chain(&still).filter(|c| c.failed(k)).count() as u64,
    });
    let shown = |of: &[Course], ends: &[End], changes: bool| -> Vec<ShownCourse> {
        let pairs = of.iter().zip(ends).take(SHOWN);
        pairs.map(|(c, e)| c.shown(*e, changes)).collect()
    };
    let mut all_shown = shown(&change, &change_ends, true);
    all_shown.extend(shown(&still, &still_ends, false));
    let used = match (&calibration, planned) {
        (None, Test::Calibrated) => plain_test(scenario),
        _ => planned,
    };
    LooksAnswer {
        question: scenario.question.effect.key(),
        plan: scenario.plan.clone(),
        planned_test: planned.key(),
        test: used.key(),
        nulls_needed: (used != planned).then(|| nulls_needed(level)),
        factor,
        looks: looks.collect(),
        power,
        false_alarm,
        false_alarm_unheeded: (heeded && !binding).then(|| held(calibration.as_ref())),
        false_alarm_as_designed: share(&best(&still, binding), 1.0),
        wrong_way: Share::of(wrong, change_ends.len() as u64),
        change: LooksWorld {
            expected_years: expected_years(plan, &change_ends),
            toll: whole.and_then(|w| toll::with_change(scenario, &plan.years, w, &change_ends)),
            cost: cost::of(scenario, plan, &change_ends),
        },
        still: LooksWorld {
            expected_years: expected_years(plan, &still_ends),
            toll: whole.and_then(|w| toll::without(scenario, &plan.years, w, &still_ends)),
            cost: cost::of(scenario, plan, &still_ends),
        },
        fixed: fixed(scenario, whole, used),
        naive: naive(scenario, &years, &still),
        preview: preview.clone(),
        shown: all_shown,
        result_digest: digest(evidence),
    }
}

fn stops(ends: &[End], look: usize) -> SimulatedStops {
    let n = ends.len() as u64;
    let of = |found: bool| {
        let here = |e: &&End| e.look == look && if found { e.found } else { e.futile };
        Share::of(ends.iter().filter(here).count() as u64, n)
    };
    SimulatedStops {
        found: of(true),
        futile: of(false),
    }
}

/// Share of surveys that end at each look.
fn shares(looks: usize, ends: &[End]) -> Option<Vec<f64>> {
    let n = ends.len() as f64;
    let at = |k: usize| ends.iter().filter(|e| e.look == k).count() as f64 / n;
    (!ends.is_empty()).then(|| (0..looks).map(at).collect())
}

fn expected_years(plan: &LooksPlan, ends: &[End]) -> Option<f64> {
    let ones = vec![1.0; plan.years.last().map_or(0, |&y| y as usize)];
    let shares = shares(plan.years.len(), ends)?;
    Some(expected_by_end(&shares, &plan.years, &ones))
}

/// The whole survey's test, once.
fn fixed(scenario: &Checked, whole: Option<&Evidence>, test: Test) -> FixedPlan {
    let of = |replicates: &[&crate::evaluate::Replicate]| -> Vec<_> {
        replicates.iter().map(|r| r.finding).collect()
    };
    let (change, still) = whole.map_or_else(Default::default, |w| (of(&w.change), of(&w.still)));
    let side = alternative(scenario);
    let judge = |test| Judge::new(scenario, &scenario.plan, test, side, &still, 0.0);
    let none = Share::of(0, 0);
    match judge(test).or_else(|| judge(plain_test(scenario))) {
        Some(judge) => FixedPlan {
            power: judge.power(&change),
            false_alarm: judge.false_alarm(&still),
        },
        None => FixedPlan {
            power: none,
            false_alarm: none,
        },
    }
}

fn naive(scenario: &Checked, years: &[u32], still: &[Course]) -> NaiveLooks {
    let two = alternative(scenario) == Alternative::TwoSided;
    let tail = scenario.question.significance / if two { 2.0 } else { 1.0 };
    let critical = -normal::quantile(tail);
    let n = still.len() as u64;
    let count = |any: &dyn Fn(&Course) -> bool| {
        let hits = still.iter().filter(|c| any(c)).count() as u64;
        Share::of(hits, n)
    };
    NaiveLooks {
        from_year: years.first().copied().unwrap_or(scenario.plan.years),
        every_year: count(&|c| c.any_year_beyond(critical)),
        at_looks: count(&|c| c.any_look_beyond(critical)),
    }
}

fn digest(evidence: &[Evidence]) -> String {
    if !evidence.iter().all(|e| e.complete) {
        return String::new();
    }
    let mut sha = Sha256::new();
    for e in evidence {
        sha.update(e.digest().as_bytes());
    }
    let digest = sha.finalize();
    digest.iter().take(8).map(|b| format!("{b:02x}")).collect()
}

/// The sign of the stated change: statistics are turned so that it speaks above.
fn towards(scenario: &Checked) -> Alternative {
    match alternative(scenario) {
        Alternative::TwoSided if closed_form::truth(scenario) > 0.0 => Alternative::Above,
        Alternative::TwoSided => Alternative::Below,
        one => one,
    }
}
