//! The upper panel: the rules and their labels beside the plot, under the lines.

use super::PairedPanels;
use super::frame::{Frame, rule_text};
use super::lines;
use crate::legend::rule_class;
use crate::marks::segment;
use crate::svg::{Element, Path, Writer};

/// Height of a line of a label beside the plot.
const LINE: f64 = 14.0;

/// Draws everything inside the upper panel and the labels beside it.
pub(super) fn draw(writer: &mut Writer, frame: &Frame, figure: &PairedPanels) {
    draw_rules(writer, frame, figure);
    lines::draw(writer, frame, figure);
}

fn draw_rules(writer: &mut Writer, frame: &Frame, figure: &PairedPanels) {
    let (left, right) = (frame.left, frame.right);
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
