//! What is said of an answer about a baseline: how the interval is made, what it misses, what the precise surveys say.

use crate::number::{decimals, percent, plain};
use survey::scenario::{Effect, Scenario};
use survey::summary::Answer;

/// Whether the question is one of a baseline.
pub(super) fn is_asked(scenario: &Scenario) -> bool {
    matches!(scenario.question.effect, Effect::Baseline(_))
}

/// The confidence of the interval.
pub(super) fn confidence(scenario: &Scenario) -> String {
    percent_of(1.0 - scenario.question.significance)
}

/// A share in per cent, without decimals that say nothing.
fn percent_of(share: f64) -> String {
    format!("{} %", plain((1000.0 * share).round() / 10.0))
}

/// How the interval is made and what it is held against.
pub const INTERVAL: &str = "The estimate is the mean over sites of each site's catch over its trap-weeks counted; its interval runs from the estimate times e^-r to the estimate times e^r, r being Student's t (sites less 1 degrees of freedom) times the standard error between sites over the estimate. It is held against the expected mean over all sites of the region in the years trapped: good or bad as these years were, a baseline of them and of no others.";

/// Whether the intervals miss the truth far more often than accepted: surely more than twice.
pub(super) fn far_off(scenario: &Scenario, answer: &Answer) -> bool {
    answer.false_alarm.replicates > 0
        && answer.false_alarm.low > 2.0 * scenario.question.significance
}

/// A warning when surely more intervals miss the truth than accepted.
pub(super) fn warning(scenario: &Scenario, answer: &Answer) -> Option<String> {
    let missed = &answer.false_alarm;
    (missed.replicates > 0 && missed.low > scenario.question.significance).then(|| {
        format!(
            "More intervals miss the truth than the {} accepted: {}. Catches are skewed, and a survey without the rare rich site sees too low a mean and too little scatter; more sites mend it, more traps and weeks hardly do.",
            percent_of(scenario.question.significance),
            percent(missed.estimate)
        )
    })
}

/// What stands beside the answer.
pub(super) fn notes(answer: &Answer) -> Vec<String> {
    let f = &answer.fits;
    let all = f.converged + f.singular + f.at_bound + f.failed;
    let mut notes = vec![INTERVAL.into()];
    if f.failed > 0 {
        notes.push(format!(
            "{} of {all} surveys tell nothing, because nothing was caught or fewer than two sites had a trap left; they count as imprecise, and as missing the truth.",
            f.failed
        ));
    }
    if let Some(ratio) = answer.significant.exaggeration {
        notes.push(format!(
            "Of the {} surveys that are as precise as wanted, the estimate is on average {} times the truth; of all surveys, {} of intervals hold the truth (95 % interval {} to {}).",
            answer.significant.found,
            decimals(ratio, 2),
            percent(answer.coverage.estimate),
            percent(answer.coverage.low),
            percent(answer.coverage.high)
        ));
    }
    notes
}
