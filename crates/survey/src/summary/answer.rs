//! The answer for one plan.

use super::calibration::nulls_needed;
use super::foreseen::{Foreseen, foresee};
use super::judge::{Judge, Moved, alternative, no_worse, plain_test};
use super::occupied::OccupancyTold;
use super::p_values::PValues;
use super::range_shift::RangeShiftTold;
use super::share::Share;
use super::significant::{Significant, coverage};
use super::toll::Toll;
use crate::closed_form::{self, Preview};
use crate::cost::PlanCost;
use crate::evaluate::{Ending, Finding, Replicate};
use crate::futures::Stamp;
use crate::scenario::{Checked, Effect, Likelihood, Plan, Rows, Test};
use models::wald::Alternative;
use numerics::maths::exp;
use numerics::root::bracketed;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

/// Closed-form preview as told.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PreviewAnswer {
    /// Approximate power.
    pub power: f64,
    /// Smallest fall found with the wanted power, per cent over the question's horizon (`null` but for a decline).
    pub smallest_change_percent: Option<f64>,
    /// Smallest shift found with the wanted power, gradient units a decade (`null` but for a range shift).
    pub smallest_shift_per_decade: Option<f64>,
    /// Smallest change found with the wanted power, whatever the question; `null` when none is.
    pub smallest_change: Option<SmallestChange>,
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
    /// `percent`: fall over the question's horizon (of a claim the margin), or the difference or change in per cent (below 0
    /// for fewer), or of a baseline the precision that the wanted share of surveys reaches; `per_decade`: gradient units a
    /// decade; `share`: of sites occupied at the end, or of the community recorded; `per_trap_week`: mean
    /// catch of a trap-week at the season's peak.
    pub unit: &'static str,
}

/// The same replicates under another test.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Comparison {
    /// The test's key: `calibrated`, `t`, `satterthwaite`, `z`, `likelihood_ratio` or `annual_index`.
    pub test: &'static str,
    /// Power.
    pub power: Share,
    /// False alarms.
    pub false_alarm: Share,
}

/// The answer for one plan: never a power without its interval, false alarms and fits.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Answer {
    /// The question's key, as in the scenario.
    pub question: &'static str,
    /// The plan.
    pub plan: Plan,
    /// The test.
    pub test: TestTold,
    /// Share of simulated surveys that find the stated change; of a baseline, whose interval is as narrow as wanted.
    pub power: Share,
    /// Share of simulated surveys that find a change when nothing changes; of a baseline, whose interval misses the truth.
    pub false_alarm: Share,
    /// Closed forms.
    pub preview: PreviewAnswer,
    /// Smallest change found with the wanted power; `null` when none is or nothing was simulated.
    pub smallest_change: Option<SmallestChange>,
    /// The claim of no fall worse than the stated one; `null` for a range shift.
    pub no_worse: Option<NoWorse>,
    /// Sites without the treatment that a published formula for two rates asks for, which knows no sites that differ
    /// otherwise than their counts; `null` but for a difference, two-sided and not in pairs.
    pub sites_by_rates: Option<f64>,
    /// Profile intervals, detection and placing of sites; `null` but for a range shift.
    pub range_shift: Option<RangeShiftTold>,
    /// Detection and effort; `null` but for the question of occupancy.
    pub occupancy: Option<OccupancyTold>,
    /// How the fits ended.
    pub fits: Fits,
    /// The same replicates under other tests.
    pub comparison: Vec<Comparison>,
    /// What the significant results are worth.
    pub significant: Significant,
    /// Share of the estimates' intervals (at one less the significance level, two-sided) that hold the truth.
    pub coverage: Share,
    /// Mean estimate less the truth (slope a year, or gradient units a decade; of a baseline catch per trap-week); of an
    /// inventory, the mean of the share that a survey estimates of itself less the one it reached.
    pub bias: f64,
    /// SD of the estimates; of a baseline about the truth, which differs with the years drawn.
    pub estimate_sd: f64,
    /// What the plan kills; `null` before the first simulated survey.
    pub toll: Option<Toll>,
    /// What the plan costs, expected; `null` when the scenario states no costs.
    pub cost: Option<PlanCost>,
    /// SHA-256 (16 hexadecimal digits) of all estimates, errors and kills: equal results, equal digest.
    pub result_digest: String,
}

/// The test behind power and false alarms.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TestTold {
    /// The test the scenario plans.
    pub planned: &'static str,
    /// The test these numbers are of: another than the planned one as long as there are too few nulls.
    pub used: &'static str,
    /// What the statistic must exceed; `null` when it differs from survey to survey.
    pub critical: Option<f64>,
    /// Low end of the 95 % interval of a critical value taken from nulls.
    pub critical_low: Option<f64>,
    /// High end of it.
    pub critical_high: Option<f64>,
    /// Nulls needed before the planned test can be used; `null` once it is.
    pub nulls_needed: Option<u64>,
}

/// The claim that the catch has fallen by no more than the stated fall over the question's horizon: a one-sided test
/// at the significance level against that margin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct NoWorse {
    /// The margin: fall in per cent over the horizon.
    pub margin_percent: f64,
    /// Share of surveys that may make the claim when nothing changes.
    pub power: Share,
    /// Share that make it although the fall is just the margin.
    pub false_claim: Share,
}

/// Simulated surveys of one plan: what numbers are told from.
#[derive(Clone, Debug)]
pub struct Evidence<'a> {
    /// Surveys of the world of change, in the order of their numbers.
    pub change: Vec<&'a Replicate>,
    /// Of the world without the change.
    pub still: Vec<&'a Replicate>,
    /// All that were asked for have come: only then are they worth a digest.
    pub complete: bool,
}

/// The findings of the surveys and the tests that judge them.
pub(super) struct Judged {
    found: Vec<Finding>,
    nulls: Vec<Finding>,
    /// The test that is used: the planned one, or what stands in for it.
    test: Test,
    main: Judge,
    both_sides: Judge,
}

impl Judged {
    pub fn of(scenario: &Checked, plan: &Plan, evidence: &Evidence) -> Self {
        let (found, nulls) = (findings(&evidence.change), findings(&evidence.still));
        let side = alternative(scenario);
        let judge = |test, side| Judge::new(scenario, plan, test, side, &nulls, 0.0);
        let planned = scenario.analysis.test;
        let test = if judge(planned, side).is_some() {
            planned
        } else {
            plain_test(scenario)
        };
        // Every test but the calibrated one has a judge without nulls.
        let (Some(main), Some(both_sides)) =
            (judge(test, side), judge(test, Alternative::TwoSided))
        else {
            unreachable!("{test:?} needs no nulls or has them")
        };
        Self {
            found,
            nulls,
            test,
            main,
            both_sides,
        }
    }

    pub fn power(&self) -> Share {
        self.main.power(&self.found)
    }

    pub fn false_alarm(&self) -> Share {
        self.main.false_alarm(&self.nulls)
    }

    pub fn fits(&self) -> Fits {
        let mut fits = Fits::default();
        for f in self.found.iter().chain(&self.nulls) {
            match f.ending {
                Ending::Converged => fits.converged += 1,
                Ending::Singular => fits.singular += 1,
                Ending::AtBound => fits.at_bound += 1,
                Ending::Failed => fits.failed += 1,
            }
        }
        fits
    }

    pub fn p_values(&self) -> PValues {
        PValues::of(&self.main, &self.found, &self.nulls)
    }

    pub fn smallest(&self, scenario: &Checked, plan: &Plan) -> Option<SmallestChange> {
        let truth = closed_form::truth(scenario);
        smallest(scenario, plan, &self.main, &self.found, truth)
    }

    pub fn test(&self, scenario: &Checked) -> TestTold {
        told_test(scenario, &self.main)
    }
}

/// Summarises simulated surveys of one plan.
pub fn summarise(scenario: &Checked, plan: &Plan, evidence: &Evidence) -> Answer {
    let foreseen = Foreseen::of(scenario, plan, foresee(scenario, plan));
    summarise_foreseen(scenario, plan, &foreseen, evidence)
}

/// The same where what hangs on no survey is known already.
pub fn summarise_foreseen(
    scenario: &Checked,
    plan: &Plan,
    foreseen: &Foreseen,
    evidence: &Evidence,
) -> Answer {
    let judged = Judged::of(scenario, plan, evidence);
    let (main, found, nulls) = (&judged.main, &judged.found[..], &judged.nulls[..]);
    let truth = closed_form::truth(scenario);
    // A claim of absence measures nothing; an inventory its share.
    let inventory = matches!(scenario.question.effect, Effect::Inventory(_));
    let measured = !inventory && !matches!(scenario.question.effect, Effect::Absence(_));
    let interval = main.interval();
    let estimate = |f: &Finding| match interval {
        // About the truth, which is that survey's own: so the bias is the mean.
        Some(_) => f.estimate - f.truth + truth,
        None => main.pair(f).0,
    };
    let good: Vec<f64> = found
        .iter()
        .map(estimate)
        .filter(|e| e.is_finite())
        .collect();
    let mean = good.iter().sum::<f64>() / good.len() as f64;
    let sd = (good.iter().map(|e| (e - mean) * (e - mean)).sum::<f64>()
        / (good.len() as f64 - 1.0))
        .sqrt();
    Answer {
        question: scenario.question.effect.key(),
        plan: plan.clone(),
        test: judged.test(scenario),
        power: judged.power(),
        false_alarm: judged.false_alarm(),
        preview: foreseen.preview,
        smallest_change: judged.smallest(scenario, plan),
        no_worse: no_worse_told(scenario, plan, judged.test, found, nulls),
        sites_by_rates: foreseen.sites_by_rates,
        range_shift: (foreseen.range_shift.as_ref()).map(|r| r.with_surveys(scenario, found)),
        occupancy: foreseen.occupancy,
        fits: judged.fits(),
        comparison: comparison(scenario, plan, found, nulls),
        significant: match interval {
            Some(_) => Significant::of_precise(main, found),
            None if measured => Significant::of(main, found, truth),
            // What is caught or recorded is no estimate that could be too large.
            None => Significant {
                wrong_sign: None,
                exaggeration: None,
                ..Significant::of(main, found, truth)
            },
        },
        coverage: match interval {
            // Of the same surveys as the misses, so that the two add up.
            Some(interval) => interval.coverage(nulls),
            None if measured => coverage(&judged.both_sides, found, truth),
            None => Share::of(0, 0),
        },
        bias: if measured {
            mean - truth
        } else if inventory {
            claimed_too_much(found)
        } else {
            f64::NAN
        },
        estimate_sd: if measured || inventory { sd } else { f64::NAN },
        toll: Toll::of(scenario, plan, evidence, true),
        cost: foreseen.cost.clone(),
        result_digest: evidence.digest(),
    }
}

/// What each of the first `count` surveys of both worlds comes to: those of the world of change, then the others.
pub fn stamps(
    scenario: &Checked,
    plan: &Plan,
    evidence: &Evidence,
    count: usize,
) -> (Vec<Stamp>, Vec<Stamp>) {
    let judged = Judged::of(scenario, plan, evidence);
    let truth = closed_form::truth(scenario);
    let of_change = |f: &Finding| {
        // A baseline looks for nothing that could be the wrong way.
        let right = judged.main.interval().is_some() || judged.main.pair(f).0 * truth > 0.0;
        match judged.main.finds(f) {
            true if right => Stamp::Found,
            true => Stamp::WrongWay,
            false => Stamp::Missed,
        }
    };
    let of_still = |f: &Finding| {
        if judged.main.is_false(f) {
            Stamp::FalseAlarm
        } else {
            Stamp::Quiet
        }
    };
    (
        judged.found.iter().take(count).map(of_change).collect(),
        judged.nulls.iter().take(count).map(of_still).collect(),
    )
}

/// By how much the share that surveys estimate of themselves is above the one they reached, on average.
fn claimed_too_much(found: &[Finding]) -> f64 {
    let over = found.iter().map(|f| f.se - f.estimate);
    over.sum::<f64>() / found.len() as f64
}

fn findings(of: &[&Replicate]) -> Vec<Finding> {
    of.iter().map(|r| r.finding).collect()
}

fn told_test(scenario: &Checked, judge: &Judge) -> TestTold {
    let planned = scenario.analysis.test;
    let calibration = judge.calibration();
    let waiting = planned != judge.test;
    let key = |test: Test| match scenario.question.effect {
        Effect::Absence(_) => "any_caught",
        Effect::Baseline(_) => "interval",
        Effect::Inventory(_) => "share_recorded",
        _ => test.key(),
    };
    TestTold {
        planned: key(planned),
        used: key(judge.test),
        critical: judge.fixed_critical(),
        critical_low: calibration.map(|c| c.low),
        critical_high: calibration.map(|c| c.high),
        nulls_needed: waiting.then(|| nulls_needed(scenario.question.significance)),
    }
}

/// The same surveys under every test that this analysis allows.
fn comparison(
    scenario: &Checked,
    plan: &Plan,
    change: &[Finding],
    still: &[Finding],
) -> Vec<Comparison> {
    let effect = &scenario.question.effect;
    if effect.is_chance() {
        return Vec::new();
    }
    let occupancy = scenario.by_occupancy();
    let offered = |test: &Test| match test {
        // Of an edge it is taken only where it is planned.
        Test::LikelihoodRatio => {
            let taken = matches!(effect, Effect::Occupancy(_));
            taken || scenario.analysis.test == Test::LikelihoodRatio
        }
        Test::Satterthwaite => !occupancy && scenario.analysis.likelihood == Likelihood::Restricted,
        Test::AnnualIndex => effect.is_trend() && scenario.analysis.rows == Rows::SiteYears,
        Test::T => !occupancy,
        Test::Calibrated | Test::Z => true,
    };
    let side = alternative(scenario);
    let tests = Test::ALL.into_iter().filter(offered);
    tests
        .filter_map(|test| {
            let judge = Judge::new(scenario, plan, test, side, still, 0.0)?;
            Some(Comparison {
                test: test.key(),
                power: judge.power(change),
                false_alarm: judge.false_alarm(still),
            })
        })
        .collect()
}

fn no_worse_told(
    scenario: &Checked,
    plan: &Plan,
    test: Test,
    change: &[Finding],
    still: &[Finding],
) -> Option<NoWorse> {
    let Effect::Decline(d) = &scenario.question.effect else {
        return None;
    };
    // Without enough surveys of the world of change for a critical value, the t test stands in, as above.
    let claim = |test| no_worse(scenario, plan, test, d.log_slope(), change, still);
    let (power, false_claim) = claim(test).or_else(|| claim(Test::T))?;
    Some(NoWorse {
        margin_percent: d.change_percent,
        power,
        false_claim,
    })
}

/// A preview as told.
pub(super) fn told(scenario: &Checked, preview: &Preview) -> PreviewAnswer {
    let of = |key: &str| scenario.question.effect.key() == key;
    let smallest = preview.smallest_change;
    PreviewAnswer {
        power: preview.power,
        smallest_change_percent: of("decline").then_some(smallest),
        smallest_shift_per_decade: of("range_shift").then_some(smallest),
        smallest_change: smallest.is_finite().then(|| SmallestChange {
            estimate: smallest,
            unit: closed_form::unit(scenario),
        }),
        false_alarm: preview.false_alarm,
    }
}

/// Relative width to which that effect is found: among some thousand surveys much finer than what they tell apart.
const EFFECT_WITHIN: f64 = 1e-6;

/// The effect at which the wanted share of replicates would be significant: each keeps its error in units of its
/// standard error, and both grow with the effect as the closed form says.
fn smallest(
    scenario: &Checked,
    plan: &Plan,
    judge: &Judge,
    change: &[Finding],
    truth: f64,
) -> Option<SmallestChange> {
    if change.is_empty() {
        return None;
    }
    if let Effect::Absence(a) = &scenario.question.effect {
        return smallest_density(scenario, change, a.catch_per_trap_week);
    }
    if let Some(interval) = judge.interval() {
        let reached = interval.reached(change, scenario.question.wanted_power)?;
        return Some(SmallestChange {
            estimate: closed_form::in_words_of_question(scenario, reached),
            unit: closed_form::unit(scenario),
        });
    }
    if let Effect::Inventory(_) = &scenario.question.effect {
        return Some(share_reached(scenario, change));
    }
    let sign = if truth < 0.0 { -1.0 } else { 1.0 };
    let n = change.len() as f64;
    let here = closed_form::standard_error(scenario, plan);
    let power = |effect: f64| {
        let moved = Moved {
            truth,
            to: sign * effect,
            ratio: closed_form::standard_error_at(scenario, plan, effect) / here,
        };
        let found = |f: &&Finding| judge.finds_moved(f, moved);
        change.iter().filter(found).count() as f64 / n
    };
    let wanted = scenario.question.wanted_power;
    // Where estimates are off, surveys moved to no effect at all may still find one: that is no smallest change.
    if power(0.0) >= wanted {
        return None;
    }
    let mut high = closed_form::first_enough(scenario, |effect| power(effect) >= wanted)?;
    let mut low = 0.0;
    while high - low > EFFECT_WITHIN * high {
        let mid = 0.5 * (low + high);
        if power(mid) < wanted {
            low = mid;
        } else {
            high = mid;
        }
    }
    Some(SmallestChange {
        estimate: closed_form::in_words_of_question(scenario, high),
        unit: closed_form::unit(scenario),
    })
}

/// The largest share of the community that the wanted share of surveys reaches.
fn share_reached(scenario: &Checked, surveys: &[Finding]) -> SmallestChange {
    let mut reached: Vec<f64> = surveys.iter().map(|f| f.estimate).collect();
    reached.sort_by(|a, b| b.total_cmp(a));
    let enough = (scenario.question.wanted_power * reached.len() as f64 - 1e-9).ceil();
    SmallestChange {
        estimate: reached[(enough as usize).clamp(1, reached.len()) - 1],
        unit: closed_form::unit(scenario),
    }
}

/// The density at which the wanted share of surveys would catch some: counts are Poisson numbers about a mean that is
/// proportional to the density, so that each survey with its mean m at the stated one catches some with chance 1 -
/// e^(-m q) at q times that density.
fn smallest_density(
    scenario: &Checked,
    surveys: &[Finding],
    density: f64,
) -> Option<SmallestChange> {
    let caught = |q: f64| {
        let each = surveys.iter().map(|f| 1.0 - exp(-f.se * q));
        each.sum::<f64>() / surveys.len() as f64
    };
    let wanted = scenario.question.wanted_power;
    let short = |log: f64| caught(exp(log)) - wanted;
    let (mut low, mut high) = (0.0, 0.0);
    while short(high) < 0.0 {
        high += 1.0;
        if high > 60.0 {
            return None;
        }
    }
    while short(low) >= 0.0 {
        low -= 1.0;
        if low < -60.0 {
            return None;
        }
    }
    Some(SmallestChange {
        estimate: density * exp(bracketed(short, low, high, 1e-9)),
        unit: closed_form::unit(scenario),
    })
}

impl<'a> Evidence<'a> {
    /// All that were asked for.
    pub fn whole(change: &'a [Replicate], still: &'a [Replicate]) -> Self {
        Self {
            change: change.iter().collect(),
            still: still.iter().collect(),
            complete: true,
        }
    }

    /// Digest of the results; empty as long as some are to come.
    pub(super) fn digest(&self) -> String {
        if !self.complete {
            return String::new();
        }
        let mut sha = Sha256::new();
        for r in self.change.iter().chain(&self.still) {
            let f = &r.finding;
            let ratio = (!f.root.is_nan()).then_some(f.root);
            let numbers = [f.estimate, f.se].into_iter().chain(ratio);
            let kills = r.killed.iter().chain(&r.bycatch).copied();
            for v in numbers.chain(kills) {
                // One NaN is as good as another; their bits differ between machines.
                let bits = if v.is_nan() { u64::MAX } else { v.to_bits() };
                sha.update(bits.to_le_bytes());
            }
        }
        let digest = sha.finalize();
        digest.iter().take(8).map(|b| format!("{b:02x}")).collect()
    }
}
