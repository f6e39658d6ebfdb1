//! A legend that flows into as many rows as the width asks for, so that it never overlaps anything.

use crate::marks::{block, group_block, marker, segment, style_name, whisker};
use crate::paired::LineStyle;
use crate::svg::{Element, Writer};
use crate::words::{width, wrap};

/// Font size of legend text in pixels; the same as in the style sheet.
const SIZE: f64 = 12.0;
/// Height of one line of text.
const LINE: f64 = 17.0;
/// Width kept for the sample in front of the text.
const SAMPLE: f64 = 32.0;
const GAP: f64 = 18.0;

/// What is drawn in front of the text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Sample {
    Line(LineStyle),
    /// A horizontal rule; its number chooses the dash.
    Rule(usize),
    Group(usize),
    /// The whisker on the total of a bar.
    Total,
}

/// Entries for those kinds of bars of which there is one.
pub(crate) fn kinds_used(kinds: &[String], used: impl Fn(usize) -> bool) -> Vec<(Sample, String)> {
    let kinds = kinds.iter().enumerate();
    let there = kinds.filter(|(i, _)| used(*i));
    there
        .map(|(i, name)| (Sample::Group(i), name.clone()))
        .collect()
}

/// Legend entries with their places, relative to the top of the legend.
#[derive(Debug, Clone)]
pub(crate) struct Legend {
    entries: Vec<(Sample, f64, f64, Vec<String>)>,
    /// Height of all rows together.
    pub(crate) height: f64,
}

impl Legend {
    /// Lays the entries out from `left` in rows of at most `room` pixels.
    pub(crate) fn lay(entries: Vec<(Sample, String)>, left: f64, room: f64) -> Self {
        let mut placed = Vec::new();
        let (mut x, mut top, mut row) = (0.0, 0.0, 0.0_f64);
        for (sample, text) in entries {
            let lines = wrap(&text, SIZE, (room - SAMPLE).max(40.0));
            let widest = lines
                .iter()
                .map(|line| width(line, SIZE))
                .fold(0.0, f64::max);
            if x > 0.0 && x + SAMPLE + widest > room {
                (x, top, row) = (0.0, top + row, 0.0);
            }
            row = row.max(LINE * lines.len().max(1) as f64);
            placed.push((sample, left + x, top, lines));
            x += SAMPLE + widest + GAP;
        }
        Self {
            entries: placed,
            height: top + row,
        }
    }

    /// Draws the legend with its top at `top`; `id` begins the ids of the group patterns.
    pub(crate) fn draw(&self, writer: &mut Writer, top: f64, id: &str) {
        for (sample, x, dy, lines) in &self.entries {
            let middle = top + dy + LINE / 2.0;
            draw_sample(writer, *sample, *x, middle, id);
            for (index, line) in lines.iter().enumerate() {
                let y = middle + 4.0 + LINE * index as f64;
                writer.text(
                    Element::new("text")
                        .at("x", x + SAMPLE)
                        .at("y", y)
                        .class("fg-legend"),
                    line,
                );
            }
        }
    }
}

fn draw_sample(writer: &mut Writer, sample: Sample, x: f64, y: f64, id: &str) {
    let (from, to) = ((x, y), (x + 25.0, y));
    match sample {
        Sample::Line(style) => {
            writer.empty(segment(from, to).class(&format!("fg-{}", style_name(style))));
            if style != LineStyle::Preview {
                marker(writer, style, x + 12.5, y, 4.0);
            }
        }
        Sample::Rule(index) => writer.empty(segment(from, to).class(&rule_class(index))),
        Sample::Group(index) => group_block(writer, block(x + 3.0, y - 6.0, 20.0, 12.0), id, index),
        Sample::Total => {
            let path = whisker(x + 13.0, y - 6.0, y + 6.0, 4.0);
            writer.empty(Element::new("path").path(&path).class("fg-total"));
        }
    }
}

/// Class of the rule with this number: dashed, dash and dot, dotted, in turn.
pub(crate) fn rule_class(index: usize) -> String {
    format!("fg-rule fg-dash{}", index % 3 + 1)
}

#[cfg(test)]
mod tests {
    use super::{Legend, SAMPLE, Sample};
    use crate::words::width;

    #[test]
    fn entries_never_overlap_nor_leave_the_room() {
        let names = [
            "wild bees",
            "hoverflies and other flies",
            "x",
            "a group with a really very long name indeed",
        ];
        for room in [150.0, 316.0, 700.0] {
            let entries = names
                .iter()
                .enumerate()
                .map(|(i, name)| (Sample::Group(i), name.to_string()))
                .collect();
            let legend = Legend::lay(entries, 12.0, room);
            let boxes: Vec<_> = legend
                .entries
                .iter()
                .map(|(_, x, top, lines)| {
                    let text = lines
                        .iter()
                        .map(|line| width(line, 12.0))
                        .fold(0.0, f64::max);
                    (*x, x + SAMPLE + text, *top, top + 17.0 * lines.len() as f64)
                })
                .collect();
            for (index, a) in boxes.iter().enumerate() {
                assert!(a.1 <= 12.0 + room + 1e-9 && a.3 <= legend.height + 1e-9);
                for b in &boxes[index + 1..] {
                    assert!(
                        a.1 <= b.0 || b.1 <= a.0 || a.3 <= b.2 || b.3 <= a.2,
                        "{a:?} {b:?}"
                    );
                }
            }
        }
    }
}
