//! Aligned panels over the weeks of a year: bars for each week, the chosen weeks full, the others open.
//!
//! Chosen weeks are told by the bar's fill, by a mark beneath every panel and by their numbers in words, so that nothing
//! hangs on colour.

use crate::document::Document;
use crate::marks::{block, segment};
use crate::number::{plain, tick, tidy};
use crate::plot::{LINE, PAD, spot, words};
use crate::scale::Linear;
use crate::svg::{Element, Path, Writer, safe_id};
use crate::table::Table;
use crate::ticks::covering;
use crate::words::{width, wrap_bold};

const PANEL: f64 = 74.0;

/// One panel.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekPanel {
    /// What the bars are.
    pub label: String,
    /// One value for each place, 0 or more; not finite where there is none.
    pub values: Vec<f64>,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct Calendar {
    /// Begins every id in the picture: give each figure of a page its own.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// Name of the axis of weeks.
    pub x_label: String,
    /// What the chosen weeks are.
    pub chosen_label: String,
    /// The weeks shown, rising.
    pub weeks: Vec<u32>,
    /// Whether each is chosen.
    pub chosen: Vec<bool>,
    /// The panels, from above.
    pub panels: Vec<WeekPanel>,
    /// Width in pixels, kept between 280 and 4000.
    pub width: f64,
}

/// A panel laid out: its heading in lines, its top, its scale of heights and their ticks.
type Laid = (Vec<String>, f64, Linear, Vec<(f64, String)>);

struct Frame {
    width: f64,
    height: f64,
    title: Vec<String>,
    left: f64,
    right: f64,
    /// Width of one week.
    slot: f64,
    /// For each panel: its heading, the top of that, the value axis and its ticks.
    panels: Vec<Laid>,
}

impl Calendar {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries the style sheet once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    /// The values as a table for reading.
    pub fn table(&self) -> Table {
        self.rows(crate::number::tidy, "yes", "no")
    }

    /// The values for machines.
    pub fn csv(&self) -> String {
        self.rows(plain, "1", "0").csv()
    }

    fn rows(&self, number: fn(f64) -> String, yes: &str, no: &str) -> Table {
        let mut headers = vec![self.x_label.clone(), self.chosen_label.clone()];
        headers.extend(self.panels.iter().map(|p| p.label.clone()));
        let row = |(i, week): (usize, &u32)| {
            let chosen = self.chosen.get(i).copied().unwrap_or(false);
            let mut row = vec![week.to_string(), if chosen { yes } else { no }.to_string()];
            let value = |p: &WeekPanel| number(p.values.get(i).copied().unwrap_or(f64::NAN));
            row.extend(self.panels.iter().map(value));
            row
        };
        Table {
            caption: self.title.clone(),
            headers,
            rows: self.weeks.iter().enumerate().map(row).collect(),
        }
    }

    fn frame(&self) -> Frame {
        let sound = |value: f64, otherwise: f64| if value.is_finite() { value } else { otherwise };
        let full = sound(self.width, 700.0).clamp(280.0, 4000.0).round();
        let title = if self.show_title {
            wrap_bold(&self.title, 15.0, full - 2.0 * PAD)
        } else {
            Vec::new()
        };
        let highest = |p: &WeekPanel| {
            let finite = p.values.iter().copied().filter(|v| v.is_finite());
            let most = finite.fold(0.0, f64::max);
            if most > 0.0 { most } else { 1.0 }
        };
        let axes: Vec<(f64, Vec<(f64, String)>)> = self
            .panels
            .iter()
            .map(|p| {
                let ticks = covering(0.0, highest(p), 3);
                let last = ticks.values.last().copied().unwrap_or(1.0);
                let text = |&v: &f64| (v, tick(v, ticks.step, ticks.decimals));
                (last, ticks.values.iter().map(text).collect())
            })
            .collect();
        let labels = axes.iter().flat_map(|(_, ticks)| ticks);
        let widest = labels
            .map(|(_, text)| width(text, 12.0))
            .fold(24.0, f64::max);
        let (left, right) = (PAD + widest + 8.0, full - PAD);
        let mut y = PAD + 20.0 * title.len() as f64 + LINE;
        let mut panels = Vec::new();
        for (panel, (last, ticks)) in self.panels.iter().zip(axes) {
            let heading = wrap_bold(&panel.label, 12.5, full - 2.0 * PAD);
            let top = y + LINE * heading.len().max(1) as f64 + 6.0;
            let scale = Linear::new((0.0, last), (top + PANEL, top));
            panels.push((heading, y, scale, ticks));
            y = top + PANEL + 22.0;
        }
        Frame {
            width: full,
            height: y + 2.0 * LINE + PAD,
            title,
            left,
            right,
            slot: (right - left) / self.weeks.len().max(1) as f64,
            panels,
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
        for (i, line) in frame.title.iter().enumerate() {
            let y = PAD + 14.0 + 20.0 * i as f64;
            writer.text(words(PAD, y, "fg-title"), line);
        }
        let y = PAD + 20.0 * frame.title.len() as f64 + 6.0;
        draw_mark(&mut writer, PAD + 6.0, y - 6.0);
        writer.text(words(PAD + 18.0, y + 4.0, "fg-legend"), &self.chosen_label);
        for (panel, place) in self.panels.iter().zip(&frame.panels) {
            self.draw_panel(&mut writer, &frame, panel, place);
        }
        self.draw_weeks(&mut writer, &frame);
        writer.finish()
    }

    fn draw_panel(
        &self,
        writer: &mut Writer,
        frame: &Frame,
        panel: &WeekPanel,
        (heading, top, scale, ticks): &(Vec<String>, f64, Linear, Vec<(f64, String)>),
    ) {
        for (i, line) in heading.iter().enumerate() {
            let y = top + 13.0 + LINE * i as f64;
            writer.text(words(PAD, y, "fg-label"), line);
        }
        for (value, text) in ticks {
            let y = scale.at(*value);
            let class = if *value == 0.0 { "fg-axis" } else { "fg-grid" };
            writer.empty(segment((frame.left, y), (frame.right, y)).class(class));
            writer.text(words(frame.left - 7.0, y + 4.0, "fg-text fg-end"), text);
        }
        let bottom = scale.at(0.0);
        let room = frame.slot * 0.76;
        for (i, &value) in panel.values.iter().enumerate().take(self.weeks.len()) {
            let x = frame.left + frame.slot * (i as f64 + 0.12);
            let chosen = self.chosen.get(i).copied().unwrap_or(false);
            if value.is_finite() && value > 0.0 {
                let top = scale.at(value);
                let class = if chosen {
                    "fg-fill0 fg-edge0"
                } else {
                    "fg-tint0 fg-edge0"
                };
                writer.empty(block(x, top, room, bottom - top).class(class));
            }
            if chosen {
                draw_mark(writer, x + 0.5 * room, bottom + 4.0);
            }
            let told = if value.is_finite() {
                tidy(value)
            } else {
                "none".into()
            };
            let told = format!("week {}: {told} ({})", self.weeks[i], panel.label);
            let top = scale.range().1;
            let place = block(
                frame.left + frame.slot * i as f64,
                top,
                frame.slot,
                bottom - top,
            );
            spot(writer, &told, place);
        }
    }

    /// Numbers of the weeks under the last panel, as many as there is room for.
    fn draw_weeks(&self, writer: &mut Writer, frame: &Frame) {
        let Some((_, _, scale, _)) = frame.panels.last() else {
            return;
        };
        let y = scale.at(0.0) + 28.0;
        let every = [1u32, 2, 5, 10]
            .into_iter()
            .find(|e| frame.slot * f64::from(*e) >= 22.0)
            .unwrap_or(20);
        for (i, &week) in self.weeks.iter().enumerate() {
            if week % every == 0 {
                let x = frame.left + frame.slot * (i as f64 + 0.5);
                writer.text(words(x, y, "fg-text fg-middle"), &week.to_string());
            }
        }
        let middle = 0.5 * (frame.left + frame.right);
        writer.text(words(middle, y + 18.0, "fg-label fg-middle"), &self.x_label);
    }
}

/// A small triangle that points up at a chosen week.
fn draw_mark(writer: &mut Writer, x: f64, y: f64) {
    let path = Path::through(&[(x, y), (x + 4.5, y + 8.0), (x - 4.5, y + 8.0)]).close();
    writer.empty(Element::new("path").path(&path).class("fg-mark-fill"));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn figure() -> Calendar {
        let panel = |label: &str, values: [f64; 4]| WeekPanel {
            label: label.into(),
            values: values.to_vec(),
        };
        Calendar {
            id: "season".into(),
            title: "Weeks <& \"all\">".into(),
            show_title: true,
            description: "weeks".into(),
            x_label: "week of the year".into(),
            chosen_label: "open weeks".into(),
            weeks: vec![20, 21, 22, 23],
            chosen: vec![false, true, false, true],
            panels: vec![
                panel("target", [0.0, 10.0, 20.0, 5.0]),
                panel("information", [0.5, f64::NAN, 0.25, 1.0]),
            ],
            width: 700.0,
        }
    }

    #[test]
    fn well_formed_and_marked_without_colour() {
        for wide in [200.0, 700.0, f64::NAN] {
            let mut f = figure();
            f.width = wide;
            for svg in [f.svg(), f.svg_unstyled()] {
                check(&svg);
                assert!(!svg.contains("NaN") && !svg.contains("inf\""));
                // Two chosen weeks in two panels, and the legend's.
                assert_eq!(svg.matches("class=\"fg-mark-fill\"").count(), 5);
                // A missing value and a 0 have no bar; one missing value stands in a chosen week.
                assert_eq!(svg.matches("fg-fill0 fg-edge0\"").count(), 3);
                assert_eq!(svg.matches("fg-tint0 fg-edge0\"").count(), 3);
            }
        }
        let mut empty = figure();
        empty.weeks.clear();
        empty.panels.clear();
        check(&empty.svg());
    }

    #[test]
    fn table_and_csv_hold_every_number() {
        let f = figure();
        assert_eq!(f.table().rows[1], ["21", "yes", "10", "not available"]);
        let csv = f.csv();
        assert!(csv.starts_with("week of the year,open weeks,target,information\r\n"));
        assert!(csv.contains("\r\n23,1,5,1\r\n") && csv.contains("\r\n21,1,10,\r\n"));
    }
}
