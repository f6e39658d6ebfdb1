//! What a pilot's inventory tells, as a picture and as tables.

use crate::number::{count, decimals, percent_fine, plain};
use crate::sentences::{animals, reach, species_range};
use figures::{Column, Group, Line, LineStyle, PairedPanels, Point, Rule, Spread, Table};
use survey::inventory::{Estimated, Form, Report};
use survey::scenario::{Recorded, Scenario};

/// Coverage and the share of the species against trap-weeks of the pilot's kind, above what they kill (or, where the pilot
/// does not say, above the species recorded).
pub fn inventory_figure(scenario: &Scenario, report: &Report, form: &Form) -> PairedPanels {
    let all = form.richness.estimate;
    let point = |x: f64, e: &Estimated, of: f64| Point {
        x,
        y: e.estimate / of,
        low: e.low.is_finite().then_some(e.low / of),
        high: e.high.is_finite().then_some((e.high / of).min(1.0)),
    };
    let line = |label: &str, style, points| Line {
        label: label.into(),
        style,
        spread: Spread::Band,
        points,
    };
    let kills = form.curve.iter().all(|p| p.killed.is_some());
    let columns = form.curve.iter().map(|p| match p.killed {
        Some(killed) => Column {
            x: p.trap_weeks,
            parts: vec![killed],
            low: f64::NAN,
            high: f64::NAN,
        },
        None => Column {
            x: p.trap_weeks,
            parts: vec![p.species.estimate],
            low: p.species.low,
            high: p.species.high,
        },
    });
    let name = &scenario.premises.target.name;
    let lower = if kills {
        "animals of all kinds killed"
    } else {
        "species recorded"
    };
    let of = |points: Vec<Point>, style, label: &str| line(label, style, points);
    PairedPanels {
        id: "inventory".into(),
        title: format!("The inventory of {name} against trap-weeks"),
        show_title: true,
        description: format!(
            "Coverage and the share of the estimated species against trap-weeks of the pilot's kind: interpolated up to the pilot, extrapolated beyond. {}",
            species_range(form)
        ),
        x_label: "trap-weeks of the pilot's kind".into(),
        upper_label: "of individuals, of species".into(),
        lower_label: lower.into(),
        total_label: lower.into(),
        lines: vec![
            of(
                form.curve
                    .iter()
                    .map(|p| point(p.trap_weeks, &p.coverage, 1.0))
                    .collect(),
                LineStyle::Main,
                "coverage: individuals of recorded species",
            ),
            of(
                form.curve
                    .iter()
                    .map(|p| point(p.trap_weeks, &p.species, all))
                    .collect(),
                LineStyle::Second,
                "species recorded of those estimated",
            ),
        ],
        rules: vec![Rule {
            label: match report.of {
                Recorded::Coverage => "wanted of individuals",
                Recorded::Species => "wanted of species",
            }
            .into(),
            y: report.wanted_share,
        }],
        columns: columns.collect(),
        groups: vec![Group {
            label: lower.into(),
        }],
        highlight: Some((form.trap_weeks, "the pilot".into())),
        width: 760.0,
        height: 560.0,
    }
}

/// The curves in numbers; `cell` writes them.
fn curve(form: &Form, cell: fn(f64) -> String, share: fn(f64) -> String) -> Table {
    let headers = [
        "trap-weeks",
        "individuals or samples",
        "reach",
        "species",
        "species, low",
        "species, high",
        "coverage",
        "coverage, low",
        "coverage, high",
        "animals killed",
    ];
    let rows = form.curve.iter().map(|p| {
        vec![
            cell(p.trap_weeks),
            cell(p.size),
            reach(p.reach).to_string(),
            cell(p.species.estimate),
            cell(p.species.low),
            cell(p.species.high),
            share(p.coverage.estimate),
            share(p.coverage.low),
            share(p.coverage.high),
            p.killed.map_or(String::new(), cell),
        ]
    });
    Table {
        caption: "Species and coverage expected of trap-weeks of the pilot's kind".into(),
        headers: headers.map(String::from).to_vec(),
        rows: rows.collect(),
    }
}

/// The curves for reading.
pub fn inventory_table(form: &Form) -> Table {
    curve(form, |v| plain((10.0 * v).round() / 10.0), percent_fine)
}

/// The curves as CSV: plain numbers, coverage between 0 and 1.
pub fn inventory_csv(form: &Form) -> String {
    let number = |v: f64| {
        if v.is_finite() {
            v.to_string()
        } else {
            String::new()
        }
    };
    curve(form, number, number).csv()
}

/// What one more trap-week in each stratum adds and kills.
pub fn gain_table(report: &Report) -> Table {
    let rows = report.next_trap_week.iter().map(|g| {
        let n = &g.new_species;
        vec![
            g.stratum.clone(),
            plain(g.trap_weeks),
            format!(
                "{} ({} to {})",
                decimals(n.estimate, 2),
                decimals(n.low, 2),
                decimals(n.high, 2)
            ),
            count(g.killed),
            animals(g.species_per_animal),
        ]
    });
    Table {
        caption: format!(
            "One more trap-week in each stratum, most new species for each animal killed first ({} % intervals)",
            plain(100.0 * report.level)
        ),
        headers: [
            "stratum",
            "trap-weeks so far",
            "new species",
            "animals killed",
            "new species for 100 animals",
        ]
        .map(String::from)
        .to_vec(),
        rows: rows.collect(),
    }
}
