//! A few lines over one axis, with a level to hold them against and the place where one stands.
//!
//! Lines differ in dash and marker as well as in colour.

use crate::document::Document;
use crate::legend::{Legend, Sample, rule_class};
use crate::locale::in_english;
use crate::marks::{marker, segment, style_name};
use crate::number::tidy;
use crate::paired::LineStyle;
use crate::plot::{
    BELOW, LINE, PAD, Panel, TITLE_LINE, draw_title, labelled, pixels, title_lines, widest, words,
};
use crate::scale::Linear;
use crate::svg::{Element, Path, Writer, safe_id};
use crate::table::Table;
use crate::ticks::{covering, within};

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    /// What it is.
    pub label: String,
    /// How it is drawn; each style once.
    pub style: LineStyle,
    /// Whether its points are joined; else they are dots.
    pub joined: bool,
    /// Places and heights, rising in place.
    pub points: Vec<(f64, f64)>,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct LineChart {
    /// Begins every id in the picture: give each figure of a page its own.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// Name of the axis below.
    pub x_label: String,
    /// Name of the heights.
    pub y_label: String,
    /// The lines.
    pub traces: Vec<Trace>,
    /// A height to hold the lines against, with its name.
    pub level: Option<(f64, String)>,
    /// The place where one stands; within the lines' places.
    pub here: Option<f64>,
    /// Whether places are whole numbers.
    pub whole_places: bool,
    /// Width in pixels, kept between 280 and 4000.
    pub width: f64,
    /// Height in pixels, kept between 220 and 4000.
    pub height: f64,
}

struct Frame {
    width: f64,
    height: f64,
    title: Vec<String>,
    legend: Legend,
    legend_top: f64,
    x: Linear,
    y: Linear,
    panel: Panel,
    heights: Vec<(f64, String)>,
}

fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let none = (f64::INFINITY, f64::NEG_INFINITY);
    let finite = values.filter(|v| v.is_finite());
    finite.fold(none, |(low, high), v| (low.min(v), high.max(v)))
}

impl LineChart {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries [`crate::stylesheet`] once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    fn all(&self) -> impl Iterator<Item = (f64, f64)> {
        self.traces.iter().flat_map(|t| t.points.iter().copied())
    }

    /// The places of all lines, each once.
    fn places(&self) -> Vec<f64> {
        let mut places: Vec<f64> = self.all().map(|p| p.0).filter(|x| x.is_finite()).collect();
        places.sort_by(f64::total_cmp);
        places.dedup();
        places
    }

    /// The numbers: a row for each place, a column for each line.
    pub fn table(&self) -> Table {
        let mut headers = vec![self.x_label.clone()];
        headers.extend(self.traces.iter().map(|t| t.label.clone()));
        let cell = |trace: &Trace, x: f64| {
            let point = trace.points.iter().find(|p| p.0 == x);
            point.map_or(String::new(), |p| tidy(p.1))
        };
        let rows = self.places().into_iter().map(|x| {
            let mut row = vec![tidy(x)];
            row.extend(self.traces.iter().map(|t| cell(t, x)));
            row
        });
        Table {
            caption: format!("{} ({})", self.title, self.y_label),
            headers,
            rows: rows.collect(),
        }
    }

    /// The table as CSV, in English marks.
    pub fn csv(&self) -> String {
        in_english(|| self.table().csv())
    }

    fn frame(&self) -> Frame {
        let full = pixels(self.width, 640.0, 280.0);
        let height = pixels(self.height, 320.0, 220.0);
        let title = title_lines(self.show_title, &self.title, full);
        let sample = |t: &Trace| (Sample::Line(t.style), t.label.clone());
        let mut entries: Vec<_> = self.traces.iter().map(sample).collect();
        if let Some((_, name)) = &self.level {
            entries.push((Sample::Rule(0), name.clone()));
        }
        let legend = Legend::lay(entries, PAD, full - 2.0 * PAD);
        let legend_top = PAD + TITLE_LINE * title.len() as f64;
        let level = self.level.iter().map(|(v, _)| *v);
        // Heights are amounts: 0 is always in the picture.
        let (low, high) = ends(self.all().map(|p| p.1).chain(level).chain([0.0]));
        let heights = labelled(&covering(low, high, 5));
        let (low, high) = ends(heights.iter().map(|h| h.0));
        let (first, last) = ends(self.all().map(|p| p.0));
        let (left, right) = (PAD + widest(&heights) + 8.0, full - PAD - 14.0);
        let top = legend_top + legend.height + LINE + 14.0;
        let bottom = (height - BELOW).max(top + 60.0);
        Frame {
            width: full,
            height: bottom + BELOW,
            title,
            legend,
            legend_top,
            x: Linear::new((first, last), (left + 6.0, right - 6.0)),
            y: Linear::new((low, high), (bottom, top)),
            panel: Panel {
                left,
                right,
                top,
                bottom,
            },
            heights,
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
        let mut writer = document.open(|_| ());
        draw_title(&mut writer, &frame.title);
        frame.legend.draw(&mut writer, frame.legend_top, &id);
        let name = words(PAD, frame.panel.top - 10.0, "fg-label");
        writer.text(name, &self.y_label);
        frame.panel.heights(&mut writer, &frame.y, &frame.heights);
        let (first, last) = frame.x.domain();
        let least = if self.whole_places { 1.0 } else { 0.0 };
        let room = ((frame.panel.right - frame.panel.left) / 60.0) as usize;
        let ticks = within(first, last, room.clamp(2, 10), least);
        frame.panel.places(&mut writer, &frame.x, &labelled(&ticks));
        frame.panel.name_below(&mut writer, &self.x_label);
        self.draw_here(&mut writer, &frame);
        if let Some((level, _)) = &self.level {
            let at = frame.y.at(*level);
            let line = segment((frame.panel.left, at), (frame.panel.right, at));
            writer.empty(line.class(&rule_class(0)));
        }
        for trace in &self.traces {
            self.draw_trace(&mut writer, &frame, trace);
        }
        writer.finish()
    }

    /// An upright line where one stands.
    fn draw_here(&self, writer: &mut Writer, frame: &Frame) {
        let (first, last) = frame.x.domain();
        if let Some(here) = self.here.filter(|h| *h >= first && *h <= last) {
            let at = frame.x.at(here);
            let line = segment((at, frame.panel.top), (at, frame.panel.bottom));
            writer.empty(line.class("fg-mark"));
        }
    }

    fn draw_trace(&self, writer: &mut Writer, frame: &Frame, trace: &Trace) {
        let of = |&(x, y): &(f64, f64)| (x, frame.x.at(x), frame.y.at(y));
        let points: Vec<_> = trace.points.iter().map(of).collect();
        if trace.joined {
            let line: Vec<(f64, f64)> = points.iter().map(|p| (p.1, p.2)).collect();
            let path = Element::new("path").path(&Path::through(&line));
            writer.empty(path.class(&format!("fg-{}", style_name(trace.style))));
        }
        for (x, across, up) in points {
            let at_hand = self.here == Some(x);
            if !trace.joined || at_hand {
                let size = if at_hand { 5.0 } else { 3.5 };
                marker(writer, trace.style, across, up, size);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn chart() -> LineChart {
        LineChart {
            id: "mistake <1>".into(),
            title: "Traps & \"sites\"".into(),
            show_title: true,
            description: "two lines".into(),
            x_label: "years".into(),
            y_label: "false alarms, %".into(),
            traces: vec![
                Trace {
                    label: "left out".into(),
                    style: LineStyle::Main,
                    joined: true,
                    points: vec![(3.0, 12.5), (4.0, 20.0), (5.0, f64::NAN)],
                },
                Trace {
                    label: "known".into(),
                    style: LineStyle::Second,
                    joined: false,
                    points: vec![(4.0, 5.0)],
                },
            ],
            level: Some((5.0, "accepted".into())),
            here: Some(4.0),
            whole_places: true,
            width: 500.0,
            height: 300.0,
        }
    }

    #[test]
    fn well_formed_whatever_is_drawn() {
        let mut c = chart();
        check(&c.svg());
        c.traces[0].points.pop();
        let svg = c.svg_unstyled();
        check(&svg);
        assert!(svg.contains("fg-main") && svg.contains("fg-mark") && svg.contains("fg-rule"));
        assert!(!svg.contains("NaN") && !svg.contains("<style"));
        c.traces.clear();
        (c.level, c.here, c.width) = (None, None, f64::NAN);
        check(&c.svg());
    }

    /// A line with a hole in it is not drawn at all, rather than through a place it does not have; its table says so.
    #[test]
    fn numbers_as_a_table() {
        let table = chart().table();
        assert_eq!(table.headers, ["years", "left out", "known"]);
        assert_eq!(table.rows[0], ["3", "12.5", ""]);
        assert_eq!(table.rows[1], ["4", "20", "5"]);
        assert_eq!(table.rows[2], ["5", "not available", ""]);
        assert!(chart().csv().starts_with("years,left out,known\r\n"));
    }
}
