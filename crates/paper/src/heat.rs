//! The smallest change over years and sites: the map, its words and its table.

use crate::number::{decimals, percent};
use crate::sentences::{smallest_name, smallest_preview};
use figures::{HeatCell, HeatMap};
use survey::heat::{Cell, Map};
use survey::scenario::{Effect, Scenario};

/// How the map is meant.
pub const MEANING: &str = "Each cell is a plan of its own with everything else as it is, by closed form: simulate the plan that you choose, and its false alarms stand beside its power. Read across: how much more years buy; read down: how much more sites buy.";

/// The unit of the numbers in the cells.
fn unit(s: &Scenario) -> &'static str {
    match &s.question.effect {
        Effect::Occupancy(_) => "per cent of sites occupied at the end",
        Effect::Inventory(_) => "per cent",
        Effect::Absence(_) => "animals a trap-week",
        Effect::RangeShift(_) => "along the gradient, a decade",
        _ => "per cent",
    }
}

/// A value as short as it goes.
fn short(s: &Scenario, v: f64) -> String {
    let v = match &s.question.effect {
        Effect::Occupancy(_) | Effect::Inventory(_) => 100.0 * v,
        _ => v,
    };
    let size = v.abs();
    let places = if size >= 9.95 {
        0
    } else if size >= 0.095 {
        1
    } else {
        3
    };
    let rounds_to_nothing = format!("{v:.places$}")
        .trim_matches(['-', '0', '.'])
        .is_empty();
    if rounds_to_nothing {
        "0".into()
    } else {
        decimals(v, places)
    }
}

/// How far from the line: beyond a quarter, and beyond a half of the wanted change.
fn tint(relative: f64) -> usize {
    match relative {
        r if r > 0.75 && r < 1.5 => 0,
        r if r > 0.5 && r < 2.0 => 1,
        _ => 2,
    }
}

fn cell(s: &Scenario, c: &Cell) -> HeatCell {
    match c {
        Cell::Found {
            smallest,
            relative,
            reaches,
        } => {
            let told = smallest_preview(s, *smallest).map_or(String::new(), |t| t.value);
            let verdict = if *reaches { "enough" } else { "not enough" };
            HeatCell {
                short: short(s, *smallest),
                full: format!("{told} ({verdict})"),
                reaches: Some(*reaches),
                tint: tint(*relative),
            }
        }
        Cell::Nothing => HeatCell {
            short: "×".into(),
            full: "no change is found with the wanted power".into(),
            reaches: Some(false),
            tint: 2,
        },
        Cell::Impossible(why) => HeatCell {
            full: format!("no such plan: {why}"),
            ..HeatCell::default()
        },
    }
}

/// What a cell says, in a sentence.
pub fn told(s: &Scenario, map: &Map, row: usize, column: usize) -> Option<String> {
    let (years, sites) = (map.axes.years.get(column)?, map.sites_in_a_year.get(row)?);
    let plan = format!("{}, {sites} sites{}", in_years(*years), in_a_year(s));
    Some(match map.at(row, column)? {
        Cell::Found {
            smallest, reaches, ..
        } => {
            let of = smallest_preview(s, *smallest)?;
            let verdict = if *reaches {
                "the wanted one is found with the wanted power"
            } else {
                "the wanted one is not found with the wanted power"
            };
            format!(
                "{plan}: {} {} {}; {verdict}.",
                smallest_name(s),
                of.value,
                of.of
            )
        }
        Cell::Nothing => format!("{plan}: no change is found with the wanted power."),
        Cell::Impossible(why) => format!("{plan}: no such plan. {why}."),
    })
}

fn in_years(years: u32) -> String {
    match years {
        1 => "1 year".into(),
        n => format!("{n} years"),
    }
}

fn in_a_year(s: &Scenario) -> &'static str {
    if s.plan.revisit.is_some() {
        " in a year"
    } else {
        ""
    }
}

/// The place of the plan itself: row and column.
pub fn own(s: &Scenario, map: &Map) -> Option<(usize, usize)> {
    let row = map.axes.sites.iter().position(|n| *n == s.plan.sites)?;
    let column = map.axes.years.iter().position(|n| *n == s.plan.years)?;
    Some((row, column))
}

/// What the map shows, in sentences.
pub fn sentences(s: &Scenario, map: &Map) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some((row, column)) = own(s, map) {
        lines.extend(told(s, map, row, column).map(|t| format!("This plan, {t}")));
    }
    let across = map.axes.years.len();
    let reaching = |(i, c): (usize, &Cell)| {
        (c.reaches() == Some(true))
            .then(|| (map.axes.years[i % across], map.sites_in_a_year[i / across]))
    };
    let found: Vec<(u32, u32)> = map.cells.iter().enumerate().filter_map(reaching).collect();
    // As the map has them: the fewest sites in the fewest years, and the fewest sites of all.
    let soonest = found.iter().min();
    let smallest = found.iter().min_by_key(|(years, sites)| (sites, years));
    lines.push(match (soonest, smallest) {
        (Some(a), Some(b)) if a == b => format!(
            "The smallest plan on the map that reaches the wanted change has {} sites{} in {}.",
            a.1,
            in_a_year(s),
            in_years(a.0)
        ),
        (Some(a), Some(b)) => format!(
            "On the map the wanted change is reached soonest in {}, with {} sites{}; with the fewest sites, {}, in {}.",
            in_years(a.0),
            a.1,
            in_a_year(s),
            b.1,
            in_years(b.0)
        ),
        _ => "No plan on the map reaches the wanted change.".into(),
    });
    lines
}

/// The picture.
pub fn figure(s: &Scenario, map: &Map) -> HeatMap {
    let wanted =
        smallest_preview(s, map.wanted).map_or(String::new(), |t| format!("{} {}", t.value, t.of));
    let name = smallest_name(s);
    let power = percent(s.question.wanted_power);
    let blank = map.cells.iter().any(|c| c.reaches().is_none());
    let mut legend = vec![
        format!(
            "Numbers: {name} found with a power of {power}, {}.",
            unit(s)
        ),
        format!(
            "Heavy line: the wanted change, {wanted}. Tinted green where it is reached, red-brown where it is not; darker further off."
        ),
    ];
    if map.cells.contains(&Cell::Nothing) {
        legend.push("×: no change is found with that power.".into());
    }
    if blank {
        legend.push("Blank: no such plan; the table says why.".into());
    }
    HeatMap {
        id: "heat".into(),
        title: format!("Years against sites: {name}"),
        show_title: true,
        description: format!(
            "A map of {} numbers of sites by {} numbers of years. {}",
            map.axes.sites.len(),
            map.axes.years.len(),
            sentences(s, map).join(" ")
        ),
        x_label: "years".into(),
        y_label: format!("sites{}", in_a_year(s)),
        columns: map.axes.years.iter().map(u32::to_string).collect(),
        rows: map.sites_in_a_year.iter().map(u32::to_string).collect(),
        cells: map.cells.iter().map(|c| cell(s, c)).collect(),
        mark: own(s, map).map(|(r, c)| (r, c, "Ring: this plan".into())),
        legend,
        width: 640.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::heat::{Axes, Work, usual_axes};
    use survey::scenario::{Checked, read};

    fn map(s: &Checked, axes: Axes) -> Map {
        Work::new(s, axes).unwrap().finish()
    }

    #[test]
    fn a_map_with_its_line_ring_and_blanks() {
        let s = read(include_str!("../../../demo-data/meadow-beetles.json"))
            .unwrap()
            .check()
            .unwrap();
        let axes = Axes {
            years: vec![2, 5, 10, 15],
            sites: vec![6, 24, 60],
        };
        let m = map(&s, axes);
        let f = figure(&s, &m);
        assert_eq!(f.mark.as_ref().map(|m| (m.0, m.1)), Some((1, 2)));
        assert_eq!(f.cells[0].reaches, None);
        assert!(f.cells[0].full.contains("plan.years"), "{:?}", f.cells[0]);
        let svg = f.svg();
        assert!(svg.contains("fg-contour\"") && svg.contains("Ring: this plan"));
        assert!(
            f.legend.iter().any(|l| l.contains("30.0 % over 10 years")),
            "{:?}",
            f.legend
        );
        let told = sentences(&s, &m);
        assert!(
            told[0].starts_with("This plan, 10 years, 24 sites: smallest fall"),
            "{told:?}"
        );
        assert_eq!(short(&s, 12.34), "12");
        assert_eq!(short(&s, 3.21), "3.2");
        assert_eq!(short(&s, -0.0001), "0");
    }

    #[test]
    fn every_question_has_words() {
        for text in [
            include_str!("../../../demo-data/orchard-absence.json"),
            include_str!("../../../demo-data/mountain-occupancy.json"),
            include_str!("../../../demo-data/meadow-mowing.json"),
        ] {
            let s = read(text).unwrap().check().unwrap();
            let own = usual_axes(&s);
            let axes = Axes {
                years: vec![s.plan.years],
                sites: own.sites,
            };
            let m = map(&s, axes);
            for r in 0..m.axes.sites.len() {
                let told = told(&s, &m, r, 0).unwrap();
                assert!(told.contains("sites") && !told.contains("NaN"), "{told}");
            }
        }
    }
}
