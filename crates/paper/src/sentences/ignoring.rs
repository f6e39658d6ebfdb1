//! What ignoring costs, in a table and in sentences.

use crate::number::percent;
use figures::Table;
use survey::ignoring::{Cost, Side};
use survey::scenario::Known;

/// When there is nothing to compare.
pub const NOTHING_TO_IGNORE: &str = "There is nothing here of which an analysis could be told or not: nothing departs from the plain model that this question's analysis could heed.";

/// What an analysis may be told of, as a phrase after "told of".
pub fn known(of: Known) -> &'static str {
    match of {
        Known::Losses => "lost trap-weeks",
        Known::SiteSlopes => "the sites' own changes",
        Known::YearAutocorrelation => "the correlation of years",
        Known::SiteCorrelation => "the correlation of sites",
        Known::SharedWeeks => "the weather shared in a week",
        Known::DetectionDrift => "the traps' drift",
    }
}

/// How it is told.
pub fn how_told(of: Known) -> &'static str {
    match of {
        Known::Losses => "the offset holds the trap-weeks counted, not those set",
        Known::SiteSlopes => "a random slope for each site",
        Known::YearAutocorrelation => "years correlated as the premise says",
        Known::SiteCorrelation => "sites and site-years correlated as the premise says",
        Known::SharedWeeks => "rows of weeks, with a random effect for each week of each year",
        Known::DetectionDrift => "the premise's drift in the offset",
    }
}

fn at_level(side: &Side) -> String {
    let share = side.power_at_level.as_ref();
    share.map_or("too few surveys".into(), |s| percent(s.estimate))
}

/// One line for each analysis.
pub fn costs_table(costs: &[Cost]) -> Table {
    let headers = [
        "of",
        "analysis",
        "false alarms, t test",
        "power, t test",
        "power at the accepted level",
        "intervals that hold the truth",
        "failed fits",
    ];
    let line = |of: &str, name: &str, side: &Side| {
        vec![
            of.to_string(),
            name.to_string(),
            percent(side.false_alarm.estimate),
            percent(side.power.estimate),
            at_level(side),
            percent(side.coverage.estimate),
            side.fits.failed.to_string(),
        ]
    };
    let lines = |c: &Cost| {
        [
            line(known(c.of), "told", &c.told),
            line(known(c.of), "not told", &c.untold),
        ]
    };
    Table {
        caption: "What ignoring costs: the same simulated surveys under two analyses".into(),
        headers: headers.map(String::from).to_vec(),
        rows: costs.iter().flat_map(lines).collect(),
    }
}

/// Whether the powers at the accepted level differ by more than their intervals leave open.
fn sure(c: &Cost) -> bool {
    let both = c.told.power_at_level.zip(c.untold.power_at_level);
    both.is_some_and(|(told, untold)| told.low > untold.high || untold.low > told.high)
}

/// What the numbers of one line mean.
pub fn cost(c: &Cost) -> String {
    let alarms = |side: &Side| percent(side.false_alarm.estimate);
    let points = |lost: f64| match (100.0 * lost.abs()).round() {
        1.0 => "1 percentage point".into(),
        n => format!("{n:.0} percentage points"),
    };
    let lost = match c.power_lost {
        Some(lost) if lost.abs() < 0.005 => {
            "; at the accepted level both find the change as often".into()
        }
        Some(lost) if !sure(c) => format!(
            "; at the accepted level they cannot be told apart ({}, within Monte Carlo error)",
            points(lost)
        ),
        Some(lost) if lost > 0.0 => format!(
            "; at the accepted level not knowing finds the change {} less often",
            points(lost)
        ),
        Some(lost) => format!(
            "; at the accepted level not knowing finds the change {} more often, which is no merit: what is ignored looks like the change, and only a critical value taken from this very world sets it apart",
            points(lost)
        ),
        None => String::new(),
    };
    format!(
        "An analysis not told of {} raises {} false alarms by the t test, one that is told ({}) {}{lost}.",
        known(c.of),
        alarms(&c.untold),
        how_told(c.of),
        alarms(&c.told)
    )
}
