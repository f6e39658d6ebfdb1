//! Planned looks in words, tables and a picture.

mod figure;
mod tables;
#[cfg(test)]
mod tests;

pub use figure::figure;
pub use tables::{cost_table, csv, looks_table, toll_table};

use crate::number::{count, decimals, in_full, percent};
use crate::sentences::{capital, false_alarms, with_effect};
use survey::scenario::{Direction, FutilityRule, LookBoundary, Looks, Scenario};
use survey::summary::{LooksAnswer, Share};

/// A boundary's name.
pub fn boundary(of: LookBoundary) -> &'static str {
    match of {
        LookBoundary::Pocock => "Pocock: the same line at every look",
        LookBoundary::ObrienFleming => "O'Brien and Fleming: high at first, then falling",
        LookBoundary::SpendObrienFleming => {
            "spending like O'Brien and Fleming, each direction its half"
        }
        LookBoundary::SpendObrienFlemingWhole => {
            "spending like O'Brien and Fleming, both directions as one"
        }
        LookBoundary::SpendPocock => "spending like Pocock",
    }
}

/// A boundary's formula and source.
pub fn about_boundary(of: LookBoundary) -> &'static str {
    match of {
        LookBoundary::Pocock => {
            "The same line on the normal scale at every look (Pocock 1977, Biometrika 64:191): easy to stop early, and the last look asks for much."
        }
        LookBoundary::ObrienFleming => {
            "The line falls as 1/√t, t being the share of the final information (O'Brien & Fleming 1979, Biometrics 35:549): hardly ever stops early, and the last look asks for little more than a survey without looks."
        }
        LookBoundary::SpendObrienFleming => {
            "By the share t of the information 4 − 4 Φ(z(1 − a/4)/√t) of the level a is spent where a change in either direction counts, 2 − 2 Φ(z(1 − a/2)/√t) where one does (Lan & DeMets 1983, Biometrika 70:659): years may be moved later without losing the level."
        }
        LookBoundary::SpendObrienFlemingWhole => {
            "By the share t of the information 2 − 2 Φ(z(1 − a/2)/√t) of the level a is spent, whatever directions count (Lan & DeMets 1983, Biometrika 70:659): where either counts a little more at early looks than the other convention."
        }
        LookBoundary::SpendPocock => {
            "By the share t of the information a ln(1 + (e − 1) t) of the level a is spent (Lan & DeMets 1983, Biometrika 70:659): years may be moved later without losing the level."
        }
    }
}

/// What stands by every view of looks.
pub const FIXED_ELSEWHERE: &str =
    "All other parts tell the plan without looks: those of its years, to the last.";

/// Who decides.
pub const WHO_DECIDES: &str = "Write down years, lines and who looks before the first trap is set. One person who does not run the traps should look, and tell the others only “stop” or “go on”. The lines say when the question is answered; harm, cost or a rule of the permit may stop a survey at any time, without a claim.";

/// How lines on two scales belong together.
pub const SCALES: &str = "z is the line of a normally distributed statistic; t is what estimate over standard error must exceed with that look's degrees of freedom, by equal tails. The nominal p is the p-value to be passed at that look alone. Information is the variance of the estimate after all years over that after the look's, by closed form.";

/// The looks as a sentence.
pub fn asked(scenario: &Scenario, looks: &Looks) -> String {
    let years = looks.all(scenario.plan.years);
    let listed = listed(&years);
    let futility = match looks.futility {
        None => "One never stops for futility.".to_string(),
        Some(f) => {
            let rule = match f.rule {
                FutilityRule::SpendBeta(b) => format!(
                    "with at most {} chance to give up a change that is there",
                    percent(b)
                ),
                FutilityRule::ConditionalPower(p) => format!(
                    "where the chance still to find the stated change at the last look is below {}",
                    percent(p)
                ),
            };
            let binding = if f.binding {
                "binding: below the line one must stop"
            } else {
                "not binding: one may go on, and the level is held even if one always does"
            };
            format!("One stops for futility {rule}; {binding}.")
        }
    };
    format!(
        "Looks after {listed} years; lines: {}. {futility}",
        boundary(looks.boundary)
    )
}

/// 4, 7 and 10.
fn listed(years: &[u32]) -> String {
    let words: Vec<String> = years.iter().map(u32::to_string).collect();
    match words.split_last() {
        Some((last, before)) if !before.is_empty() => {
            format!("{} and {last}", before.join(", "))
        }
        _ => words.concat(),
    }
}

/// What is to be done after each look, one line each.
pub fn rules(scenario: &Scenario, answer: &LooksAnswer) -> Vec<String> {
    let either = scenario.question.direction == Direction::Either;
    let places = answer.looks.len();
    let statistic = if either {
        "the size of t (estimate over its standard error)"
    } else {
        "t (estimate over its standard error, counted in the stated direction)"
    };
    let of = |(k, look): (usize, &survey::summary::LookTold)| {
        let (l, year) = (&look.lines, look.lines.year);
        let last = k + 1 == places;
        let df = match l.df {
            Some(df) => format!(" with {df:.0} degrees of freedom"),
            None => String::new(),
        };
        let hardly = if l.nominal < 0.000_5 {
            " (hardly ever)"
        } else {
            ""
        };
        let found = format!(
            "After year {year}{}: found if {statistic} is above {}{df}{hardly}",
            if last { ", the last" } else { ", stop" },
            tidy(l.t)
        );
        match l.futility_t {
            _ if last => format!("{found}; else not found."),
            Some(f) if either => format!(
                "{found}; stop without a finding if it is below {}; else go on.",
                tidy(f)
            ),
            Some(f) => format!(
                "{found}; stop without a finding if it is below {}; else go on.",
                tidy(f)
            ),
            None => format!("{found}; else go on."),
        }
    };
    answer.looks.iter().enumerate().map(of).collect()
}

/// A line with as many digits as matter.
fn tidy(v: f64) -> String {
    if v.abs() < 100.0 {
        decimals(v, 2)
    } else {
        count(v)
    }
}

fn with_interval(s: &Share) -> String {
    if s.replicates == 0 {
        return "not simulated yet".into();
    }
    format!(
        "{} ({} to {})",
        percent(s.estimate),
        percent(s.low),
        percent(s.high)
    )
}

/// What lines would come to that are not calibrated, once simulated.
fn as_designed(share: &Share, alarms: &str) -> String {
    match share.replicates {
        0 => String::new(),
        _ => format!(
            " As designed they would raise {alarms} of {}.",
            with_interval(share)
        ),
    }
}

/// What the looks come to, one line each.
pub fn told(scenario: &Scenario, a: &LooksAnswer) -> Vec<String> {
    let alarms = false_alarms(scenario);
    let mut lines = vec![
        format!(
            "Power {} with looks, {} without; by closed form {}.",
            with_interval(&a.power),
            with_interval(&a.fixed.power),
            percent(a.preview.change.found)
        ),
        format!(
            "{} {} with looks where {} are accepted, {} without.",
            capital(alarms),
            with_interval(&a.false_alarm),
            percent(scenario.question.significance),
            with_interval(&a.fixed.false_alarm)
        ),
    ];
    if let Some(unheeded) = &a.false_alarm_unheeded {
        lines.push(format!(
            "If futility is never heeded: {alarms} {}.",
            with_interval(unheeded)
        ));
    }
    if let Some(needed) = a.nulls_needed {
        lines.push(stand_in_looks(needed));
    } else if a.planned_test == "calibrated" {
        lines.push(format!(
            "The lines are calibrated: all stand at {} times their designed place on the normal scale, so that simulated surveys without the change hold the level.{}",
            decimals(a.factor, 3),
            as_designed(&a.false_alarm_as_designed, alarms)
        ));
    }
    lines.extend(years(scenario, a));
    lines.extend(spared(scenario, a));
    if a.wrong_way.replicates > 0 && scenario.question.direction == Direction::Either {
        lines.push(format!(
            "Stops with a change found the wrong way, {}: {}.",
            with_effect(scenario),
            with_interval(&a.wrong_way)
        ));
    }
    if a.naive.every_year.replicates > 0 {
        lines.push(naive(scenario, a));
    }
    lines.extend(early(scenario, a));
    let failed: u64 = a.looks.iter().map(|l| l.failed_fits).sum();
    if failed > 0 {
        lines.push(format!(
            "{} fits at looks failed; such a look does not stop.",
            count(failed as f64)
        ));
    }
    lines
}

fn stand_in_looks(needed: u64) -> String {
    format!(
        "Too few surveys are simulated to calibrate the lines ({needed} are needed): until then they stand as designed."
    )
}

fn years(scenario: &Scenario, a: &LooksAnswer) -> Option<String> {
    let (change, still) = (a.change.expected_years?, a.still.expected_years?);
    Some(format!(
        "On average {} of {} years {}, {} otherwise (closed form {} and {}).",
        decimals(change, 1),
        a.plan.years,
        with_effect(scenario),
        decimals(still, 1),
        decimals(a.preview.change.expected_years, 1),
        decimals(a.preview.still.expected_years, 1)
    ))
}

fn spared(scenario: &Scenario, a: &LooksAnswer) -> Option<String> {
    let (change, still) = (a.change.toll.as_ref()?, a.still.toll.as_ref()?);
    Some(format!(
        "Animals spared against the plan without looks: {} of {} {}, {} of {} otherwise.",
        count(change.total.spared),
        count(change.total.fixed),
        with_effect(scenario),
        count(still.total.spared),
        count(still.total.fixed)
    ))
}

/// Why looks stop hardly any survey, where they do, and where a rule of futility draws no line.
fn early(scenario: &Scenario, a: &LooksAnswer) -> Vec<String> {
    let before = &a.looks[..a.looks.len().saturating_sub(1)];
    let mut lines = Vec::new();
    if scenario.question.effect.is_trend() {
        let of = |l: &survey::summary::LookTold| {
            format!("{} after {}", percent(l.lines.information), l.lines.year)
        };
        let shares: Vec<String> = before.iter().map(of).collect();
        lines.push(format!(
            "A trend is seen late: what is known of it grows about as the cube of the years ({} years), so that early looks stop few surveys.",
            shares.join(", ")
        ));
    }
    let futility = a.plan.looks.as_ref().is_some_and(|l| l.futility.is_some());
    if futility && before.iter().all(|l| l.lines.futility_z.is_none()) {
        lines.push(
            "The rule of futility draws no line: at none of the looks is so little left to hope for. Later looks, a higher chance in the rule, or a question in the stated direction alone would draw one."
                .into(),
        );
    }
    lines
}

/// What looking again and again without lines does.
pub fn naive(scenario: &Scenario, a: &LooksAnswer) -> String {
    format!(
        "Looking after every year from year {} on and stopping at the first p below {} would raise {} in {} of surveys; doing so at the planned looks alone in {}.",
        a.naive.from_year,
        in_full(scenario.question.significance),
        false_alarms(scenario),
        with_interval(&a.naive.every_year),
        with_interval(&a.naive.at_looks)
    )
}
