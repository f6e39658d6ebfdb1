//! Small multiples: many little panels with one or two lines each, all on the same axes, each with a stamp.
//!
//! A stamp has its own shape and word, so that it does not hang on colour.

use crate::document::Document;
use crate::locale::in_english;
use crate::marks::{block, circle, segment};
use crate::number::exact;
use crate::plot::LINE;
use crate::scale::Linear;
use crate::svg::{Element, Path, Writer, safe_id};
use crate::table::Table;
use crate::words::wrap_bold;

/// Shape of a stamp.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// A full disc.
    Disc,
    /// An open ring.
    Ring,
    /// A cross.
    Cross,
    /// A bar.
    Bar,
}

/// One panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// Its name, such as a number.
    pub name: String,
    /// The word of its stamp.
    pub stamp: String,
    /// The shape of its stamp.
    pub shape: Shape,
    /// Values of each line, at the same places in every panel; not finite where there is none. The first line is drawn as
    /// the main one, the second as the other.
    pub lines: Vec<Vec<f64>>,
}

/// Panels under one heading.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The heading.
    pub heading: String,
    /// Its name in the table, short.
    pub name: String,
    /// The panels.
    pub panels: Vec<Panel>,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct SmallMultiples {
    /// Begins every id in the picture.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// What the values are.
    pub value_label: String,
    /// Names of the lines.
    pub line_names: Vec<String>,
    /// Names of the places along a line, such as years.
    pub places: Vec<String>,
    /// Whether the value axis begins at 0.
    pub from_zero: bool,
    /// The panels.
    pub rows: Vec<Row>,
    /// Width in pixels; good from 340 to 1100.
    pub width: f64,
}

const PANEL_HEIGHT: f64 = 74.0;
const STAMP_HEIGHT: f64 = 20.0;
const GAP: f64 = 10.0;
const HEADING: f64 = 26.0;
const NARROWEST: f64 = 104.0;
const EDGE: f64 = 6.0;

/// Three digits.
fn short(v: f64) -> String {
    let unit = if v.abs() >= 100.0 {
        1.0
    } else if v.abs() >= 1.0 {
        10.0
    } else {
        1000.0
    };
    exact((v * unit).round() / unit)
}

impl SmallMultiples {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries it once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    /// Smallest and largest value of all panels; 0 and 1 without any.
    fn ends(&self) -> (f64, f64) {
        let all = self.rows.iter().flat_map(|r| &r.panels);
        let values = all.flat_map(|p| p.lines.iter().flatten().copied());
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for v in values.filter(|v| v.is_finite()) {
            (low, high) = (low.min(v), high.max(v));
        }
        if low > high {
            return (0.0, 1.0);
        }
        if self.from_zero {
            low = low.min(0.0);
        }
        if low == high {
            (low, low + 1.0)
        } else {
            (low, high)
        }
    }

    fn draw(&self, styled: bool) -> String {
        let id = safe_id(&self.id);
        let width = if self.width.is_finite() {
            self.width.clamp(280.0, 4000.0)
        } else {
            760.0
        };
        // As many in a line as there is room for, so that tens and twenties fill their lines.
        let room = (width + GAP - 2.0 * EDGE) / (NARROWEST + GAP);
        let across = [10, 5, 4, 2].into_iter().find(|&n| n as f64 <= room);
        let across = across.unwrap_or(2);
        let panel = (width - 2.0 * EDGE - GAP * (across as f64 - 1.0)) / across as f64;
        let step = PANEL_HEIGHT + STAMP_HEIGHT + GAP;
        let heading = |row: &Row| wrap_bold(&row.heading, 12.5, width - 2.0 * EDGE);
        let headed = |row: &Row| HEADING + LINE * heading(row).len().saturating_sub(1) as f64;
        let down = |row: &Row| headed(row) + step * row.panels.len().div_ceil(across) as f64;
        let top = if self.show_title { 24.0 } else { 0.0 } + 20.0;
        let height = top + self.rows.iter().map(down).sum::<f64>() + 4.0;
        let document = Document {
            id: &id,
            title: &self.title,
            description: &self.description,
            width,
            height,
            styled,
        };
        let mut w = document.open(|_| ());
        let text = |x: f64, y: f64| Element::new("text").at("x", x).at("y", y);
        if self.show_title {
            w.text(text(EDGE, 16.0).class("fg-title"), &self.title);
        }
        let (low, high) = self.ends();
        let scale = format!(
            "{}: every panel from {} to {}",
            self.value_label,
            short(low),
            short(high)
        );
        w.text(text(EDGE, top - 6.0).class("fg-text"), &scale);
        let mut y = top;
        for row in &self.rows {
            for (i, line) in heading(row).iter().enumerate() {
                w.text(
                    text(EDGE, y + 17.0 + LINE * i as f64).class("fg-label"),
                    line,
                );
            }
            y += headed(row);
            for (i, one) in row.panels.iter().enumerate() {
                let x = EDGE + (i % across) as f64 * (panel + GAP);
                let y = y + (i / across) as f64 * step;
                self.panel(&mut w, one, (x, y), panel, (low, high));
            }
            y += down(row) - headed(row);
        }
        w.finish()
    }

    fn panel(&self, w: &mut Writer, one: &Panel, (x, y): (f64, f64), width: f64, ends: (f64, f64)) {
        let bottom = y + PANEL_HEIGHT;
        w.empty(block(x, y, width, PANEL_HEIGHT).class("fg-axis"));
        let places = one.lines.iter().map(Vec::len).max().unwrap_or(0);
        let across = Linear::new(
            (0.0, places.saturating_sub(1) as f64),
            (x + 8.0, x + width - 8.0),
        );
        let up = Linear::new(ends, (bottom - 6.0, y + 6.0));
        for (line, style) in one.lines.iter().zip(["main", "second"]) {
            let at = |i: usize| (across.at(i as f64), up.at(line[i]));
            // A line is interrupted where there is no value.
            let mut begun: Vec<(f64, f64)> = Vec::new();
            for i in 0..=line.len() {
                if i < line.len() && line[i].is_finite() {
                    begun.push(at(i));
                } else if !begun.is_empty() {
                    let path = Element::new("path").path(&Path::through(&begun));
                    if begun.len() > 1 {
                        w.empty(path.class(&format!("fg-{style}")));
                    }
                    begun.clear();
                }
            }
            if places <= 12 {
                for i in (0..line.len()).filter(|&i| line[i].is_finite()) {
                    let (px, py) = at(i);
                    w.empty(circle(px, py, 2.2).class(&format!("fg-{style}-dot fg-close")));
                }
            }
        }
        let (mx, my) = (x + 6.0, bottom + 11.0);
        match one.shape {
            Shape::Disc => w.empty(circle(mx, my, 4.5).class("fg-main-dot")),
            Shape::Ring => w.empty(circle(mx, my, 4.5).class("fg-preview-dot")),
            Shape::Cross => {
                for (a, b) in [(-4.0, 4.0), (4.0, -4.0)] {
                    let line = segment((mx + a, my - 4.0), (mx + b, my + 4.0));
                    w.empty(line.class("fg-cross"));
                }
            }
            Shape::Bar => w.empty(segment((mx - 4.5, my), (mx + 4.5, my)).class("fg-rule")),
        }
        let stamp = Element::new("text")
            .at("x", x + 15.0)
            .at("y", bottom + 15.0);
        w.text(
            stamp.class("fg-legend"),
            &format!("{} {}", one.name, one.stamp),
        );
    }

    /// The table as CSV, in English marks.
    pub fn csv(&self) -> String {
        in_english(|| self.table().csv())
    }

    /// The numbers of the picture.
    pub fn table(&self) -> Table {
        let mut headers = vec!["survey".to_string(), "result".into(), "line".into()];
        headers.extend(self.places.iter().cloned());
        let mut rows = Vec::new();
        for row in &self.rows {
            for one in &row.panels {
                for (line, name) in one.lines.iter().zip(&self.line_names) {
                    let mut cells = vec![
                        format!("{}: {}", row.name, one.name),
                        one.stamp.clone(),
                        name.clone(),
                    ];
                    cells.extend(line.iter().map(|v| {
                        if v.is_finite() {
                            exact((100.0 * v).round() / 100.0)
                        } else {
                            "none".into()
                        }
                    }));
                    rows.push(cells);
                }
            }
        }
        Table {
            caption: self.title.clone(),
            headers,
            rows,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn figure() -> SmallMultiples {
        let panel = |name: &str, lines: Vec<Vec<f64>>, shape| Panel {
            name: name.into(),
            stamp: "found & <kept>".into(),
            shape,
            lines,
        };
        SmallMultiples {
            id: "futures".into(),
            title: "Surveys".into(),
            show_title: true,
            description: "Four surveys.".into(),
            value_label: "catch".into(),
            line_names: vec!["treated".into(), "other".into()],
            places: vec!["year 1".into(), "year 2".into()],
            from_zero: true,
            rows: vec![
                Row {
                    heading: "with the change: one of two".into(),
                    name: "with the change".into(),
                    panels: vec![
                        panel("1", vec![vec![1.0, 2.0], vec![f64::NAN, 3.0]], Shape::Disc),
                        panel("2", vec![vec![4.0, f64::NAN], vec![]], Shape::Ring),
                    ],
                },
                Row {
                    heading: "without".into(),
                    name: "without".into(),
                    panels: vec![
                        panel("1", vec![vec![1.0], vec![]], Shape::Cross),
                        panel("2", vec![vec![], vec![]], Shape::Bar),
                    ],
                },
            ],
            width: 600.0,
        }
    }

    #[test]
    fn is_sound_whatever_is_missing() {
        for width in [280.0, 340.0, 760.0, 1100.0, f64::NAN] {
            let f = SmallMultiples { width, ..figure() };
            check(&f.svg());
            check(&f.svg_unstyled());
            assert!(!f.svg().contains("NaN"));
        }
        let empty = SmallMultiples {
            rows: vec![],
            ..figure()
        };
        check(&empty.svg());
        assert_eq!(empty.ends(), (0.0, 1.0));
    }

    #[test]
    fn a_long_heading_takes_as_many_lines_as_it_needs() {
        let mut f = figure();
        f.rows[0].heading = "words that do not fit beside each other ".repeat(5);
        let height = |f: &SmallMultiples| -> f64 {
            let svg = f.svg();
            let at = svg
                .split("height=\"")
                .nth(1)
                .and_then(|s| s.split('"').next());
            at.and_then(|h| h.parse().ok()).unwrap()
        };
        let long = height(&f);
        let lines = wrap_bold(&f.rows[0].heading, 12.5, f.width - 2.0 * EDGE).len();
        assert!(lines > 1);
        f.rows[0].heading = "short".into();
        assert_eq!(long - height(&f), LINE * (lines - 1) as f64);
    }

    #[test]
    fn all_panels_share_their_axes() {
        assert_eq!(figure().ends(), (0.0, 4.0));
        let table = figure().table();
        assert_eq!(table.rows.len(), 8);
        assert_eq!(
            table.rows[0],
            ["with the change: 1", "found & <kept>", "treated", "1", "2"]
        );
        assert_eq!(table.rows[1][3], "none");
    }
}
