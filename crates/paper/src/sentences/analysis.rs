//! The analysis in plain sentences: tests, critical values, the claim of no worse a fall.

use crate::number::{decimals, percent, plain};
use survey::scenario::{Effect, Scenario, Test};
use survey::summary::{Answer, TestTold};

/// A test's name.
pub fn test(test: Test) -> &'static str {
    match test {
        Test::Calibrated => "calibrated by simulation",
        Test::T => "t, few degrees of freedom",
        Test::Satterthwaite => "t, Satterthwaite's degrees of freedom",
        Test::Z => "z, the normal distribution",
        Test::LikelihoodRatio => "likelihood ratio",
        Test::AnnualIndex => "regression of yearly means",
    }
}

/// What a test does, and what is known of its false alarms.
pub fn about_test(test: Test) -> &'static str {
    match test {
        Test::Calibrated => {
            "The estimate over its standard error must exceed a value that only the accepted share of simulated surveys without any change exceeds, under this very plan. It holds its false alarms by construction, as long as the premises hold; above all the SD of shared years."
        }
        Test::T => {
            "The estimate over its standard error against Student's t with years - 2 degrees of freedom (for the move of an optimum (sites - 1)(years - 1) - 1). With restricted likelihood it hardly ever raises more false alarms than accepted, and far fewer when years are few or alike: then it finds less than it could."
        }
        Test::Satterthwaite => {
            "Student's t with degrees of freedom estimated from each survey. Too many false alarms when the SD of years is often estimated as 0."
        }
        Test::Z => {
            "The normal distribution in place of Student's t, as is common practice: two to four times the accepted false alarms when years are few. For comparison."
        }
        Test::LikelihoodRatio => {
            "Twice the gain in log likelihood by the change against chi-square with 1 degree of freedom, by maximum likelihood. Too many false alarms when years are few."
        }
        Test::AnnualIndex => {
            "Beside the mixed model: a straight line through the yearly means of site-corrected log counts, t with years - 2 degrees of freedom. It holds its false alarms whatever the SD of years; it finds a little less."
        }
    }
}

/// That another test stands in for the planned one, as long as there are too few surveys without change for it.
pub fn stand_in(test: &TestTold, nulls: u64) -> Option<String> {
    test.nulls_needed.map(|needed| {
        if nulls >= needed {
            return format!(
                "Too few of the {nulls} surveys without change could be analysed for a critical value of their own: power and false alarms are those of the plain {} test.",
                test.used
            );
        }
        format!(
            "A calibrated critical value needs at least {needed} simulated surveys without change; there are {nulls}. Until then power and false alarms are those of the plain {} test.",
            test.used
        )
    })
}

/// The same of a curve that is still counting.
pub fn stand_in_so_far(test: &TestTold) -> Option<String> {
    test.nulls_needed.map(|needed| {
        format!(
            "Still counting: until {needed} surveys without change are in, power and false alarms are those of the plain {} test.",
            test.used
        )
    })
}

/// Whether good and bad years shared by all sites are in the estimate.
fn years_matter(scenario: &Scenario) -> bool {
    scenario.question.effect.is_trend()
}

/// Which test power and false alarms are of, with its critical value.
pub fn test_note(scenario: &Scenario, answer: &Answer) -> String {
    let t = &answer.test;
    if let Some(note) = stand_in(t, answer.false_alarm.replicates) {
        return note;
    }
    if matches!(scenario.question.effect, Effect::Absence(_)) {
        return "A survey answers when it catches at least one animal; where there are none it catches none, so that a catch is never a false alarm. Finding none is not proof of absence: it excludes densities, as surely as stated.".into();
    }
    if let Effect::Inventory(i) = &scenario.question.effect {
        return super::inventory::reached_and_claimed(i, answer);
    }
    match (t.critical, t.critical_low, t.critical_high) {
        (Some(c), Some(low), Some(high)) => format!(
            "Calibrated test: estimate over standard error must exceed {} ({} to {}), from {} simulated surveys without change; the power's interval holds what is not known of that value. If the premises are wrong{}, so is the value.",
            decimals(c, 3),
            decimals(low, 3),
            decimals(high, 3),
            answer.false_alarm.replicates,
            if years_matter(scenario) {
                ", above all the SD of shared years"
            } else {
                ""
            }
        ),
        (Some(c), _, _) if scenario.analysis.test == Test::LikelihoodRatio => format!(
            "Test: likelihood ratio; the root of its statistic, with the sign of the estimate, must exceed {}.",
            decimals(c, 3)
        ),
        (Some(c), _, _) => format!(
            "Test: {}; its statistic must exceed {}.",
            test(scenario.analysis.test),
            decimals(c, 3)
        ),
        _ => format!("Test: {}.", test(scenario.analysis.test)),
    }
}

/// That a calibrated test holds its level only by knowing the world: where the same surveys judged by t would raise
/// surely too many false alarms.
pub fn held_by_calibration(scenario: &Scenario, answer: &Answer) -> Option<String> {
    if scenario.analysis.test != Test::Calibrated || answer.test.nulls_needed.is_some() {
        return None;
    }
    let t = answer.comparison.iter().find(|c| c.test == Test::T.key())?;
    (t.false_alarm.low > scenario.question.significance).then(|| {
        format!(
            "The false alarms are those accepted because the critical value was taken from this very world, all that is stated of it included. Judged by the plain t test {} of surveys in which nothing changes would raise a false alarm: that is what a world that departs so without being foreseen does to this analysis. Where the departure is known, let the analysis be told of it.",
            percent(t.false_alarm.estimate)
        )
    })
}

/// The claim of no fall worse than the stated one.
pub fn no_worse(scenario: &Scenario, answer: &Answer) -> Option<String> {
    let claim = answer.no_worse.as_ref()?;
    let Effect::Decline(d) = &scenario.question.effect else {
        return None;
    };
    (claim.power.replicates > 0 && claim.false_claim.replicates > 0).then(|| {
        format!(
            "The claim “fallen by no more than {} % in {} years” (one-sided, at the same level): if nothing changes, {} of surveys may make it (95 % interval {} to {}); if the fall is just that, {} make it all the same. Finding no significant fall is not that claim.",
            plain(claim.margin_percent),
            plain(d.over_years),
            percent(claim.power.estimate),
            percent(claim.power.low),
            percent(claim.power.high),
            percent(claim.false_claim.estimate)
        )
    })
}
