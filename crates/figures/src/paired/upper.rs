//! The upper panel: rules, lines, intervals and markers.

use super::axes::{plot_left, plot_right};
use super::frame::{Frame, rule_text};
use super::{Line, LineStyle, PairedPanels, Point, Spread};
use crate::legend::rule_class;
use crate::marks::{circle, marker, segment, style_name, whisker};
use crate::number::{percent, tidy};
use crate::svg::{Element, Path, Writer};

/// Height of a line of a label beside the plot.
const LINE: f64 = 14.0;

/// Draws everything inside the upper panel and the labels beside it.
pub(super) fn draw(writer: &mut Writer, frame: &Frame, figure: &PairedPanels) {
    draw_rules(writer, frame, figure);
    // The main line comes last, to lie on top.
    for style in [LineStyle::Preview, LineStyle::Second, LineStyle::Main] {
        for line in figure.lines.iter().filter(|line| line.style == style) {
            draw_line(writer, frame, line);
            draw_points(writer, frame, figure, line);
        }
    }
}

fn draw_rules(writer: &mut Writer, frame: &Frame, figure: &PairedPanels) {
    let (left, right) = (plot_left(frame), plot_right(frame));
    for (index, rule) in figure
        .rules
        .iter()
        .enumerate()
        .filter(|(_, rule)| rule.y.is_finite())
    {
        let y = frame.upper.y.at(rule.y.clamp(0.0, 1.0));
        writer.open(Element::new("g"));
        writer.text(Element::new("title"), &rule_text(rule));
        writer.empty(segment((left, y), (right, y)).class(&rule_class(index)));
        writer.close();
    }
    let Some(labels) = &frame.beside else {
        return;
    };
    let mut wanted: Vec<(f64, &[String])> = figure
        .rules
        .iter()
        .zip(labels)
        .filter(|(rule, _)| rule.y.is_finite())
        .map(|(rule, label)| (frame.upper.y.at(rule.y.clamp(0.0, 1.0)), label.as_slice()))
        .collect();
    wanted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let heights: Vec<f64> = wanted
        .iter()
        .map(|(_, label)| LINE * label.len() as f64 + 3.0)
        .collect();
    let places: Vec<f64> = wanted.iter().map(|(y, _)| *y).collect();
    let tops = spread_out(&places, &heights, frame.upper.bottom() + 8.0);
    for (((y, label), top), height) in wanted.iter().zip(tops).zip(heights) {
        let middle = top + height / 2.0;
        let leader = Path::through(&[
            (right + 1.0, *y),
            (right + 4.0, *y),
            (right + 11.0, middle),
            (right + 14.0, middle),
        ]);
        writer.empty(Element::new("path").path(&leader).class("fg-leader"));
        for (index, line) in label.iter().enumerate() {
            let base = middle - LINE * (label.len() as f64 - 1.0) / 2.0 + 4.0 + LINE * index as f64;
            writer.text(
                Element::new("text")
                    .at("x", right + 17.0)
                    .at("y", base)
                    .class("fg-text"),
                line,
            );
        }
    }
}

/// Tops of blocks that are centred on their places if they can and never overlap; none ends below `bottom`
/// unless all together are too high. Places must be increasing.
fn spread_out(places: &[f64], heights: &[f64], bottom: f64) -> Vec<f64> {
    let mut tops: Vec<f64> = places
        .iter()
        .zip(heights)
        .map(|(place, height)| place - height / 2.0)
        .collect();
    for index in 1..tops.len() {
        tops[index] = tops[index].max(tops[index - 1] + heights[index - 1]);
    }
    let mut limit = bottom;
    for index in (0..tops.len()).rev() {
        tops[index] = tops[index].min(limit - heights[index]);
        limit = tops[index];
    }
    tops
}

/// Points in order of x, those without a finite x left out.
fn in_order(line: &Line) -> Vec<Point> {
    let mut points: Vec<Point> = line
        .points
        .iter()
        .copied()
        .filter(|point| point.x.is_finite())
        .collect();
    points.sort_by(|a, b| a.x.total_cmp(&b.x));
    points
}

fn draw_line(writer: &mut Writer, frame: &Frame, line: &Line) {
    let name = style_name(line.style);
    let height = |share: f64| frame.upper.y.at(share.clamp(0.0, 1.0));
    let points = in_order(line);
    if line.spread == Spread::Band {
        for run in points.split(|point| !point.y.is_finite() || point.interval().is_none()) {
            let ends = run
                .iter()
                .filter_map(|point| point.interval().map(|ends| (frame.x.at(point.x), ends)));
            let ends: Vec<_> = ends.collect();
            let forth = ends.iter().map(|&(x, (_, high))| (x, height(high)));
            let back = ends.iter().rev().map(|&(x, (low, _))| (x, height(low)));
            let outline: Vec<_> = forth.chain(back).collect();
            if run.len() > 1 {
                let band = Path::through(&outline).close();
                writer.empty(
                    Element::new("path")
                        .path(&band)
                        .class(&format!("fg-{name}-band")),
                );
            }
        }
    }
    for run in points.split(|point| !point.y.is_finite()) {
        let places: Vec<_> = run
            .iter()
            .map(|point| (frame.x.at(point.x), height(point.y)))
            .collect();
        if places.len() > 1 {
            writer.empty(
                Element::new("path")
                    .path(&Path::through(&places))
                    .class(&format!("fg-{name}")),
            );
        }
    }
}

fn draw_points(writer: &mut Writer, frame: &Frame, figure: &PairedPanels, line: &Line) {
    let name = style_name(line.style);
    let size = if frame.slot < 12.0 { 2.75 } else { 4.25 };
    let height = |share: f64| frame.upper.y.at(share.clamp(0.0, 1.0));
    let simulated = |x: f64| {
        let main = figure
            .lines
            .iter()
            .filter(|other| other.style == LineStyle::Main);
        main.flat_map(|other| &other.points)
            .any(|point| point.x == x && point.y.is_finite())
    };
    for point in in_order(line).iter().filter(|point| point.y.is_finite()) {
        // A preview shows its ring only while nothing better is there.
        if line.style == LineStyle::Preview && simulated(point.x) {
            continue;
        }
        let (x, y) = (frame.x.at(point.x), height(point.y));
        let mut words = format!(
            "{} {}: {} {}",
            figure.x_label,
            tidy(point.x),
            line.label,
            percent(point.y)
        );
        writer.open(Element::new("g").class("fg-spot"));
        let interval = point.interval();
        if let Some((low, high)) = interval {
            words.push_str(&format!(" ({} to {})", percent(low), percent(high)));
        }
        writer.text(Element::new("title"), &words);
        if let Some((low, high)) = interval.filter(|_| line.spread == Spread::Bars) {
            let path = whisker(x, height(low), height(high), size * 0.8);
            writer.empty(
                Element::new("path")
                    .path(&path)
                    .class(&format!("fg-{name}-spread")),
            );
        }
        marker(writer, line.style, x, y, size);
        writer.empty(circle(x, y, 9.0).class("fg-hit"));
        writer.close();
    }
}

#[cfg(test)]
mod tests {
    use super::spread_out;

    #[test]
    fn labels_beside_the_plot_never_overlap() {
        assert_eq!(
            spread_out(&[20.0, 100.0], &[10.0, 10.0], 200.0),
            [15.0, 95.0]
        );
        let tops = spread_out(&[95.0, 98.0, 99.0], &[30.0, 15.0, 15.0], 100.0);
        assert_eq!(tops, [40.0, 70.0, 85.0]);
        assert!(spread_out(&[], &[], 10.0).is_empty());
    }
}
