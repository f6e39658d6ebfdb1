//! One or two lines that a running total is held against: where it meets one, one stops.
//!
//! Each line differs from the other in dash as well as in colour, and every region says in words what it means.

use crate::document::Document;
use crate::plot::{
    BELOW, LINE, PAD, Panel, draw_title, labelled, pixels, title_lines, widest, words,
};
use crate::scale::Linear;
use crate::svg::{Element, Path, Writer, safe_id};
use crate::table::Table;
use crate::ticks::{covering, within};

/// The totals at one number of samples.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// Number of samples.
    pub samples: f64,
    /// At this total or below one stops; `None` where no total is low enough.
    pub lower: Option<f64>,
    /// At this total or above one stops; `None` where no total is high enough.
    pub upper: Option<f64>,
}

/// A straight guide through the origin, such as the total expected at some mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Guide {
    /// What it is.
    pub label: String,
    /// Total a sample.
    pub slope: f64,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct StoppingLines {
    /// Begins every id in the picture: give each figure of a page its own.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// Name of the axis of samples.
    pub x_label: String,
    /// Name of the axis of totals.
    pub y_label: String,
    /// What it means to be at or above the upper line.
    pub above: String,
    /// What it means to be below the upper and above the lower line.
    pub between: String,
    /// What it means to be at or below the lower line; empty without one.
    pub below: String,
    /// Totals by number of samples, rising.
    pub steps: Vec<Step>,
    /// A dotted guide.
    pub guide: Option<Guide>,
    /// The highest total shown; higher ones are cut off.
    pub highest: f64,
    /// Width in pixels, kept between 280 and 4000.
    pub width: f64,
    /// Height in pixels, kept between 240 and 4000.
    pub height: f64,
}

struct Frame {
    width: f64,
    height: f64,
    title: Vec<String>,
    x: Linear,
    y: Linear,
    panel: Panel,
}

impl StoppingLines {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries [`stylesheet`] once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    /// The totals as a table for reading.
    pub fn table(&self) -> Table {
        let lower = self.has_lower();
        let cell = |v: Option<f64>| v.map_or("—".to_string(), |v| format!("{v:.0}"));
        let mut headers = vec![self.x_label.clone()];
        if lower {
            headers.push(format!("{}: total at most", self.below));
        }
        headers.push(format!("{}: total at least", self.above));
        Table {
            caption: self.title.clone(),
            headers,
            rows: self
                .steps
                .iter()
                .map(|s| {
                    let mut row = vec![format!("{:.0}", s.samples)];
                    if lower {
                        row.push(cell(s.lower));
                    }
                    row.push(cell(s.upper));
                    row
                })
                .collect(),
        }
    }

    fn has_lower(&self) -> bool {
        self.steps.iter().any(|s| s.lower.is_some())
    }

    fn frame(&self) -> Frame {
        let full = pixels(self.width, 700.0, 280.0);
        let height = pixels(self.height, 420.0, 240.0);
        let title = title_lines(self.show_title, &self.title, full);
        let highest = if self.highest.is_finite() && self.highest > 0.0 {
            self.highest
        } else {
            1.0
        };
        let (left, right) = (PAD + widest(&self.heights(highest)) + 8.0, full - PAD - 6.0);
        let guide = if self.guide.is_some() { LINE } else { 0.0 };
        let top = PAD + 20.0 * title.len() as f64 + LINE + guide + 12.0;
        let bottom = height - BELOW;
        let last = self.steps.last().map_or(1.0, |s| s.samples).max(1.0);
        Frame {
            width: full,
            height,
            title,
            x: Linear::new((0.0, last), (left, right)),
            y: Linear::new((0.0, highest), (bottom, top)),
            panel: Panel {
                left,
                right,
                top,
                bottom,
            },
        }
    }

    fn heights(&self, highest: f64) -> Vec<(f64, String)> {
        let mut labels = labelled(&covering(0.0, highest, 5));
        labels.retain(|(v, _)| *v <= highest);
        labels
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
        let mut writer = document.open(|_| ());
        self.draw_axes(&mut writer, &frame);
        self.draw_lines(&mut writer, &frame);
        self.draw_words(&mut writer, &frame);
        writer.finish()
    }

    fn draw_axes(&self, writer: &mut Writer, frame: &Frame) {
        draw_title(writer, &frame.title);
        let guide = if self.guide.is_some() { LINE } else { 0.0 };
        let heading = frame.panel.top - 12.0 - guide;
        writer.text(words(PAD, heading, "fg-label"), &self.y_label);
        let heights = self.heights(frame.y.domain().1);
        frame.panel.heights(writer, &frame.y, &heights);
        let ticks = within(0.0, frame.x.domain().1, 10, 1.0);
        frame.panel.places(writer, &frame.x, &labelled(&ticks));
        frame.panel.name_below(writer, &self.x_label);
    }

    /// The points of one line that are shown: cut at the highest total.
    fn shown(&self, frame: &Frame, of: impl Fn(&Step) -> Option<f64>) -> Vec<(f64, f64)> {
        let highest = frame.y.domain().1;
        let mut points: Vec<(f64, f64)> = Vec::new();
        let mut before: Option<(f64, f64)> = None;
        for (x, y) in self.steps.iter().filter_map(|s| Some((s.samples, of(s)?))) {
            if let Some((px, py)) = before.filter(|b| (b.1 > highest) != (y > highest)) {
                let share = (highest - py) / (y - py);
                points.push((px + share * (x - px), highest));
            }
            if y <= highest {
                points.push((x, y));
            }
            before = Some((x, y));
        }
        points
            .into_iter()
            .map(|(x, y)| (frame.x.at(x), frame.y.at(y)))
            .collect()
    }

    fn draw_lines(&self, writer: &mut Writer, frame: &Frame) {
        let upper = self.shown(frame, |s| s.upper);
        let lower = self.shown(frame, |s| s.lower);
        let mut fill = |line: &[(f64, f64)], edge: f64, class: &str| {
            let (Some(first), Some(last)) = (line.first(), line.last()) else {
                return;
            };
            let mut outline = line.to_vec();
            outline.extend([(last.0, edge), (first.0, edge)]);
            let band = Path::through(&outline).close();
            writer.empty(Element::new("path").path(&band).class(class));
        };
        fill(&upper, frame.panel.top, "fg-main-band");
        fill(&lower, frame.panel.bottom, "fg-second-band");
        if let Some(guide) = &self.guide {
            let (last, highest) = (frame.x.domain().1, frame.y.domain().1);
            let end = if guide.slope > 0.0 {
                last.min(highest / guide.slope)
            } else {
                last
            };
            let to = (frame.x.at(end), frame.y.at(end * guide.slope));
            let path = Path::through(&[(frame.x.at(0.0), frame.y.at(0.0)), to]);
            writer.empty(Element::new("path").path(&path).class("fg-preview"));
        }
        for (line, class) in [(upper, "fg-main"), (lower, "fg-second")] {
            if line.len() > 1 {
                let path = Path::through(&line);
                writer.empty(Element::new("path").path(&path).class(class));
            }
        }
    }

    /// What each region means, in it; and what the dotted guide is, above the plot.
    fn draw_words(&self, writer: &mut Writer, frame: &Frame) {
        let across = frame.panel.right - frame.panel.left;
        if let Some(guide) = &self.guide {
            let text = format!("·····  {}", guide.label);
            writer.text(words(PAD, frame.panel.top - 12.0, "fg-text"), &text);
        }
        if self.has_lower() {
            // The lines rise: the upper region is at the left, the lower one at the right.
            let at = frame.panel.left + 0.05 * across;
            writer.text(words(at, frame.panel.top + 22.0, "fg-tag"), &self.above);
            let at = frame.panel.right - 0.03 * across;
            writer.text(
                words(at, frame.panel.bottom - 14.0, "fg-tag fg-end"),
                &self.below,
            );
            // Between the lines, where there are both.
            let both: Vec<(f64, f64)> = self
                .steps
                .iter()
                .filter_map(|s| Some((s.samples, 0.5 * (s.lower? + s.upper?))))
                .collect();
            if let Some((x, y)) = both.get(both.len() / 2) {
                let (x, y) = (frame.x.at(*x), frame.y.at(*y) + 4.0);
                writer.text(words(x, y, "fg-tag fg-middle"), &self.between);
            }
        } else {
            let at = frame.panel.right - 0.03 * across;
            writer.text(
                words(at, frame.panel.top + 22.0, "fg-tag fg-end"),
                &self.above,
            );
            let y = frame.panel.top + 0.45 * (frame.panel.bottom - frame.panel.top);
            let at = frame.panel.left + 0.08 * across;
            writer.text(words(at, y, "fg-tag"), &self.between);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn figure(lower: bool) -> StoppingLines {
        let steps = (1..=20).map(|n| {
            let n = f64::from(n);
            Step {
                samples: n,
                lower: (lower && n > 4.0).then_some(2.0 * n - 8.0),
                upper: Some(if lower { 2.0 * n + 8.0 } else { 900.0 / n }),
            }
        });
        StoppingLines {
            id: "stop".into(),
            title: "Stop <here> & \"there\"".into(),
            show_title: true,
            description: "lines".into(),
            x_label: "samples".into(),
            y_label: "animals so far".into(),
            above: "stop: many".into(),
            between: "go on".into(),
            below: if lower {
                "stop: few".into()
            } else {
                String::new()
            },
            steps: steps.collect(),
            guide: Some(Guide {
                label: "expected".into(),
                slope: 3.0,
            }),
            highest: 100.0,
            width: 700.0,
            height: 420.0,
        }
    }

    #[test]
    fn well_formed_with_and_without_a_lower_line() {
        for lower in [false, true] {
            let f = figure(lower);
            for svg in [f.svg(), f.svg_unstyled()] {
                check(&svg);
                assert!(!svg.contains("NaN") && !svg.contains("inf"));
                for word in ["stop: many", "go on"] {
                    assert!(svg.contains(word), "{word}");
                }
                assert_eq!(svg.contains("stop: few"), lower);
                assert_eq!(svg.contains("fg-second-band\""), lower);
            }
        }
    }

    /// The picture is cut at the highest total, between two samples where the line crosses it.
    #[test]
    fn lines_are_cut_at_the_top() {
        let f = figure(false);
        let frame = f.frame();
        let points = f.shown(&frame, |s| s.upper);
        // 900/9 = 100 is the first that is shown; 900/8 is above.
        assert_eq!(points[0], (frame.x.at(9.0), frame.y.at(100.0)));
        assert!(points.iter().all(|p| p.1 >= frame.panel.top - 1e-9));
        let table = f.table();
        assert_eq!(table.rows[0], ["1", "900"]);
        assert_eq!(figure(true).table().rows[1], ["2", "—", "12"]);
    }

    #[test]
    fn nothing_to_draw() {
        let mut f = figure(true);
        f.steps.clear();
        f.highest = f64::NAN;
        check(&f.svg());
    }
}
