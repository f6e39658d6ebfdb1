//! What does not come back, in a table and in sentences.

use crate::number::{count, percent, power_with_alarms};
use crate::sentences::smallest_preview;
use figures::Table;
use survey::returns::{MOST_RECRUITED, Missing, Recruit, Returns};
use survey::scenario::{Plan, Scenario};

/// What is missing, in words.
pub fn missing(of: Missing) -> &'static str {
    match of {
        Missing::Nothing => "as planned, nothing missing",
        Missing::Losses => "with trap-weeks lost at random",
        Missing::ClusteredLosses => "with losses in clusters",
        Missing::DropOut => "with sites that drop out",
        Missing::Late => "with samples after the cut-off date",
        Missing::All => "with all of it",
    }
}

/// One line for each.
pub fn table(scenario: &Scenario, returns: &Returns) -> Table {
    let headers = [
        "the plan",
        "power (false alarms), closed form",
        "smallest change found with the wanted power",
        "animals killed",
    ];
    let rows = returns
        .costs
        .iter()
        .map(|c| {
            let smallest = smallest_preview(scenario, c.smallest_change);
            vec![
                missing(c.missing).into(),
                power_with_alarms(c.power, c.false_alarm),
                smallest.map_or("not known".into(), |s| s.value),
                count(c.toll),
            ]
        })
        .collect();
    Table {
        caption: "What losses, drop-out and late samples cost".into(),
        headers: headers.map(String::from).to_vec(),
        rows,
    }
}

/// How many to recruit, in sentences.
pub fn recruit(plan: &Plan, recruit: &Recruit) -> Vec<String> {
    let mut lines = vec![format!(
        "Of the site-years planned, {} are trapped and back in time on average, {} in the last year.",
        percent(recruit.left_on_average),
        percent(recruit.left_in_last_year)
    )];
    lines.push(format!(
        "To have the {} planned sites on average, recruit {}; to have them in the last year, {}.",
        plan.sites, recruit.on_average, recruit.for_last_year
    ));
    lines.push(match (recruit.for_power, recruit.for_power_if_all_stay) {
        (Some(n), Some(all)) => format!(
            "For the wanted power by closed form recruit {n}; {all} would do were everybody to stay and everything back in time."
        ),
        (Some(n), None) => format!("For the wanted power by closed form recruit {n}."),
        (None, Some(all)) => format!(
            "No number up to {MOST_RECRUITED} gives the wanted power by closed form; {all} would do were everybody to stay and everything back in time."
        ),
        (None, None) => format!("No number up to {MOST_RECRUITED} gives the wanted power by closed form, whoever stays: years, not sites, are too few."),
    });
    lines
}

/// Where the numbers of people come from.
pub const SOURCES: &str = "For comparison: 82 % of active volunteers came back the next year in a bird survey (Bonter 2023, BioScience), which is 0.18 a year that give up; a heavy protocol lost 31 % a year (Reyna & Rollins). Losses in clusters within sites are common practice, without a source.";
