//! The numbers of the figure: one row per x, for reading and for machines.

use super::frame::rule_text;
use super::{Column, Line, PairedPanels, Point};
use crate::number::{percent, plain, tidy};
use crate::table::Table;

/// Formatted for reading: percentages, separators, "not available".
pub(super) fn for_reading(figure: &PairedPanels) -> Table {
    let mut caption = figure.title.clone();
    let rules = figure
        .rules
        .iter()
        .filter(|rule| rule.y.is_finite())
        .map(rule_text);
    let highlight = figure.highlight.iter().filter(|(x, _)| x.is_finite());
    let highlight = highlight.map(|(x, label)| format!("{label}: {} {}", figure.x_label, tidy(*x)));
    let notes: Vec<String> = rules.chain(highlight).collect();
    if !notes.is_empty() {
        caption.push_str(&format!(" ({})", notes.join("; ")));
    }
    Table {
        caption,
        ..build(figure, "", percent, tidy)
    }
}

/// Plain numbers; shares stay between 0 and 1.
pub(super) fn for_machines(figure: &PairedPanels) -> Table {
    build(figure, " (share of 1)", plain, plain)
}

/// `unit` is added to the headers of shares.
fn build(
    figure: &PairedPanels,
    unit: &str,
    share: fn(f64) -> String,
    amount: fn(f64) -> String,
) -> Table {
    let mut headers = vec![figure.x_label.clone()];
    for line in &figure.lines {
        headers.push(format!("{}{unit}", line.label));
        if has_intervals(line) {
            headers.extend(["low", "high"].map(|end| format!("{}, {end}{unit}", line.label)));
        }
    }
    let with_columns = !figure.columns.is_empty() && !figure.groups.is_empty();
    if with_columns {
        let total = if figure.total_label.is_empty() {
            "total"
        } else {
            &figure.total_label
        };
        headers.extend(figure.groups.iter().map(|group| group.label.clone()));
        headers.push(total.to_string());
        headers.extend(["low", "high"].map(|end| format!("{total}, {end}")));
    }
    let row = |x: f64| {
        let mut cells = vec![amount(x)];
        for line in &figure.lines {
            let point = point_at(line, x);
            cells.push(share(point.map_or(f64::NAN, |point| point.y)));
            if has_intervals(line) {
                let (low, high) = point
                    .and_then(Point::interval)
                    .unwrap_or((f64::NAN, f64::NAN));
                cells.extend([share(low), share(high)]);
            }
        }
        if with_columns {
            cells.extend(amounts_at(figure, x).into_iter().map(amount));
        }
        cells
    };
    Table {
        caption: String::new(),
        headers,
        rows: figure.all_x().into_iter().map(row).collect(),
    }
}

fn has_intervals(line: &Line) -> bool {
    line.points
        .iter()
        .any(|point| point.low.is_some() || point.high.is_some())
}

/// The point at this x; of several the last that has a value.
fn point_at(line: &Line, x: f64) -> Option<&Point> {
    let here = || line.points.iter().rev().filter(|point| point.x == x);
    here()
        .find(|point| point.y.is_finite())
        .or_else(|| here().next())
}

/// The parts of the column at this x, its total and both ends of its interval.
fn amounts_at(figure: &PairedPanels, x: f64) -> Vec<f64> {
    let groups = figure.groups.len();
    let column: Option<&Column> = figure.columns.iter().find(|column| column.x == x);
    let part = |index: usize| {
        column
            .and_then(|c| c.parts.get(index))
            .copied()
            .unwrap_or(f64::NAN)
    };
    let mut amounts: Vec<f64> = (0..groups).map(part).collect();
    // An interval without its total would say more than the picture does.
    let total = column.and_then(|column| column.total(groups));
    let ends = total.and(column).and_then(Column::interval);
    let (low, high) = ends.unwrap_or((f64::NAN, f64::NAN));
    amounts.extend([total.unwrap_or(f64::NAN), low, high]);
    amounts
}
