//! The season by week, the best weeks of a number, and what a moving season does to them: picture, tables, sentences.

use crate::number::{count, percent, percent_fine, plain, power_with_alarms, signed};
use crate::sentences::{in_weeks, weeks};
use figures::{Calendar, Table, WeekPanel};
use survey::scenario::Scenario;
use survey::season::{
    Best, Found, Goal, Kind, Method, Move, Moved, SetToll, UnderMove, Week, Weights,
};

/// Smallest share of the largest kill of a week that is still shown.
const SHOWN: f64 = 1e-3;

/// The weeks with anything to see in them, the open ones among them, in aligned panels: target, reproductives where they
/// are given, by-catch, information per animal killed.
pub fn figure(scenario: &Scenario, all: &[Week], weights: &Weights) -> Calendar {
    let most = all.iter().map(|w| w.toll.target).fold(0.0, f64::max);
    let seen = |w: &Week| w.open || w.toll.target >= SHOWN * most;
    let first = all.iter().position(seen).unwrap_or(0);
    let last = all.iter().rposition(seen).unwrap_or(0);
    let shown = all.get(first..=last).unwrap_or_default();
    let target = &scenario.premises.target.name;
    let panel = |label: String, of: &dyn Fn(&Week) -> f64| WeekPanel {
        label,
        values: shown.iter().map(of).collect(),
    };
    let mut panels = vec![panel(
        format!("{target} killed if the week is open"),
        &|w| w.toll.target,
    )];
    if shown.iter().any(|w| w.toll.reproductives.is_some()) {
        panels.push(panel(
            "reproductive animals among those killed".into(),
            &|w| w.toll.reproductives.unwrap_or(f64::NAN),
        ));
    }
    type Of = fn(&SetToll) -> f64;
    let classes: [(&str, Of); 3] = [
        ("arthropods", |t| t.bycatch.arthropod),
        ("vertebrates", |t| t.bycatch.vertebrate),
        ("protected animals", |t| t.bycatch.protected),
    ];
    for (name, of) in classes {
        if shown.iter().any(|w| of(&w.toll) > 0.0) {
            panels.push(panel(format!("by-catch: {name} killed"), &|w| of(&w.toll)));
        }
    }
    let animal = per_what(weights);
    panels.push(panel(
        format!("information per {animal}, a catch of the week alone"),
        &|w| w.alone_per_animal,
    ));
    panels.push(panel(
        "share of the plan's information that hangs on the week (open), or would be added (not open)".into(),
        &|w| w.gain_share.max(0.0),
    ));
    let open: Vec<u32> = all.iter().filter(|w| w.open).map(|w| w.week).collect();
    Calendar {
        id: "season".into(),
        title: format!("The season by week: {target}"),
        show_title: true,
        description: format!(
            "For each week of the year what it kills over all sites and years, by kind, and what it tells per animal killed. Open in this plan: {}.",
            in_weeks(&open)
        ),
        x_label: "week of the year".into(),
        chosen_label: "open in this plan".into(),
        weeks: shown.iter().map(|w| w.week).collect(),
        chosen: shown.iter().map(|w| w.open).collect(),
        panels,
        width: 760.0,
    }
}

fn per_what(weights: &Weights) -> &'static str {
    if *weights == Weights::default() {
        "animal killed"
    } else {
        "weighted animal killed"
    }
}

/// What a set is best in.
pub fn goal(goal: Goal) -> &'static str {
    match goal {
        Goal::LeastVariance => "surest answer",
        Goal::LeastToll => "smallest toll with the wanted power",
        Goal::MostPerAnimal => "most information per animal",
    }
}

/// How sets were looked through.
pub fn method(method: Method) -> &'static str {
    match method {
        Method::Enumeration => "every set of weeks was looked at, so the best one is found",
        Method::Exchange => {
            "too many sets to look at all of them: weeks were exchanged one at a time, and a better set further away may be missed"
        }
    }
}

fn optional(v: Option<f64>, text: fn(f64) -> String) -> String {
    v.map_or("—".into(), text)
}

fn set_row(name: String, set: &Found) -> Vec<String> {
    let b = &set.toll.bycatch;
    vec![
        name,
        weeks(&set.weeks),
        power_with_alarms(set.power, set.false_alarm),
        percent(set.information_share),
        count(set.toll.target),
        count(b.arthropod),
        count(b.vertebrate),
        count(b.protected),
        count(set.toll.total),
        optional(set.toll.reproductives, count),
        optional(set.reproductive_share, percent_fine),
    ]
}

/// The plan's own weeks and the best sets, one row each.
pub fn sets(target: &str, own: &Found, best: &[Best]) -> Table {
    let mut rows = vec![set_row("this plan".into(), own)];
    for b in best {
        rows.push(match &b.set {
            Some(set) => set_row(goal(b.goal).into(), set),
            None => {
                let mut row = vec![goal(b.goal).into(), "none keeps it".to_string()];
                row.resize(11, "—".into());
                row
            }
        });
    }
    let headers = [
        "weeks that give the",
        "weeks",
        "power (false alarms), preview",
        "information, of this plan's",
        target,
        "by-catch: arthropods",
        "vertebrates",
        "protected",
        "all animals",
        "reproductive",
        "share reproductive",
    ];
    Table {
        caption: "This plan's weeks and the best ones: expected kill over all sites and years"
            .into(),
        headers: headers.map(String::from).to_vec(),
        rows,
    }
}

/// What is told of the search in a sentence.
pub fn search(own: &Found, number: u32, best: &[Best]) -> String {
    let how = best.first().map_or("", |b| method(b.method));
    let avoided = best
        .iter()
        .find(|b| b.goal == Goal::LeastToll)
        .and_then(|b| b.set.as_ref())
        .map_or(String::new(), |set| {
            let spared = own.toll.total - set.toll.total;
            let animals = if spared >= 0.0 {
                format!("spares {} animals", count(spared))
            } else {
                format!("kills {} animals more", count(-spared))
            };
            let reproductive = match (own.toll.reproductives, set.toll.reproductives) {
                (Some(a), Some(b)) if a >= b => format!(", {} of them reproductive", count(a - b)),
                (Some(a), Some(b)) => format!(", and {} reproductive ones more", count(b - a)),
                _ => String::new(),
            };
            format!(" The smallest toll with the wanted power ({}) {animals}{reproductive}, against this plan's weeks.", in_weeks(&set.weeks))
        });
    format!("Sets of {number} weeks: {how}.{avoided}")
}

/// A move in words.
pub fn movement(m: &Move) -> String {
    let by = plain(m.amount.abs());
    let way = if m.amount < 0.0 { "later" } else { "earlier" };
    match m.kind {
        Kind::AllYears if m.amount == 0.0 => "as stated".into(),
        Kind::AllYears => {
            let unit = if m.amount.abs() == 1.0 {
                "week"
            } else {
                "weeks"
            };
            format!("{by} {unit} {way} in all years")
        }
        Kind::EachYear => format!("each year by itself, SD {by} weeks"),
        Kind::Trend => format!("{by} days a decade {way}"),
    }
}

/// Sets that are told apart, each once, in their order: a set may be best in several things.
fn told_once(m: &Moved) -> Vec<&UnderMove> {
    let mut once: Vec<&UnderMove> = Vec::new();
    for set in &m.sets {
        if once.iter().all(|s| s.weeks != set.weeks) {
            once.push(set);
        }
    }
    once
}

/// What moves of the season do to each set, one row for each move and set.
pub fn robustness(moved: &[Moved]) -> Table {
    let mut rows = Vec::new();
    for m in moved {
        let name = movement(&m.moved);
        if m.sets.is_empty() {
            let mut row = vec![name.clone(), "a peak would leave the year".into()];
            row.resize(7, "—".into());
            rows.push(row);
        }
        for set in told_once(m) {
            rows.push(vec![
                name.clone(),
                weeks(&set.weeks),
                percent(set.power),
                percent(set.false_alarm),
                format!("{} %", signed(set.false_trend_percent, 2)).replace('-', "\u{2212}"),
                count(set.toll.total),
                optional(set.reproductive_share, percent_fine),
            ]);
        }
    }
    let headers = [
        "season",
        "weeks",
        "power",
        "false alarms",
        "false trend a year",
        "all animals killed",
        "share reproductive",
    ];
    Table {
        caption: "If the season moves and the weeks stay: the planned test by closed form".into(),
        headers: headers.map(String::from).to_vec(),
        rows,
    }
}

/// What must be kept in mind.
pub const CAUTIONS: [&str; 3] = [
    "Fixed weeks under a season that comes earlier decade by decade show a trend that no animal made. Weeks on both sides of the peak show least of it; weeks that follow the season by its own signs show none.",
    "Shifts in all years, years' own shifts and trends move target, by-catch and reproductives alike. 2.3 days a decade is the mean of many spring events (Parmesan & Yohe 2003, Nature 421:37; cited from memory); a week a decade is made up to show much.",
    "Closed forms take the years as equally well counted. State a move among the premises to see it simulated.",
];
