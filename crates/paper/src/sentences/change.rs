//! The change that is asked about, in words: what surveys find, and the smallest one that is found.

use super::baseline::confidence;
use super::question::more_or_fewer;
use super::shift_words;
use crate::number::{decimals, percent, percent_fine, plain};
use survey::scenario::{Effect, Recorded, Scenario};
use survey::summary::Answer;

/// What surveys that answer do: "would find the fall".
pub fn found(scenario: &Scenario) -> &'static str {
    match scenario.question.effect {
        Effect::Decline(_) => "would find the fall",
        Effect::NoWorse(_) => "could make the claim",
        Effect::Difference(_) => "would find the difference",
        Effect::BeforeAfter(_) | Effect::Occupancy(_) => "would find the change",
        Effect::RangeShift(_) => "would find the move",
        Effect::Absence(_) => "would catch at least one, were they there at that density",
        Effect::Baseline(_) => "would know the mean as closely as wanted",
        Effect::Inventory(_) => "would record the wanted share",
    }
}

/// The world in which the effect is there, as a heading.
pub fn with_effect(scenario: &Scenario) -> &'static str {
    match scenario.question.effect {
        Effect::Decline(_) => "with the fall",
        Effect::NoWorse(_) => "when the claim is true",
        Effect::Difference(_) => "with the difference",
        Effect::BeforeAfter(_) | Effect::Occupancy(_) => "with the change",
        Effect::RangeShift(_) => "with the move",
        Effect::Absence(_) => "if they are there at that density",
        Effect::Baseline(_) => "surveys by this plan: how close",
        Effect::Inventory(_) => "surveys by this plan: what they record",
    }
}

/// The other world, as a heading.
pub fn without_effect(scenario: &Scenario) -> &'static str {
    match scenario.question.effect {
        Effect::Baseline(_) => "more such surveys: whether the interval holds the truth",
        Effect::Inventory(_) => "more such surveys: what they claim",
        _ => otherwise(scenario),
    }
}

/// The other world, in which a toll is told too.
pub fn otherwise(scenario: &Scenario) -> &'static str {
    match scenario.question.effect {
        Effect::Decline(_) => "without the fall",
        Effect::NoWorse(_) => "if the fall is just the margin",
        Effect::Difference(_) => "without the difference",
        Effect::BeforeAfter(_) | Effect::Occupancy(_) => "without the change",
        Effect::RangeShift(_) => "without the move",
        Effect::Absence(_) => "if none are there",
        // Nothing changes in either.
        Effect::Baseline(_) => "in other such surveys",
        Effect::Inventory(_) => "in surveys of the same kind",
    }
}

/// The smallest change that is found with the wanted power.
#[derive(Clone, Debug, PartialEq)]
pub struct Smallest {
    /// What the number is: "smallest fall", of a claim "smallest margin".
    pub name: &'static str,
    /// The number with its unit.
    pub value: String,
    /// What more must be said of it.
    pub of: String,
}

/// The world without the effect, of which false alarms are told.
pub fn still_world(scenario: &Scenario) -> &'static str {
    match scenario.question.effect {
        Effect::Difference(_) => "in which there is no difference",
        Effect::Inventory(_) => "of the same kind",
        _ => "in which nothing changes",
    }
}

/// What a result in the world without the effect is called.
pub fn false_alarms(scenario: &Scenario) -> &'static str {
    match scenario.question.effect {
        Effect::NoWorse(_) | Effect::Inventory(_) => "false claims",
        Effect::Baseline(_) => "misses",
        _ => "false alarms",
    }
}

/// The name of the smallest change.
pub fn smallest_name(scenario: &Scenario) -> &'static str {
    match scenario.question.effect {
        Effect::Decline(_) => "smallest fall",
        Effect::NoWorse(_) => "smallest margin",
        Effect::Difference(_) => "smallest difference",
        Effect::BeforeAfter(_) | Effect::Occupancy(_) => "smallest change",
        Effect::RangeShift(_) => "smallest move",
        Effect::Absence(_) => "finding none still allows",
        Effect::Baseline(_) => "precision reached",
        Effect::Inventory(_) => "share recorded",
    }
}

/// A change of this size, in the unit that answers tell it in.
fn told(scenario: &Scenario, estimate: f64) -> Smallest {
    let (value, of) = match &scenario.question.effect {
        Effect::Decline(d) => (
            format!("{} %", decimals(estimate, 1)),
            format!("over {} years", plain(d.over_years)),
        ),
        Effect::NoWorse(n) if estimate < 0.0 => (
            format!("a rise of {} %", decimals(-estimate, 1)),
            format!(
                "over {} years, which can be claimed at the least",
                plain(n.over_years)
            ),
        ),
        Effect::NoWorse(n) => (
            format!("{} %", decimals(estimate, 1)),
            format!(
                "fall over {} years that can be ruled out",
                plain(n.over_years)
            ),
        ),
        Effect::Difference(_) => (
            more_or_fewer((10.0 * estimate).round() / 10.0),
            "at treated sites".into(),
        ),
        Effect::BeforeAfter(_) => (
            more_or_fewer((10.0 * estimate).round() / 10.0),
            "by the treatment".into(),
        ),
        Effect::Occupancy(_) => {
            let from = scenario.premises.occupancy.as_ref();
            let from = from.map_or_else(String::new, |p| percent(p.occupied.value));
            (
                format!("to {}", percent_fine(estimate)),
                format!("of sites, from {from}"),
            )
        }
        Effect::RangeShift(r) => {
            let (unit, _) = shift_words(scenario, r.distance_per_decade);
            (format!("{estimate:.0} {unit}"), "a decade".into())
        }
        Effect::Absence(_) => (
            format!("below {}", plain(two_digits(estimate))),
            "a trap-week at the season's peak, mean over sites".into(),
        ),
        Effect::Baseline(_) => (
            format!("± {} %", decimals(estimate, 1)),
            format!("of the mean, at {} confidence", confidence(scenario)),
        ),
        Effect::Inventory(i) => (
            format!("{} or more", percent_fine(estimate)),
            share_of(i.of).into(),
        ),
    };
    Smallest {
        name: smallest_name(scenario),
        value,
        of,
    }
}

/// That a change over some years goes on evenly over those of the plan, where these are others.
pub(super) fn goes_on(scenario: &Scenario) -> Option<String> {
    let Effect::Decline(d) = &scenario.question.effect else {
        return None;
    };
    let (over, a_year) = (d.over_years, d.percent_a_year());
    let years = scenario.plan.years;
    ((f64::from(years) - over).abs() > 0.5).then(|| {
        format!(
            "The question names {} years and the plan {years}: the fall is taken to go on evenly, by {} % a year, and the answer comes after the last year of trapping.",
            plain(over),
            decimals(a_year, 2)
        )
    })
}

/// What a wanted share is a share of.
pub(super) fn share_of(of: Recorded) -> &'static str {
    match of {
        Recorded::Coverage => "of all individuals, by the species recorded",
        Recorded::Species => "of the species reckoned to be there",
    }
}

/// Two significant digits, upwards.
fn two_digits(v: f64) -> f64 {
    if v <= 0.0 || !v.is_finite() {
        return v;
    }
    let mut unit = 1.0;
    while v / unit >= 100.0 {
        unit *= 10.0;
    }
    while v / unit < 10.0 {
        unit /= 10.0;
    }
    let digits = (v / unit).ceil();
    // Through text, so that the last digits are those of two digits.
    format!("{:.2e}", digits * unit).parse().unwrap_or(v)
}

/// The smallest change of an answer; `None` when none is found with the wanted power.
pub fn smallest(scenario: &Scenario, answer: &Answer) -> Option<Smallest> {
    let change = answer.smallest_change?;
    Some(told(scenario, change.estimate))
}

/// The same of a preview.
pub fn smallest_preview(scenario: &Scenario, estimate: f64) -> Option<Smallest> {
    estimate.is_finite().then(|| told(scenario, estimate))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plan_of_other_years_than_the_question_says_what_goes_on() {
        let text = include_str!("../../../../demo-data/meadow-beetles.json");
        let mut s = survey::scenario::read(text).expect("a demo");
        assert_eq!(goes_on(&s), None);
        s.plan.years = 14;
        // 30 % over 10 years: 1 - 0.7^(1/10) = 3.50 % a year.
        let told = goes_on(&s).expect("14 years are not 10");
        assert!(told.contains("names 10 years and the plan 14") && told.contains("3.50 % a year"));
    }

    #[test]
    fn densities_are_rounded_upwards() {
        for (v, want) in [
            (0.012_31, "0.013"),
            (1.0, "1"),
            (0.000_4, "0.0004"),
            (123.0, "130"),
        ] {
            assert_eq!(plain(two_digits(v)), want);
        }
    }
}
