//! What a mistake does, in sentences.

use crate::number::{count, percent, plain, signed};
use survey::mistakes::{
    Baseline, BestSites, DIFFERENCE_PERCENT, ManySpecies, MovingSeason, NoneFound, OnlySignificant,
    RepeatedLooks, Shown, TrapsAsSites, YearsIgnored, ZerosDropped,
};

/// The sentence that says it all.
pub fn first(shown: &Shown) -> String {
    sentences(shown).into_iter().next().unwrap_or_default()
}

/// All sentences, the first of which says it all.
pub fn sentences(shown: &Shown) -> Vec<String> {
    match shown {
        Shown::TrapsAsSites(s) => traps(s),
        Shown::YearsIgnored(s) => years(s),
        Shown::BaselineChosen(s) => baseline(s),
        Shown::BestSites(s) => best(s),
        Shown::ZerosDropped(s) => zeros(s),
        Shown::MovingSeason(s) => season(s),
        Shown::NoneFound(s) => none(s),
        Shown::OnlySignificant(s) => significant(s),
        Shown::RepeatedLooks(s) => looks(s),
        Shown::ManySpecies(s) => species(s),
    }
}

/// A whole number, thousands apart.
fn whole(n: f64) -> String {
    if n < 10.0 { plain(n) } else { count(n) }
}

fn times(ratio: f64) -> String {
    plain((ratio * 100.0).round() / 100.0)
}

/// A share of animals lost or gained: "fall by 12 %".
fn change(fall: f64) -> String {
    if fall < 0.0 {
        format!("rise by {}", percent(-fall))
    } else {
        format!("fall by {}", percent(fall))
    }
}

fn of_thousand(n: u64, all: u64) -> String {
    format!("{} of {}", whole(n as f64), whole(all as f64))
}

fn traps(s: &TrapsAsSites) -> Vec<String> {
    let most = if s.never_more_than.is_finite() {
        format!(
            "However many traps stand at these {} sites, they never count as more than {}.",
            whole(s.sites),
            plain(s.never_more_than.round().max(s.sites))
        )
    } else {
        "The traps of a site are not alike here, so that each counts in full.".into()
    };
    vec![
        format!(
            "{} traps count as {}.",
            whole(s.traps),
            plain(s.count_as.round())
        ),
        format!(
            "If each trap is taken for a site, {} of surveys in which two groups of sites do not differ find a difference; {} were accepted.",
            percent(s.naive_false_alarm),
            percent(s.accepted)
        ),
        format!(
            "To find a difference of {} %, such a planner expects a power of {}; an analysis of sites has {}.",
            plain(DIFFERENCE_PERCENT),
            percent(s.naive_power),
            percent(s.honest_power)
        ),
        most,
    ]
}

fn years(s: &YearsIgnored) -> Vec<String> {
    vec![
        format!(
            "With good and bad years left out of the analysis, {} of surveys of a stable population find a change; {} were accepted.",
            percent(s.false_alarm),
            percent(s.accepted)
        ),
        format!(
            "Its standard error is {} times what it should be. With years in the analysis the false alarms are {}.",
            times(s.believed),
            percent(s.accepted)
        ),
    ]
}

fn baseline(s: &Baseline) -> Vec<String> {
    let rate = |r: f64| {
        let text = format!("{} %", signed(r, 1));
        text.replace('-', "\u{2212}")
    };
    let begun = if s.first_year <= 1.0 {
        "All years are used: move the first year to see the sign turn.".to_owned()
    } else {
        format!(
            "Beginning in year {} instead of year 1 turns the sign of the change in {} stable histories.",
            plain(s.first_year),
            of_thousand(s.flipped, s.histories)
        )
    };
    vec![
        begun,
        format!(
            "The history shown changes by {} a year from its first year, and by {} a year from year {}; nothing changed.",
            rate(s.from_all.shown),
            rate(s.from_first.shown),
            plain(s.first_year)
        ),
        format!(
            "Nine in ten stable histories tell between {} and {} a year from all years, and between {} and {} from year {}.",
            rate(s.from_all.low),
            rate(s.from_all.high),
            rate(s.from_first.low),
            rate(s.from_first.high),
            plain(s.first_year)
        ),
        format!(
            "All years show a significant change in {}; some first year or other does in {}.",
            of_thousand(s.significant_from_all, s.histories),
            of_thousand(s.significant_from_some, s.histories)
        ),
    ]
}

fn best(s: &BestSites) -> Vec<String> {
    vec![
        format!(
            "A stable population would seem to fall by {}.",
            percent(s.fall)
        ),
        format!(
            "This is the typical catch of the best {} of the sites, by their catch of the first year, from that year to any later one. Their mean catch would fall by {}.",
            percent(s.share),
            percent(s.fall_of_mean)
        ),
        format!(
            "In {} simulated surveys of {} sites the typical catch fell by {}.",
            whole(s.surveys as f64),
            whole(s.sites as f64),
            percent(s.simulated_fall)
        ),
    ]
}

fn zeros(s: &ZerosDropped) -> Vec<String> {
    let over = s.first.without_zeros / s.first.all - 1.0;
    let told = if s.fall > 0.0 {
        format!(
            "A fall of {} over ten years would look like a {}.",
            percent(s.fall),
            change(s.told_fall).replace(" by ", " of ")
        )
    } else {
        "Nothing changes over the ten years, and nothing seems to.".into()
    };
    vec![
        format!(
            "Without the empty visits the mean catch is told as {} instead of {}: {} too much.",
            count(s.first.without_zeros),
            count(s.first.all),
            percent(over)
        ),
        format!("{} of the visits catch none. {told}", percent(s.zeros)),
        format!(
            "In {} drawn visits a year the means were {} with the empty ones and {} without them in the first year, {} and {} in the last.",
            whole(s.visits as f64),
            count(s.drawn_first.all),
            count(s.drawn_first.without_zeros),
            count(s.drawn_last.all),
            count(s.drawn_last.without_zeros)
        ),
    ]
}

fn season(s: &MovingSeason) -> Vec<String> {
    vec![
        format!(
            "A stable population would seem to {} a decade.",
            change(-s.change_percent_a_decade / 100.0)
        ),
        format!(
            "Over {} years, {} of surveys of this size find a change where there is none but that of the season; {} were accepted.",
            whole(s.years),
            percent(s.false_alarm),
            percent(s.accepted)
        ),
    ]
}

fn none(s: &NoneFound) -> Vec<String> {
    vec![
        format!(
            "A survey of {} sites and {} years that finds no change at all still leaves a fall of up to {} a decade possible.",
            whole(s.sites),
            whole(s.years),
            percent(s.still_possible / 100.0)
        ),
        format!(
            "That is its {} interval. If the catch falls by {} a decade, such surveys find nothing with a chance of {}.",
            percent(s.confidence),
            percent(s.fall / 100.0),
            percent(s.missed)
        ),
    ]
}

fn significant(s: &OnlySignificant) -> Vec<String> {
    vec![
        format!(
            "The fall is {} a decade; half of the significant surveys tell one of {} or more.",
            percent(s.fall / 100.0),
            percent(s.median_told / 100.0)
        ),
        format!(
            "The median told is {} times the true change, the mean {} times (both of logs). {} of surveys are significant (accepted false alarms {}), and {} of these tell a rise.",
            times(s.median_over_true),
            times(s.mean_over_true),
            percent(s.power),
            percent(s.accepted),
            percent(s.wrong_sign)
        ),
    ]
}

fn looks(s: &RepeatedLooks) -> Vec<String> {
    let noun = if s.looks == 1.0 { "look" } else { "looks" };
    vec![format!(
        "{} {noun}, each with the usual test: {} of surveys of a stable population find a change; {} were accepted.",
        whole(s.looks),
        percent(s.false_alarm),
        percent(s.accepted)
    )]
}

fn species(s: &ManySpecies) -> Vec<String> {
    let alarms = if s.expected == 1.0 {
        "false alarm"
    } else {
        "false alarms"
    };
    vec![
        format!(
            "{} species, none of which changes: {} {alarms} to expect, and at least one with a chance of {}.",
            whole(s.species),
            times(s.expected),
            percent(s.any)
        ),
        format!(
            "Testing each at {} % instead of {} keeps the chance of any below {} (species taken as independent).",
            plain(100.0 * s.level_for_each),
            percent(s.accepted),
            percent(s.accepted)
        ),
    ]
}
