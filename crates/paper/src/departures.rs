//! What is said of a world that departs from the plain model.

use crate::number::{percent, plain, signed};
use survey::scenario::{Effect, Scenario};
use survey::summary::Answer;

/// The departures a scenario states, each as a phrase.
pub fn stated(scenario: &Scenario) -> Vec<String> {
    let d = &scenario.premises.departures;
    let mut phrases = Vec::new();
    let mut say = |value: f64, phrase: &dyn Fn(String) -> String| {
        if value != 0.0 {
            phrases.push(phrase(plain(value)));
        }
    };
    say(d.year_autocorrelation.value, &|v| {
        format!("a year's correlation with the next is {v}")
    });
    say(d.site_slope_sd.value, &|v| {
        format!("sites change at their own pace (SD {v} a year)")
    });
    let region = plain(d.region_km2.value);
    say(d.correlation_length_km.value, &|v| {
        format!("sites resemble each other over {v} km in a region of {region} km²")
    });
    say(d.shared_week_sd.value, &|v| {
        format!("all sites share the weather of a week (SD {v})")
    });
    say(d.detection_drift_percent.value, &|v| {
        format!("the traps' catch drifts by {v} % a year")
    });
    say(d.season_shift_sd.value, &|v| {
        format!("the season comes earlier or later from year to year (SD {v} weeks)")
    });
    let days = d.season_trend.value;
    let way = if days < 0.0 { "later" } else { "earlier" };
    say(days.abs(), &|v| {
        format!("the season comes {v} days a decade {way} while the weeks stay")
    });
    if scenario.premises.trap_loss.value > 0.0 {
        say(d.loss_follows_catch.value, &|v| {
            format!("losses follow the catch (power {v})")
        });
        say(d.loss_clustering.value, &|v| {
            format!("losses cluster in a site's year (correlation {v})")
        });
    }
    let p = &scenario.premises;
    if p.attrition.value > 0.0 {
        phrases.push(format!(
            "{} of the sites give up each year",
            percent(p.attrition.value)
        ));
    }
    if p.late_share.value > 0.0 {
        phrases.push(format!(
            "{} of the samples come back too late",
            percent(p.late_share.value)
        ));
    }
    phrases
}

/// Whether losses depend on the catch, which no closed form knows.
pub fn losses_follow(scenario: &Scenario) -> bool {
    let p = &scenario.premises;
    p.departures.loss_follows_catch.value != 0.0 && p.trap_loss.value > 0.0
}

/// Whether losses cluster in a way that the question's closed form takes for lost at random.
pub fn clusters_unknown(scenario: &Scenario) -> bool {
    let p = &scenario.premises;
    let known = match &scenario.question.effect {
        Effect::RangeShift(r) => r.of.is_optimum(),
        effect => effect.is_trend() || effect.has_groups(),
    };
    p.departures.loss_clustering.value > 0.0 && p.trap_loss.value > 0.0 && !known
}

/// What must stand beside an answer from such a world.
pub fn notes(scenario: &Scenario, answer: &Answer) -> Vec<String> {
    let phrases = stated(scenario);
    if phrases.is_empty() {
        return Vec::new();
    }
    let mut notes = vec![format!(
        "The world departs from the plain model: {}.",
        phrases.join("; ")
    )];
    notes.extend(drift(scenario));
    notes.extend(season(scenario, answer));
    let alarm = answer.preview.false_alarm;
    if alarm > 1.2 * scenario.question.significance {
        notes.push(if matches!(scenario.question.effect, Effect::Baseline(_)) {
            format!(
                "By closed form about {} of intervals miss the truth because of it, and more where catches are skewed.",
                percent(alarm)
            )
        } else {
            format!(
            "By closed form about {} of surveys in which nothing changes raise a false alarm because of it.",
            percent(alarm)
        )
        });
    }
    notes
}

/// A moving season under fixed weeks is part of every slope; of other questions the preview does not know it.
fn season(scenario: &Scenario, answer: &Answer) -> Option<String> {
    let (effect, d) = (&scenario.question.effect, &scenario.premises.departures);
    if !d.moves_season() {
        return None;
    }
    let seen = match effect {
        Effect::RangeShift(shift) => shift.of.is_optimum(),
        _ => effect.is_trend() || matches!(effect, Effect::Difference(_) | Effect::BeforeAfter(_)),
    };
    if !seen {
        return Some(
            "The preview takes the season as if it stayed where it is; the simulation does not."
                .into(),
        );
    }
    let false_trend = survey::closed_form::season_percent_a_year(scenario, &answer.plan);
    (effect.is_trend() && d.season_trend.value != 0.0).then(|| {
        format!(
            "In these weeks the moving season alone changes the catch by {} % a year, though no animal more or fewer is there.",
            signed(false_trend, 1)
        )
    })
}

/// A drift of the traps is part of every slope.
fn drift(scenario: &Scenario) -> Option<String> {
    let percent = scenario.premises.departures.detection_drift_percent.value;
    if !scenario.question.effect.is_trend() {
        return None;
    }
    (percent != 0.0).then(|| {
        let (less, looks) = if percent < 0.0 {
            ("fewer", "a fall")
        } else {
            ("more", "a rise")
        };
        format!(
            "Traps that catch {} % {less} each year look like {looks} of the animals; counts alone cannot tell the two apart.",
            plain(percent.abs())
        )
    })
}
