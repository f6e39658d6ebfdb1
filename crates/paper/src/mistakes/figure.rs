//! What a mistake does, as a picture.

use super::{sentences::first, title};
use crate::number::percent;
use figures::{LineChart, LineStyle, Trace};
use survey::mistakes::{
    Baseline, BestSites, ManySpecies, Mistake, MovingSeason, NoneFound, OnlySignificant,
    RepeatedLooks, Shown, TrapsAsSites, YearsIgnored, ZerosDropped,
};

/// What differs between the pictures.
struct Parts {
    mistake: Mistake,
    x_label: &'static str,
    y_label: &'static str,
    traces: Vec<Trace>,
    level: Option<(f64, String)>,
    here: Option<f64>,
    whole_places: bool,
}

fn line(label: &str, style: LineStyle, points: Vec<(f64, f64)>) -> Trace {
    Trace {
        label: label.to_owned(),
        style,
        joined: true,
        points,
    }
}

fn main(label: &str, points: Vec<(f64, f64)>) -> Trace {
    line(label, LineStyle::Main, points)
}

fn second(label: &str, points: Vec<(f64, f64)>) -> Trace {
    line(label, LineStyle::Second, points)
}

/// Places, and shares in per cent.
fn in_percent(points: &[[f64; 2]]) -> Vec<(f64, f64)> {
    points.iter().map(|p| (p[0], 100.0 * p[1])).collect()
}

fn plain(points: &[[f64; 2]]) -> Vec<(f64, f64)> {
    points.iter().map(|p| (p[0], p[1])).collect()
}

fn accepted(level: f64) -> Option<(f64, String)> {
    Some((100.0 * level, format!("accepted: {}", percent(level))))
}

/// 100 at all of these places.
fn level(points: &[[f64; 2]]) -> Vec<(f64, f64)> {
    points.iter().map(|p| (p[0], 100.0)).collect()
}

/// The picture; its description is the sentence that says it all.
pub fn figure(shown: &Shown) -> LineChart {
    let parts = match shown {
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
    };
    LineChart {
        id: format!("mistake-{}", parts.mistake.key()),
        title: title(parts.mistake).to_owned(),
        show_title: true,
        description: first(shown),
        x_label: parts.x_label.to_owned(),
        y_label: parts.y_label.to_owned(),
        traces: parts.traces,
        level: parts.level,
        here: parts.here,
        whole_places: parts.whole_places,
        width: 640.0,
        height: 320.0,
    }
}

fn traps(s: &TrapsAsSites) -> Parts {
    let of = |i: usize| s.points.iter().map(|p| (p[0], p[i])).collect();
    Parts {
        mistake: Mistake::TrapsAsSites,
        x_label: "traps at each site",
        y_label: "traps over all sites",
        traces: vec![
            main("count as so many", of(2)),
            second("traps that stand there", of(1)),
        ],
        level: None,
        here: Some(s.traps / s.sites),
        whole_places: true,
    }
}

fn years(s: &YearsIgnored) -> Parts {
    Parts {
        mistake: Mistake::YearsIgnored,
        x_label: "years",
        y_label: "false alarms, %",
        traces: vec![main(
            "years left out of the analysis",
            in_percent(&s.points),
        )],
        level: accepted(s.accepted),
        here: Some(s.years),
        whole_places: true,
    }
}

fn baseline(s: &Baseline) -> Parts {
    let from = |first: f64, values: &[f64]| -> Vec<(f64, f64)> {
        let years = (0..values.len() as u32).map(|i| first + f64::from(i));
        years.zip(values).map(|(y, v)| (y, 100.0 * v)).collect()
    };
    Parts {
        mistake: Mistake::BaselineChosen,
        x_label: "year",
        y_label: "yearly index, % of the typical",
        traces: vec![
            Trace {
                joined: false,
                ..line(
                    "a stable history",
                    LineStyle::Preview,
                    from(1.0, &s.history),
                )
            },
            second("trend of all years", from(1.0, &s.line_of_all)),
            main(
                "trend from the first year you use",
                from(s.first_year, &s.line_of_rest),
            ),
        ],
        level: None,
        here: Some(s.first_year),
        whole_places: true,
    }
}

fn best(s: &BestSites) -> Parts {
    Parts {
        mistake: Mistake::BestSites,
        x_label: "year, the sites chosen by the first",
        y_label: "typical catch, % of all sites",
        traces: vec![
            main("the sites chosen", in_percent(&s.points)),
            second("all sites", level(&s.points)),
        ],
        level: None,
        here: Some(1.0),
        whole_places: true,
    }
}

fn zeros(s: &ZerosDropped) -> Parts {
    let of = |i: usize| s.points.iter().map(|p| (p[0], p[i])).collect();
    Parts {
        mistake: Mistake::ZerosDropped,
        x_label: "years after the first",
        y_label: "mean catch of a visit",
        traces: vec![
            main("without the empty visits", of(2)),
            second("all visits", of(1)),
        ],
        level: None,
        here: None,
        whole_places: true,
    }
}

fn season(s: &MovingSeason) -> Parts {
    Parts {
        mistake: Mistake::MovingSeason,
        x_label: "year",
        y_label: "% of the first year",
        traces: vec![
            main("catch of the open weeks", in_percent(&s.points)),
            second("animals over the whole season", level(&s.points)),
        ],
        level: None,
        here: None,
        whole_places: true,
    }
}

fn none(s: &NoneFound) -> Parts {
    Parts {
        mistake: Mistake::NoneFound,
        x_label: "true fall, % a decade",
        y_label: "chance that nothing is found, %",
        traces: vec![main("surveys that find nothing", in_percent(&s.points))],
        level: None,
        here: Some(s.still_possible),
        whole_places: false,
    }
}

fn significant(s: &OnlySignificant) -> Parts {
    let told = plain(&s.points);
    Parts {
        mistake: Mistake::OnlySignificant,
        x_label: "true fall, % a decade",
        y_label: "fall told, % a decade",
        traces: vec![
            second("the truth", told.iter().map(|p| (p.0, p.0)).collect()),
            main("median of the significant ones", told),
        ],
        level: None,
        here: Some(s.fall),
        whole_places: false,
    }
}

fn looks(s: &RepeatedLooks) -> Parts {
    Parts {
        mistake: Mistake::RepeatedLooks,
        x_label: "looks",
        y_label: "false alarms, %",
        traces: vec![main("by any look so far", in_percent(&s.points))],
        level: accepted(s.accepted),
        here: Some(s.looks),
        whole_places: true,
    }
}

fn species(s: &ManySpecies) -> Parts {
    Parts {
        mistake: Mistake::ManySpecies,
        x_label: "species tested",
        y_label: "chance of a false alarm, %",
        traces: vec![main("at least one", in_percent(&s.points))],
        level: accepted(s.accepted),
        here: Some(s.species),
        whole_places: true,
    }
}
