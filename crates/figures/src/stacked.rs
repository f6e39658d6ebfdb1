//! Columns of stacked bars, one bar for each side of a column, with a limit for each side to be held against.
//!
//! Parts differ in pattern as well as in colour, limits in dash.

use crate::document::Document;
use crate::legend::{Legend, Sample, rule_class};
use crate::marks::{block, group_block, patterns, segment};
use crate::number::{decimals, tidy};
use crate::plot::{
    BELOW, LINE, PAD, Panel, draw_title, labelled, pixels, spot, title_lines, widest, words,
};
use crate::scale::Linear;
use crate::svg::{Writer, safe_id};
use crate::table::Table;
use crate::ticks::covering;
use crate::words::width;

/// One of the bars that stand side by side in each column.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    /// Names of its parts, the lowest first.
    pub parts: Vec<String>,
    /// Name of all parts together.
    pub total: String,
    /// What its total is held against, with its name.
    pub limit: Option<(String, f64)>,
}

/// One column.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    /// Its name below the axis.
    pub label: String,
    /// For each side the sizes of its parts.
    pub sizes: Vec<Vec<f64>>,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct StackedBars {
    /// Begins every id in the picture: give each figure of a page its own.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// Name of the axis of columns.
    pub x_label: String,
    /// Name of the axis of sizes.
    pub y_label: String,
    /// The bars of a column.
    pub sides: Vec<Side>,
    /// The columns.
    pub stacks: Vec<Stack>,
    /// Width in pixels, kept between 280 and 4000.
    pub width: f64,
    /// Height in pixels, kept between 240 and 4000.
    pub height: f64,
}

struct Frame {
    width: f64,
    height: f64,
    title: Vec<String>,
    legend: Legend,
    y: Linear,
    ticks: Vec<(f64, String)>,
    panel: Panel,
}

/// A size that can be drawn.
fn sound(size: f64) -> f64 {
    if size.is_finite() { size.max(0.0) } else { 0.0 }
}

fn sum(parts: &[f64]) -> f64 {
    parts.iter().map(|p| sound(*p)).sum()
}

impl StackedBars {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries [`stylesheet`](crate::stylesheet) once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    /// The sizes as a table for reading.
    pub fn table(&self) -> Table {
        let cell = |v: f64| {
            if v.is_finite() {
                decimals(v, 1)
            } else {
                "—".into()
            }
        };
        let mut headers = vec![self.x_label.clone()];
        for side in &self.sides {
            headers.extend(side.parts.iter().cloned());
            headers.push(side.total.clone());
            headers.extend(side.limit.iter().map(|(name, _)| name.clone()));
        }
        let row = |stack: &Stack| {
            let mut row = vec![stack.label.clone()];
            for (side, sizes) in self.sides.iter().zip(&stack.sizes) {
                row.extend(sizes.iter().map(|s| cell(*s)));
                row.push(cell(sizes.iter().sum()));
                row.extend(side.limit.iter().map(|(_, limit)| cell(*limit)));
            }
            row
        };
        Table {
            caption: self.title.clone(),
            headers,
            rows: self.stacks.iter().map(row).collect(),
        }
    }

    fn limits(&self) -> impl Iterator<Item = (usize, &str, f64)> {
        let each = self.sides.iter().enumerate();
        each.filter_map(|(i, side)| {
            let (name, limit) = side.limit.as_ref()?;
            limit.is_finite().then_some((i, name.as_str(), *limit))
        })
    }

    fn frame(&self) -> Frame {
        let full = pixels(self.width, 700.0, 280.0);
        let height = pixels(self.height, 380.0, 240.0);
        let title = title_lines(self.show_title, &self.title, full);
        let parts = self.sides.iter().flat_map(|s| &s.parts);
        let parts = parts
            .enumerate()
            .map(|(i, p)| (Sample::Group(i), p.clone()));
        let limits = self.limits().map(|(i, n, _)| (Sample::Rule(i), n.into()));
        let legend = Legend::lay(parts.chain(limits).collect(), PAD, full - 2.0 * PAD);
        let bars = self.stacks.iter().flat_map(|s| &s.sizes).map(|s| sum(s));
        let highest = bars
            .chain(self.limits().map(|(_, _, limit)| limit))
            .fold(0.0, f64::max);
        let most = if highest > 0.0 { highest } else { 1.0 };
        let labels = labelled(&covering(0.0, most, 5));
        let top = PAD + 20.0 * title.len() as f64 + legend.height + LINE + 14.0;
        let bottom = (height - BELOW).max(top + 80.0);
        let domain = (0.0, labels.last().map_or(1.0, |l| l.0));
        Frame {
            width: full,
            height: bottom + BELOW,
            title,
            legend,
            y: Linear::new(domain, (bottom, top)),
            panel: Panel {
                left: PAD + widest(&labels) + 8.0,
                right: full - PAD - 6.0,
                top,
                bottom,
            },
            ticks: labels,
        }
    }

    fn draw(&self, styled: bool) -> String {
        let id = safe_id(&self.id);
        let frame = self.frame();
        let document = Document {
            id: &id,
            title: &self.title,
            description: &self.description,
            width: frame.width,
            height: frame.height,
            styled,
        };
        let parts = self.sides.iter().map(|s| s.parts.len()).sum();
        let mut writer = document.open(|w| patterns(w, &id, parts));
        self.draw_axes(&mut writer, &frame, &id);
        self.draw_bars(&mut writer, &frame, &id);
        for (i, _, limit) in self.limits() {
            let y = frame.y.at(limit);
            writer.empty(
                segment((frame.panel.left, y), (frame.panel.right, y)).class(&rule_class(i)),
            );
        }
        writer.finish()
    }

    fn draw_axes(&self, writer: &mut Writer, frame: &Frame, id: &str) {
        draw_title(writer, &frame.title);
        let legend = PAD + 20.0 * frame.title.len() as f64;
        frame.legend.draw(writer, legend, id);
        writer.text(
            words(PAD, frame.panel.top - 10.0, "fg-label"),
            &self.y_label,
        );
        frame.panel.heights(writer, &frame.y, &frame.ticks);
        frame.panel.name_below(writer, &self.x_label);
    }

    fn draw_bars(&self, writer: &mut Writer, frame: &Frame, id: &str) {
        let room = (frame.panel.right - frame.panel.left) / self.stacks.len().max(1) as f64;
        let bar = 0.8 * room / self.sides.len().max(1) as f64;
        // Names that would touch are left out by turns.
        let widest = self
            .stacks
            .iter()
            .map(|s| width(&s.label, 12.0) + 4.0)
            .fold(1.0, f64::max);
        let every = (widest / room).ceil().max(1.0) as usize;
        for (i, stack) in self.stacks.iter().enumerate() {
            let left = frame.panel.left + room * i as f64;
            if i % every == 0 {
                let (x, y) = (left + room / 2.0, frame.panel.bottom + 17.0);
                writer.text(words(x, y, "fg-text fg-middle"), &stack.label);
            }
            let mut part = 0;
            for (s, sizes) in stack.sizes.iter().enumerate() {
                let x = left + 0.1 * room + bar * s as f64;
                let mut below = 0.0;
                for size in sizes.iter().map(|v| sound(*v)) {
                    let (low, high) = (frame.y.at(below), frame.y.at(below + size));
                    if size > 0.0 {
                        let rect = block(x, high, bar - 1.0, low - high);
                        group_block(writer, rect, id, part);
                    }
                    below += size;
                    part += 1;
                }
            }
            let Panel { top, bottom, .. } = frame.panel;
            spot(
                writer,
                &self.told(stack),
                block(left, top, room, bottom - top),
            );
        }
    }

    /// A stack in words: each part that is there, with its number.
    fn told(&self, stack: &Stack) -> String {
        let parts = self.sides.iter().flat_map(|s| &s.parts);
        let sizes = stack.sizes.iter().flatten();
        let named = parts.zip(sizes).filter(|(_, v)| sound(**v) > 0.0);
        let words: Vec<String> = named.map(|(p, v)| format!("{p} {}", tidy(*v))).collect();
        if words.is_empty() {
            format!("{}: nothing", stack.label)
        } else {
            format!("{}: {}", stack.label, words.join(", "))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn figure() -> StackedBars {
        let side = |parts: &[&str], limit| Side {
            parts: parts.iter().map(|p| (*p).into()).collect(),
            total: format!("all of {}", parts[0]),
            limit,
        };
        let stack = |label: &str, a: f64| Stack {
            label: label.into(),
            sizes: vec![vec![a, 2.0], vec![4.0, 0.0, 1.5]],
        };
        StackedBars {
            id: "work".into(),
            title: "Work <by> month".into(),
            show_title: true,
            description: "bars".into(),
            x_label: "month".into(),
            y_label: "hours".into(),
            sides: vec![
                side(&["travel", "field"], Some(("staff".into(), 9.0))),
                side(&["sorting", "naming", "keeping"], None),
            ],
            stacks: vec![stack("May", 3.0), stack("June", 30.0)],
            width: 640.0,
            height: 360.0,
        }
    }

    #[test]
    fn well_formed_with_every_part() {
        let f = figure();
        for svg in [f.svg(), f.svg_unstyled()] {
            check(&svg);
            assert!(!svg.contains("NaN") && !svg.contains("inf"));
            for word in ["travel", "keeping", "staff", "June", "hours"] {
                assert!(svg.contains(word), "{word}");
            }
            assert_eq!(svg.matches("fg-rule fg-dash1").count(), 2);
            // Two months of four parts that are not nothing, and five samples in the legend.
            assert_eq!(svg.matches("fg-edge").count() - f.styles(&svg), 8 + 5);
        }
    }

    impl StackedBars {
        /// Mentions of the class in a style sheet.
        fn styles(&self, svg: &str) -> usize {
            let style = svg.split("<style>").nth(1);
            style.map_or(0, |s| {
                s.split("</style>")
                    .next()
                    .unwrap_or_default()
                    .matches("fg-edge")
                    .count()
            })
        }
    }

    #[test]
    fn the_same_numbers_as_a_table() {
        let table = figure().table();
        assert_eq!(
            table.headers,
            [
                "month",
                "travel",
                "field",
                "all of travel",
                "staff",
                "sorting",
                "naming",
                "keeping",
                "all of sorting"
            ]
        );
        assert_eq!(
            table.rows[1],
            [
                "June", "30.0", "2.0", "32.0", "9.0", "4.0", "0.0", "1.5", "5.5"
            ]
        );
    }

    #[test]
    fn nothing_to_draw() {
        let mut f = figure();
        f.stacks[0].sizes[0][0] = f64::NAN;
        check(&f.svg());
        f.stacks.clear();
        f.sides.clear();
        f.width = f64::NAN;
        check(&f.svg());
    }
}
