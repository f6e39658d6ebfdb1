//! The answer for several species at once.
//!
//! Survey by survey the p-values of all species are taken together, adjusted for their number
//! ([`models::multiplicity`]) and counted. Species are simulated independently of each other.

mod found;

use super::answer::{Evidence, Fits, Judged, PreviewAnswer, SmallestChange, TestTold};
use super::calibration::nulls_needed;
use super::foreseen::foresee;
use super::p_values::PValues;
use super::share::Share;
use super::toll::Toll;
use crate::cost::{CostTotals, cost_totals};
use crate::scenario::{Checked, Control, Plan};
use found::Found;
use serde::Serialize;
use sha2::{Digest, Sha256};

/// A mean number of species with its 95 % Monte Carlo interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MeanNumber {
    /// Mean over simulated surveys; NaN without any.
    pub estimate: f64,
    /// Low end of the interval.
    pub low: f64,
    /// High end of it.
    pub high: f64,
}

/// One species of the list.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Species {
    /// Its name.
    pub name: String,
    /// The test.
    pub test: TestTold,
    /// Share of its surveys that find the change, tested at the significance level whatever the control.
    pub power: Share,
    /// Share that find a change when nothing changes, likewise.
    pub false_alarm: Share,
    /// The power under the control; `null` without one, or when it cannot be claimed.
    pub power_controlled: Option<Share>,
    /// Closed forms, without control.
    pub preview: PreviewAnswer,
    /// Smallest change found with the wanted power, without control; `null` when none is or nothing was simulated.
    pub smallest_change: Option<SmallestChange>,
    /// How the fits ended.
    pub fits: Fits,
    /// Digest of its results, as in its own answer.
    pub result_digest: String,
}

/// What is found over the list.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OverList {
    /// Share of surveys that find the change in at least the stated share of the species, when all change.
    pub answered: Share,
    /// Species found when all change.
    pub expected_found: MeanNumber,
    /// False alarms over the list when none changes.
    pub expected_false_alarms: MeanNumber,
    /// Share of surveys with at least one false alarm when none changes.
    pub any_false_alarm: Share,
}

/// The answer for several species.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Several {
    /// The question's key, as in the scenario.
    pub question: &'static str,
    /// The plan.
    pub plan: Plan,
    /// The species: the target, then the others in their order.
    pub species: Vec<Species>,
    /// Share of the species that must be answered.
    pub answered_share: f64,
    /// The same in species.
    pub needed: u32,
    /// The control that is asked for.
    pub control: Control,
    /// Each species tested at the significance level.
    pub without_control: OverList,
    /// Under the control; `null` without one, or when it cannot be claimed.
    pub under_control: Option<OverList>,
    /// The level that the smallest p-value of the list must reach: the significance level, over the number of species
    /// when there is a control.
    pub strictest_level: f64,
    /// The smallest p-value there can be, when p-values are ranks among the simulated surveys without change; `null`
    /// for other tests.
    pub smallest_p_value: Option<f64>,
    /// Surveys without change that the control should have, so that ten of them lie beyond the strictest level; `null`
    /// when there are as many or none are needed.
    pub surveys_needed: Option<u64>,
    /// The control cannot be claimed: the strictest level is below the smallest p-value.
    pub control_refused: bool,
    /// What the plan kills, all species and by-catch, when the change happens; `null` before the first survey.
    pub toll: Option<Toll>,
    /// What it costs over all years, expected; `null` when the scenario states no costs.
    pub cost: Option<CostTotals>,
    /// Digest of all species' digests.
    pub result_digest: String,
}

/// One species' simulated surveys: the scenario that is about it, its plan and what came of them.
pub type OneSpecies<'a> = (&'a Checked, &'a Plan, Evidence<'a>);

/// The answer for several species from the surveys of each, the target's first; `None` without species, or when the
/// scenario asks of one alone.
pub fn several(species: &[OneSpecies]) -> Option<Several> {
    let (scenario, plan, evidence) = species.first()?;
    let asked = scenario.question.several?;
    let judged: Vec<Judged> = species
        .iter()
        .map(|(scenario, plan, evidence)| Judged::of(scenario, plan, evidence))
        .collect();
    let p_values: Vec<PValues> = judged.iter().map(Judged::p_values).collect();
    let m = species.len();
    let level = scenario.question.significance;
    let strictest_level = match asked.control {
        Control::None => level,
        _ => level / m as f64,
    };
    let ranked: Option<u64> = p_values.iter().filter_map(|p| p.ranked_among).min();
    let smallest_p_value = ranked.map(|n| 1.0 / (n as f64 + 1.0));
    let controlled = asked.control != Control::None;
    let control_refused = controlled && smallest_p_value.is_some_and(|p| strictest_level < p);
    let surveys_needed = ranked.and_then(|n| {
        let needed = nulls_needed(strictest_level);
        (controlled && n < needed).then_some(needed)
    });
    let needed = asked.needed(m);
    let over = |control| Found::of(&p_values, control, level).told(needed);
    let under =
        (controlled && !control_refused).then(|| Found::of(&p_values, asked.control, level));
    let complete = species.iter().all(|(_, _, e)| e.complete);
    let each = species.iter().zip(&judged).enumerate();
    let species: Vec<Species> = each
        .map(|(i, ((scenario, plan, evidence), judged))| Species {
            name: scenario.premises.target.name.clone(),
            test: judged.test(scenario),
            power: judged.power(),
            false_alarm: judged.false_alarm(),
            power_controlled: under.as_ref().map(|found| found.of_species(i)),
            preview: foresee(scenario, plan),
            smallest_change: judged.smallest(scenario, plan),
            fits: judged.fits(),
            result_digest: evidence.digest(),
        })
        .collect();
    Some(Several {
        question: scenario.question.effect.key(),
        plan: (*plan).clone(),
        answered_share: asked.answered_share,
        needed,
        control: asked.control,
        without_control: over(Control::None),
        under_control: under.map(|found| found.told(needed)),
        strictest_level,
        smallest_p_value,
        surveys_needed,
        control_refused,
        toll: Toll::of(scenario, plan, evidence, complete),
        cost: cost_totals(scenario, plan),
        result_digest: if complete {
            all(&species)
        } else {
            String::new()
        },
        species,
    })
}

impl Several {
    /// Over the list under the control, or without one when there is none or it cannot be claimed.
    pub fn over_list(&self) -> &OverList {
        self.under_control.as_ref().unwrap_or(&self.without_control)
    }
}

fn all(species: &[Species]) -> String {
    let mut sha = Sha256::new();
    for s in species {
        sha.update(s.result_digest.as_bytes());
    }
    let digest = sha.finalize();
    digest.iter().take(8).map(|b| format!("{b:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::random::Stream;
    use numerics::special::normal;

    fn from(change: Vec<Vec<f64>>, still: Vec<Vec<f64>>) -> Vec<PValues> {
        let each = change.into_iter().zip(still);
        each.map(|(change, still)| PValues {
            change,
            still,
            ranked_among: None,
        })
        .collect()
    }

    /// Ranks among few surveys without change: under Holm's control the intervals of the share answered, of the species
    /// found and of one species' power hold the truth about 19 times in 20 or more.
    #[test]
    fn intervals_hold_what_ranks_leave_open() {
        let (level, n, shifts) = (0.1, 300, [2.5, 1.8, 2.2]);
        let draw = |seed: u64, n: usize, mean: f64| -> Vec<f64> {
            let mut rng = Stream::new(seed, 9);
            (0..n).map(|_| mean + rng.normal()).collect()
        };
        // The truth, from many surveys whose p-values are those of the normal law.
        let many: Vec<Vec<f64>> = (0..3)
            .map(|i| {
                let statistics = draw(1_000_000 + i, 100_000, shifts[i as usize]);
                statistics.into_iter().map(|s| normal::cdf(-s)).collect()
            })
            .collect();
        let truth = Found::of(&from(many, vec![vec![]; 3]), Control::Holm, level);
        let (power, truth) = (truth.of_species(1).estimate, truth.told(2));
        let runs = 400;
        let mut held = [0; 3];
        for run in 0..runs {
            let p: Vec<PValues> = (0..3)
                .map(|i| {
                    let seed = 6 * run + 2 * i;
                    let change = draw(seed, n, shifts[i as usize]);
                    PValues::ranked(&change, &draw(seed + 1, n, 0.0))
                })
                .collect();
            let found = Found::of(&p, Control::Holm, level);
            let (one, told) = (found.of_species(1), found.told(2));
            let ends = [
                (
                    told.answered.low,
                    truth.answered.estimate,
                    told.answered.high,
                ),
                (
                    told.expected_found.low,
                    truth.expected_found.estimate,
                    told.expected_found.high,
                ),
                (one.low, power, one.high),
            ];
            for (held, (low, truth, high)) in held.iter_mut().zip(ends) {
                *held += u64::from(low < truth && truth < high);
            }
        }
        for held in held {
            let share = held as f64 / runs as f64;
            assert!((0.925..0.995).contains(&share), "{held} of {runs}");
        }
    }

    /// Two species, three surveys, by hand at a level of .05.
    #[test]
    fn counted_survey_by_survey() {
        let nan = f64::NAN;
        let p = from(
            vec![vec![0.01, 0.04, 0.03], vec![0.04, 0.04, nan]],
            vec![vec![0.04, 0.5], vec![0.03, 0.5]],
        );
        let found = |control| Found::of(&p, control, 0.05).told(2);
        let none = found(Control::None);
        assert_eq!(
            (none.answered.estimate, none.answered.replicates),
            (2.0 / 3.0, 3)
        );
        assert_eq!(none.expected_found.estimate, 5.0 / 3.0);
        assert_eq!(none.expected_false_alarms.estimate, 1.0);
        assert_eq!(none.any_false_alarm.estimate, 0.5);
        // Bonferroni: .025; Holm finds the .04 beside the .01; Benjamini and Hochberg both of .04 too.
        assert_eq!(
            found(Control::Bonferroni).expected_found.estimate,
            1.0 / 3.0
        );
        assert_eq!(found(Control::Holm).expected_found.estimate, 2.0 / 3.0);
        assert_eq!(found(Control::Holm).expected_false_alarms.estimate, 0.0);
        let bh = found(Control::BenjaminiHochberg);
        assert_eq!(
            (bh.expected_found.estimate, bh.answered.estimate),
            (4.0 / 3.0, 2.0 / 3.0)
        );
        assert_eq!(bh.expected_false_alarms.estimate, 1.0);
    }
}
