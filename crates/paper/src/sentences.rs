//! The plain sentences: question, plan, answer, least plan.

use crate::number::{count, percent, plain};
use survey::scenario::{Class, Direction, Effect, GradientUnit, Plan, Scenario};
use survey::summary::{Answer, GroupToll, Share, Spread};

/// The question as a sentence.
pub fn question(scenario: &Scenario) -> String {
    let q = &scenario.question;
    let target = &scenario.premises.target.name;
    let rest = |sides: &str| {
        format!(
            "{sides}, accepting {} false alarms, with a wanted power of {}.",
            percent(q.significance),
            percent(q.wanted_power)
        )
    };
    match &q.effect {
        Effect::Decline(d) => {
            let sides = if q.direction == Direction::Either {
                "a change in either direction counts"
            } else {
                "only a fall counts"
            };
            format!(
                "Detect a fall of {} % in {target} over {} years ({:.2} % a year); {}",
                plain(d.change_percent),
                plain(d.over_years),
                d.percent_a_year(),
                rest(sides)
            )
        }
        Effect::RangeShift(r) => {
            let (unit, way) = shift_words(scenario, r.distance_per_decade);
            let sides = if q.direction == Direction::Either {
                "a move either way counts"
            } else {
                "only a move this way counts"
            };
            format!(
                "Detect a move of the place of the highest catch of {target} by {} {unit} {way} a decade; {}",
                plain(r.distance_per_decade.abs()),
                rest(sides)
            )
        }
    }
}

/// Unit and direction word of a shift.
pub fn shift_words(scenario: &Scenario, distance: f64) -> (&'static str, &'static str) {
    let unit = scenario
        .premises
        .gradient
        .as_ref()
        .map_or(GradientUnit::Metres, |g| g.unit);
    let way = match (unit, distance >= 0.0) {
        (GradientUnit::Metres, true) => "upwards",
        (GradientUnit::Metres, false) => "downwards",
        (GradientUnit::Kilometres, true) => "northwards",
        (GradientUnit::Kilometres, false) => "southwards",
    };
    (unit.symbol(), way)
}

fn plural(n: u32, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// The plan as a phrase.
pub fn plan(plan: &Plan) -> String {
    let trap_weeks = f64::from(plan.sites)
        * f64::from(plan.traps_per_site)
        * f64::from(plan.weeks)
        * f64::from(plan.years);
    let mut text = format!(
        "{} with {} each, {} (week {} to {}) at {} days a week, in each of {} years: {} trap-weeks set",
        plural(plan.sites, "site", "sites"),
        plural(plan.traps_per_site, "trap", "traps"),
        plural(plan.weeks, "week", "weeks"),
        plan.first_week,
        plan.first_week + plan.weeks - 1,
        plain(plan.exposure_days),
        plan.years,
        count(trap_weeks),
    );
    if let Some(t) = &plan.transect {
        text.push_str(&format!(
            ", sites evenly from {} to {}",
            plain(t.lowest),
            plain(t.highest)
        ));
    }
    text
}

/// A toll with its interval.
pub fn spread(s: &Spread) -> String {
    format!("{} ({} to {})", count(s.mean), count(s.low), count(s.high))
}

/// A group's toll with its interval.
pub fn group(g: &GroupToll) -> String {
    format!("{} ({} to {})", count(g.mean), count(g.low), count(g.high))
}

/// A class in words.
pub fn class(c: Class) -> &'static str {
    match c {
        Class::Arthropod => "arthropods",
        Class::Vertebrate => "vertebrates",
        Class::Protected => "protected",
    }
}

/// How many surveys of 100 would find the change, what it costs in lives: one plain sentence.
pub fn verdict(scenario: &Scenario, answer: &Answer) -> String {
    if answer.power.replicates == 0 {
        return "Nothing simulated yet.".into();
    }
    let wanted = scenario.question.wanted_power;
    let of_100 = (100.0 * answer.power.estimate + 0.5).floor();
    let judged = if answer.power.low >= wanted {
        "The plan answers the question."
    } else if answer.power.high < wanted {
        "The plan does not answer the question."
    } else {
        "The plan stands at the edge: more simulated surveys would tell."
    };
    let change = match scenario.question.effect {
        Effect::Decline(_) => "fall",
        Effect::RangeShift(_) => "move",
    };
    let kill = answer.toll.as_ref().map_or(String::new(), |t| {
        let protected = t
            .bycatch
            .iter()
            .filter(|g| g.class != Class::Arthropod)
            .map(|g| g.mean)
            .sum::<f64>();
        let apart = if protected > 0.0 {
            format!(", {} of them vertebrates or protected", count(protected))
        } else {
            String::new()
        };
        format!(" It kills about {} animals{apart}.", count(t.total.mean))
    });
    format!("{judged} Of 100 surveys like this {of_100} would find the {change}.{kill}")
}

/// What stands beside every power: that failed fits count as nothing found, and what singular means.
pub fn fits(answer: &Answer) -> String {
    let f = &answer.fits;
    let n = f.converged + f.singular + f.at_bound + f.failed;
    format!(
        "{n} fits: {} converged, {} singular (a spread estimated as 0; used), {} with no more scatter than Poisson (used), {} failed (counted as nothing found)",
        f.converged, f.singular, f.at_bound, f.failed
    )
}

/// A warning when the false alarms are surely above the accepted level.
pub fn alarm_warning(scenario: &Scenario, answer: &Answer) -> Option<String> {
    (answer.false_alarm.replicates > 0 && answer.false_alarm.low > scenario.question.significance).then(|| {
        format!(
            "This analysis cries wolf: {} false alarms where {} are accepted, so its power is flattered.",
            percent(answer.false_alarm.estimate),
            percent(scenario.question.significance)
        )
    })
}

/// A note when preview and simulation differ by more than Monte Carlo error.
pub fn preview_note(answer: &Answer) -> Option<String> {
    let p = answer.preview.power;
    (answer.power.replicates >= 200
        && (p < answer.power.low - 0.02 || p > answer.power.high + 0.02))
        .then(|| {
            format!(
                "The closed-form preview says {}, the simulation {}: trust the simulation.",
                percent(p),
                percent(answer.power.estimate)
            )
        })
}

/// What a plan smaller than the least one is worth: surely too weak, or too weak by its estimate alone.
pub fn falls_short(scenario: &Scenario, power: &Share) -> &'static str {
    if power.high < scenario.question.wanted_power {
        "falls short"
    } else {
        "falls short by its estimate, within Monte Carlo error"
    }
}

/// What the significant results among the simulated surveys are worth.
pub fn worth(answer: &Answer) -> Option<String> {
    let s = &answer.significant;
    let (wrong, size) = (s.wrong_sign?, s.exaggeration?);
    Some(format!(
        "Of the {} surveys with a significant result, {} see a change the wrong way, and their estimates are on average {size:.2} times the true change; {} of all intervals hold the truth (95 % interval {} to {}).",
        s.found,
        percent(wrong),
        percent(answer.coverage.estimate),
        percent(answer.coverage.low),
        percent(answer.coverage.high)
    ))
}
