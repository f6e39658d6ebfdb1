//! What surrounds the data: headings, grid, axes, and the highlighted position.

use super::PairedPanels;
use super::frame::{Frame, LINE, PAD, Panel};
use crate::marks::{block, segment};
use crate::number::{tick, tidy};
use crate::svg::{Element, Path, Writer};
use crate::ticks::within;
use crate::words::width;

fn words(x: f64, y: f64, class: &str) -> Element {
    Element::new("text").at("x", x).at("y", y).class(class)
}

/// Title and the names of both panels and of the shared axis.
pub(super) fn draw_titles(writer: &mut Writer, frame: &Frame) {
    for (index, line) in frame.title.iter().enumerate() {
        writer.text(
            words(PAD, PAD + 14.0 + 20.0 * index as f64, "fg-title"),
            line,
        );
    }
    for panel in [&frame.upper, &frame.lower] {
        for (index, line) in panel.heading.iter().enumerate() {
            writer.text(
                words(
                    PAD,
                    panel.heading_top + 12.0 + LINE * index as f64,
                    "fg-label",
                ),
                line,
            );
        }
    }
    let middle = (frame.left + frame.right) / 2.0;
    for (index, line) in frame.x_heading.iter().enumerate() {
        let y = frame.lower.bottom() + 26.0 + 12.0 + LINE * index as f64;
        writer.text(words(middle, y, "fg-label fg-middle"), line);
    }
}

/// Grid and ticks of both panels, and the shared axis at the foot of each.
pub(super) fn draw_axes(writer: &mut Writer, frame: &Frame, figure: &PairedPanels) {
    for panel in [&frame.upper, &frame.lower] {
        draw_heights(writer, frame, panel);
    }
    let ticks = x_ticks(frame, figure);
    for (x, text) in &ticks {
        for panel in [&frame.upper, &frame.lower] {
            writer
                .empty(segment((*x, panel.bottom()), (*x, panel.bottom() + 5.0)).class("fg-axis"));
        }
        writer.text(
            words(*x, frame.lower.bottom() + 19.0, "fg-text fg-middle"),
            text,
        );
    }
    if ticks.is_empty() {
        for panel in [&frame.upper, &frame.lower] {
            let (x, y) = (
                (frame.left + frame.right) / 2.0,
                (panel.top() + panel.bottom()) / 2.0,
            );
            writer.text(words(x, y, "fg-text fg-middle"), "nothing to show yet");
        }
    }
}

fn draw_heights(writer: &mut Writer, frame: &Frame, panel: &Panel) {
    let (left, right) = (frame.left, frame.right);
    for (value, text) in &panel.ticks {
        let y = panel.y.at(*value);
        let class = if *value == 0.0 { "fg-axis" } else { "fg-grid" };
        writer.empty(segment((left, y), (right, y)).class(class));
        writer.text(words(left - 7.0, y + 4.0, "fg-text fg-end"), text);
    }
}

/// Ticks at the x values themselves where their labels fit side by side, else at round numbers.
fn x_ticks(frame: &Frame, figure: &PairedPanels) -> Vec<(f64, String)> {
    let all = figure.all_x();
    let (Some(&low), Some(&high)) = (all.first(), all.last()) else {
        return Vec::new();
    };
    let own: Vec<_> = all.iter().map(|&x| (frame.x.at(x), tidy(x))).collect();
    let reach = |(x, text): &(f64, String), side: f64| x + side * (width(text, 12.0) / 2.0 + 4.0);
    if own
        .windows(2)
        .all(|pair| reach(&pair[0], 1.0) <= reach(&pair[1], -1.0))
    {
        return own;
    }
    let widest = own
        .iter()
        .map(|(_, text)| width(text, 12.0))
        .fold(20.0, f64::max);
    let count = ((frame.right - frame.left) / (widest + 22.0))
        .floor()
        .clamp(1.0, 12.0);
    let whole = all.iter().all(|x| x.fract() == 0.0);
    // A step of one at least, if all are whole numbers: there is no site number 2.5.
    let ticks = within(low, high, count as usize, if whole { 1.0 } else { 0.0 });
    ticks
        .values
        .iter()
        .map(|&x| (frame.x.at(x), tick(x, ticks.step, ticks.decimals)))
        .collect()
}

/// The highlighted position: a pale band and a line through both panels, its label above them.
pub(super) fn draw_highlight(writer: &mut Writer, frame: &Frame) {
    let Some((at, label)) = &frame.highlight else {
        return;
    };
    let (x, top, bottom) = (frame.x.at(*at), frame.upper.top(), frame.lower.bottom());
    let half = (frame.slot / 2.0).clamp(5.0, 24.0);
    for panel in [&frame.upper, &frame.lower] {
        let band = block(
            x - half,
            panel.top(),
            2.0 * half,
            panel.bottom() - panel.top(),
        );
        writer.empty(band.class("fg-mark-band"));
        writer.empty(segment((x, panel.top()), (x, panel.bottom())).class("fg-mark"));
    }
    let pointer =
        Path::through(&[(x - 5.0, top - 8.0), (x + 5.0, top - 8.0), (x, top - 1.0)]).close();
    writer.empty(Element::new("path").path(&pointer).class("fg-mark-fill"));
    // A small foot, so that the position can also be read off the axis.
    let foot = Path::through(&[
        (x - 4.0, bottom + 6.0),
        (x + 4.0, bottom + 6.0),
        (x, bottom),
    ])
    .close();
    writer.empty(Element::new("path").path(&foot).class("fg-mark-fill"));
    let widest = label
        .iter()
        .map(|line| width(line, 13.5))
        .fold(0.0, f64::max)
        / 2.0;
    let (left, right) = (frame.left + widest, frame.right - widest);
    let middle = if left <= right {
        x.clamp(left, right)
    } else {
        (left + right) / 2.0
    };
    for (index, line) in label.iter().enumerate() {
        let y = top - 13.0 - LINE * (label.len() - 1 - index) as f64;
        writer.text(words(middle, y, "fg-tag fg-middle"), line);
    }
}
