//! What is said of an answer about a range shift: how sites show themselves, its two kinds of interval, the placing of
//! sites.

use super::shift_words;
use crate::number::{percent, plain};
use survey::closed_form::truth;
use survey::scenario::{Placing, Scenario};
use survey::summary::{Answer, PlacedPlan};

/// A placing in words.
pub fn placing(placing: Placing) -> &'static str {
    match placing {
        Placing::Even => "evenly",
        Placing::Random => "at random",
        Placing::DenseAtEdge => "half of them dense where the move is expected",
        Placing::Listed => "at listed places",
    }
}

fn placed(p: &PlacedPlan) -> String {
    format!(
        "{} from {} to {}",
        placing(p.placing),
        plain(p.lowest.round()),
        plain(p.highest.round())
    )
}

/// The notes; none but for a range shift.
pub fn range_shift(scenario: &Scenario, answer: &Answer) -> Vec<String> {
    let Some(told) = &answer.range_shift else {
        return Vec::new();
    };
    let mut notes = Vec::new();
    if let Some(d) = told.detection_per_year {
        notes.push(format!(
            "An occupied site shows itself in a year with chance {} (from the premises of the catch).",
            percent(d)
        ));
    }
    if let Some(profile) = &told.profile_coverage {
        notes.push(format!(
            "Intervals of the move by profile likelihood hold the truth in {} of surveys, those by its standard error (delta method) in {}.",
            percent(profile.estimate),
            percent(answer.coverage.estimate)
        ));
    }
    notes.extend(places(scenario, answer));
    notes
}

/// As many sites placed otherwise.
fn places(scenario: &Scenario, answer: &Answer) -> Option<String> {
    let told = answer.range_shift.as_ref()?;
    let best = told.best_placing.as_ref()?;
    let own = answer.plan.transect.as_ref()?;
    let checked = scenario.clone().check().ok()?;
    let (unit, _) = shift_words(scenario, truth(&checked));
    // Of the whole band and of parts of it: what is compared need not hold the plan's own band.
    let same = best.transect == "whole" && best.placing == own.placing;
    let verdict = if same || best.preview_power <= answer.preview.power {
        "no other placing compared tells the move better than the plan's".to_string()
    } else {
        format!(
            "best {}, power {}, where this plan has {}",
            placed(best),
            percent(best.preview_power),
            percent(answer.preview.power)
        )
    };
    let each = told
        .placings
        .iter()
        .map(|p| format!("{} {:.0} {unit}", placed(p), p.se));
    let each: Vec<String> = each.collect();
    Some(format!(
        "As many sites placed otherwise, by closed form (simulate a placing before relying on it): {verdict}. Standard error of the move a decade: {}.",
        each.join("; ")
    ))
}
