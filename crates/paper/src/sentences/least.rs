//! What is said of the least plan and the search for it.

use super::capital;
use crate::number::{count, decimals, in_full, percent_fine};
use figures::locale::retold;
use survey::scenario::{Limits, Scenario, WeekChoice};
use survey::search::{Missed, Relaxed};
use survey::summary::{Share, Significant, SmallestChange};

fn list(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// What the search looks at.
pub fn search_space(scenario: &Scenario) -> String {
    let l: &Limits = &scenario.limits;
    let weeks = match l.week_choice {
        WeekChoice::Around => "weeks around the middle of the plan's own",
        WeekChoice::Chosen => "weeks chosen one by one",
        WeekChoice::AnyRun => "weeks in a row, beginning anywhere",
    };
    let mut varied = vec![
        format!("up to {} sites", l.sites),
        format!("{} traps per site", l.traps_per_site),
        format!("{} {weeks}", l.weeks),
    ];
    let mut fixed = Vec::new();
    match l.years.as_slice() {
        [] => fixed.push("years"),
        years => {
            let words: Vec<String> = years.iter().map(u32::to_string).collect();
            varied.push(format!("{} years", list(&words)));
        }
    }
    match l.exposure_days.as_slice() {
        [] => fixed.push("exposure"),
        days => {
            let words: Vec<String> = days.iter().map(|d| in_full(*d)).collect();
            varied.push(format!("{} days a week", list(&words)));
        }
    }
    varied.extend(super::ways::listed(l));
    let fixed: Vec<String> = fixed.into_iter().map(Into::into).collect();
    let fixed = if fixed.is_empty() {
        String::new()
    } else {
        format!("; {} as in the plan", list(&fixed))
    };
    let caps: Vec<String> = l
        .toll
        .iter()
        .map(|t| format!("at most {} of {}", count(t.most), t.about()))
        .collect();
    let caps = if caps.is_empty() {
        String::new()
    } else {
        format!("; expected kills of {}", list(&caps))
    };
    let ranked = if l.weights.is_empty() {
        "ranked by all animals killed".to_string()
    } else {
        let each: Vec<String> = l
            .weights
            .iter()
            .map(|w| {
                let about = survey::scenario::group_or_class(w.group.as_deref(), w.class);
                format!("{about} count {}", in_full(w.weight))
            })
            .collect();
        format!("ranked by all animals killed, of which {}", list(&each))
    };
    format!("{}{fixed}{caps}; {ranked}", varied.join(", "))
}

/// Which number is smaller, in words.
pub fn fewer(key: &str) -> &'static str {
    match key {
        "sites" => "fewer sites",
        "traps" => "a trap fewer at each site",
        "weeks" => "a week fewer",
        "exposure" => "shorter exposure",
        "years" => "fewer years",
        "revisit" => "another pattern of revisits that kills less",
        "scheme" => "another scheme of visits that kills less",
        "challenger" => {
            "the surest with other years, exposure, trap, pattern or scheme that kills less"
        }
        _ => "the next smaller on the frontier",
    }
}

/// What a smaller plan's results would be worth, besides its power.
pub fn worth_of_smaller(
    scenario: &Scenario,
    change: Option<&SmallestChange>,
    significant: &Significant,
    spared: Option<f64>,
) -> String {
    let mut parts = Vec::new();
    if let Some(told) = change.and_then(|c| super::smallest_preview(scenario, c.estimate)) {
        parts.push(format!("{} {}", told.name, told.value));
    }
    if let Some(wrong) = significant.wrong_sign {
        parts.push(format!("wrong way {} of findings", percent_fine(wrong)));
    }
    if let Some(size) = significant.exaggeration {
        parts.push(format!(
            "findings {} times the true size",
            decimals(size, 2)
        ));
    }
    if let Some(spared) = spared.filter(|s| *s > 0.0) {
        parts.push(format!("spares {}", count(spared)));
    }
    parts.join(", ")
}

/// That a smaller plan answers but lies outside of the limits, or how it falls short.
pub fn standing_of_smaller(scenario: &Scenario, power: &Share, within_limits: bool) -> String {
    if power.estimate >= scenario.question.wanted_power {
        return if within_limits {
            "reaches the wanted power".into()
        } else {
            "reaches the wanted power, but its number is not listed in the limits: list it there to have it looked at".into()
        };
    }
    super::falls_short(scenario, power).into()
}

/// A limit that binds, and what giving way in it would lead to.
pub fn binding(r: &Relaxed) -> String {
    let now = retold(&r.value);
    let given = match &r.given {
        Some(given) => format!("{} instead of {now}", retold(given)),
        None => format!("no such limit instead of {now}"),
    };
    format!(
        "{}: with {given}, {} would do, killing about {}.",
        capital(&r.about),
        super::plan(&r.candidate.plan),
        count(r.candidate.toll.total())
    )
}

/// What the closed forms may have missed.
pub fn missed(m: &Missed) -> String {
    let error = if m.most_too_low > 0.0 {
        format!(
            "Over the {} plans simulated in full, closed forms were too low by {} of power at most",
            m.plans,
            percent_fine(m.most_too_low)
        )
    } else {
        format!(
            "Over the {} plans simulated in full, closed forms were never too low",
            m.plans
        )
    };
    // Weights make another number of the toll.
    let weighted = (m.weighted_toll - m.expected_toll).abs() > 1e-6 * m.expected_toll;
    let smaller = if weighted {
        format!(
            "one that counts less, by your weights, than a plan that kills {}",
            count(m.expected_toll)
        )
    } else {
        format!("one that kills fewer than {}", count(m.expected_toll))
    };
    format!(
        "{error}: of the plans on the frontier, {smaller} could answer only if they were further off for it than that."
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// With weights the ranking's number is no number of animals, and is not told as one.
    #[test]
    fn what_may_be_missed_is_told_in_animals() {
        let plain = Missed {
            most_too_low: 0.02,
            plans: 9,
            weighted_toll: 8915.0,
            expected_toll: 8915.0,
        };
        assert!(missed(&plain).contains("one that kills fewer than 8,915 could"));
        let weighted = Missed {
            weighted_toll: 97.0,
            ..plain
        };
        let text = missed(&weighted);
        assert!(
            text.contains("one that counts less, by your weights, than a plan that kills 8,915"),
            "{text}"
        );
        assert!(!text.contains("97"), "{text}");
    }
}
