//! The plan as a phrase.

use super::placing;
use crate::number::{count, plain};
use survey::scenario::{Plan, Scheme, Seasons};

fn plural(n: u32, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// The plan as a phrase.
pub fn plan(plan: &Plan) -> String {
    let trap_weeks =
        f64::from(plan.site_years()) * f64::from(plan.traps_per_site) * f64::from(plan.weeks);
    let set = if plan.exposure_days == 7.0 {
        format!("{} trap-weeks set", count(trap_weeks))
    } else {
        let whole = trap_weeks * plan.exposure_days / 7.0;
        format!(
            "traps set {} times, {} trap-weeks",
            count(trap_weeks),
            count(whole)
        )
    };
    let weeks = in_weeks(&plan.open_weeks());
    let first_and_last = plan
        .visits
        .as_ref()
        .is_some_and(|v| v.seasons == Seasons::FirstAndLast);
    let turns = plan.turns();
    let years = match plan.years {
        n if turns < n => format!("in {turns} of {n} years"),
        1 => "in 1 year".to_string(),
        2 if first_and_last => "in the first and the last year".to_string(),
        n => format!("in each of {n} years"),
    };
    let mut text = format!(
        "{} with {} each, {} ({weeks}) at {}, {years}: {set}",
        plural(plan.sites, "site", "sites"),
        plural(plan.traps_per_site, "trap", "traps"),
        plural(plan.weeks, "week", "weeks"),
        days_a_week(plan.exposure_days),
    );
    if let Some(g) = &plan.groups {
        let treated = g.treated_of(plan.sites);
        text.push_str(&if g.paired {
            format!(", {treated} pairs of a treated and an untreated site")
        } else {
            format!(", {treated} of the sites treated")
        });
        if g.before_years > 0 {
            text.push_str(&format!(
                " after {}",
                plural(g.before_years, "year", "years")
            ));
        }
    }
    match plan.visits.as_ref().map(|v| v.scheme) {
        Some(Scheme::Removal) => {
            text.push_str(" if no site were closed, each closed for the year after its first catch");
        }
        Some(Scheme::Conditional) => text.push_str(
            " if all sites were trapped in all weeks, those without a catch in the first week closed for the year",
        ),
        Some(Scheme::Standard) | None => {}
    }
    if let Some(t) = &plan.transect {
        text.push_str(&format!(
            ", sites {} from {} to {}",
            placing(t.placing),
            plain(t.lowest),
            plain(t.highest)
        ));
    }
    text.push_str(&super::ways::places(plan));
    if let Some(pattern) = crate::revisit::phrase(plan) {
        text.push_str(&format!("; {pattern}"));
    }
    if !plan.trap_points.is_same() {
        text.push_str(", traps at new points every year");
    }
    if let Some(option) = &plan.trap_option {
        text.push_str(&format!(", trap: {option}"));
    }
    text
}

/// Weeks of the year in words, rising: "20 to 24", "20 to 22 and 25", "20".
pub fn weeks(weeks: &[u32]) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for &week in weeks {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == week => *last = week,
            _ => runs.push((week, week)),
        }
    }
    let mut words: Vec<String> = Vec::new();
    for (first, last) in runs {
        match last - first {
            0 => words.push(first.to_string()),
            // Of two neighbours a run is no shorter.
            1 if weeks.len() > 2 => words.extend([first.to_string(), last.to_string()]),
            _ => words.push(format!("{first} to {last}")),
        }
    }
    match words.pop() {
        Some(last) if words.is_empty() => last,
        Some(last) => format!("{} and {last}", words.join(", ")),
        None => "none".into(),
    }
}

/// The same with the word before: "week 23", "weeks 21 to 25".
pub fn in_weeks(of: &[u32]) -> String {
    let word = if of.len() == 1 { "week" } else { "weeks" };
    format!("{word} {}", weeks(of))
}

/// An exposure in words.
pub fn days_a_week(days: f64) -> String {
    format!(
        "{} {} a week",
        plain(days),
        if days == 1.0 { "day" } else { "days" }
    )
}

#[cfg(test)]
mod tests {
    use super::{in_weeks, weeks};

    #[test]
    fn weeks_in_words() {
        for (of, want) in [
            (vec![20], "20"),
            (vec![20, 21], "20 to 21"),
            (vec![20, 21, 22, 23], "20 to 23"),
            (vec![20, 22], "20 and 22"),
            (vec![18, 20, 21, 22, 30], "18, 20 to 22 and 30"),
            (vec![18, 20, 21], "18, 20 and 21"),
            (vec![], "none"),
        ] {
            assert_eq!(weeks(&of), want);
        }
        assert_eq!(in_weeks(&[23]), "week 23");
        assert_eq!(in_weeks(&[21, 22, 23]), "weeks 21 to 23");
    }
}
