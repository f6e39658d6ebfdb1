//! The question as a sentence.

use super::baseline::confidence;
use super::shift_words;
use crate::number::{decimals, percent, percent_fine, plain};
use survey::scenario::{Direction, Effect, RangePart, Recorded, Scenario, Seasons};

/// More or fewer, and by how much.
pub(super) fn more_or_fewer(change_percent: f64) -> String {
    let word = if change_percent < 0.0 {
        "fewer"
    } else {
        "more"
    };
    format!("{} % {word}", plain(change_percent.abs()))
}

/// The question as a sentence.
pub fn question(scenario: &Scenario) -> String {
    let q = &scenario.question;
    let target = &scenario.premises.target.name;
    let either = q.direction == Direction::Either;
    let sides = |either_way: &str, one_way: &str| {
        let sides = if either { either_way } else { one_way };
        format!(
            "{sides}, accepting {} false alarms, with a wanted power of {}.",
            percent(q.significance),
            percent(q.wanted_power)
        )
    };
    let asked = match &q.effect {
        Effect::Decline(d) => format!(
            "Detect a fall of {} % in {target} over {} years ({} % a year)",
            plain(d.change_percent),
            plain(d.over_years),
            decimals(d.percent_a_year(), 2),
        ),
        Effect::NoWorse(n) => {
            let truth = match n.change_percent {
                0.0 => "when they do not change".to_string(),
                c if c > 0.0 => format!("when they fall by {} %", plain(c)),
                c => format!("when they rise by {} %", plain(-c)),
            };
            return format!(
                "Show that {target} fall by no more than {} % over {} years, {truth}; making the claim falsely in {} of surveys when the fall is just that, and rightly in {}.",
                plain(n.margin_percent),
                plain(n.over_years),
                percent(q.significance),
                percent(q.wanted_power)
            );
        }
        Effect::Difference(d) => format!(
            "Detect that treated sites catch {} {target} than the other sites",
            more_or_fewer(d.difference_percent)
        ),
        Effect::BeforeAfter(b) => format!(
            "Detect that the treatment makes sites catch {} {target} than they would without it, against control sites",
            more_or_fewer(b.change_percent)
        ),
        Effect::Occupancy(o) => {
            let from = scenario.premises.occupancy.as_ref();
            let from = from.map_or_else(String::new, |p| {
                format!("from {} ", percent(p.occupied.value))
            });
            let seen = match scenario.plan.visits.as_ref().map(|v| v.seasons) {
                Some(Seasons::FirstAndLast) => "between two years",
                _ => "as a trend",
            };
            format!(
                "Detect that the share of sites with {target} goes {from}to {} over {} years, {seen}",
                percent(o.to_share),
                plain(o.over_years)
            )
        }
        Effect::RangeShift(r) => {
            let (unit, way) = shift_words(scenario, r.distance_per_decade);
            let place = match r.of {
                RangePart::Optimum => "place of the highest catch",
                RangePart::UpperEdge => "upper edge of the range",
                RangePart::LowerEdge => "lower edge of the range",
            };
            format!(
                "Detect a move of the {place} of {target} by {} {unit} {way} a decade",
                plain(r.distance_per_decade.abs())
            )
        }
        Effect::Absence(a) => {
            return format!(
                "Show that {target} are not here at a mean of {} a trap-week (at the season's peak) or more, with a confidence of {}: so surely would a survey catch at least one, were they.",
                plain(a.catch_per_trap_week),
                percent(q.wanted_power)
            );
        }
        Effect::Baseline(b) => {
            return format!(
                "Know the mean catch of {target} per trap-week, over all sites of the region in the years trapped, to within {} % of it at {} confidence; {} of surveys shall be as precise as that.",
                plain(b.within_percent),
                confidence(scenario),
                percent(q.wanted_power)
            );
        }
        Effect::Inventory(i) => {
            let goal = match i.of {
                Recorded::Coverage => "individuals belong to recorded species",
                Recorded::Species => "species reckoned to be there are recorded",
            };
            return format!(
                "Make an inventory of {target} until {} of their {goal}, with a wanted power of {}; accepting that {} of surveys claim it by their own estimate without having reached it.",
                percent_fine(i.wanted_share),
                percent(q.wanted_power),
                percent(q.significance)
            );
        }
    };
    let rest = match &q.effect {
        Effect::Decline(_) => sides("a change either way counts", "only a fall counts"),
        Effect::RangeShift(_) => sides("a move either way counts", "only a move this way counts"),
        _ => sides(
            "a change either way counts",
            "only a change this way counts",
        ),
    };
    format!("{asked}; {rest}")
}
