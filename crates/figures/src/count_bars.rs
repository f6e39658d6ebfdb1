//! Counts with their intervals as horizontal bars, in sections: each section has a scale of its own, so that a small count
//! beside large ones is seen too.

use crate::document::Document;
use crate::legend::{Legend, Sample, kinds_used};
use crate::marks::{across, block, group_block, patterns};
use crate::plot::{LINE, PAD, draw_title, pixels, spot, title_lines, words};
use crate::svg::{Element, safe_id};
use crate::table::Table;
use crate::words::{wrap, wrap_bold};

const BAR: f64 = 18.0;
const GAP: f64 = 10.0;
const BELOW_TEXT: f64 = 4.0;
const SIZE: f64 = 12.0;

/// One count. What is not finite is not drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct CountBar {
    /// What is counted.
    pub label: String,
    /// Its count.
    pub mean: f64,
    /// Lower end of its interval.
    pub low: f64,
    /// Upper end of its interval.
    pub high: f64,
    /// All of it in words.
    pub value: String,
    /// Which of the kinds it is of.
    pub kind: usize,
    /// Further cells of the table.
    pub cells: Vec<String>,
}

/// Counts on one scale.
#[derive(Debug, Clone, PartialEq)]
pub struct CountSection {
    /// What stands above it.
    pub heading: String,
    /// The counts, from top to bottom.
    pub bars: Vec<CountBar>,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct CountBars {
    /// Begins every id in the picture: give each figure of a page its own.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// Names of the kinds of counts.
    pub kinds: Vec<String>,
    /// What the whiskers are.
    pub interval: String,
    /// The sections, from top to bottom.
    pub sections: Vec<CountSection>,
    /// Headers of the table: of labels, kinds, and of the cells.
    pub headers: Vec<String>,
    /// Width in pixels, kept between 280 and 4000.
    pub width: f64,
}

impl CountBars {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries it once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    /// The same as a table.
    pub fn table(&self) -> Table {
        let kind = |b: &CountBar| self.kinds.get(b.kind).cloned().unwrap_or_default();
        let row = |b: &CountBar| {
            let mut row = vec![b.label.clone(), kind(b)];
            row.extend(b.cells.iter().cloned());
            row
        };
        Table {
            caption: self.title.clone(),
            headers: self.headers.clone(),
            rows: self.bars().map(row).collect(),
        }
    }

    fn bars(&self) -> impl Iterator<Item = &CountBar> {
        self.sections.iter().flat_map(|s| &s.bars)
    }

    fn draw(&self, styled: bool) -> String {
        let id = safe_id(&self.id);
        let full = pixels(self.width, 640.0, 280.0);
        let room = full - 2.0 * PAD;
        let title = title_lines(self.show_title, &self.title, full);
        let used = |kind| self.bars().any(|b| b.kind == kind);
        let mut samples = kinds_used(&self.kinds, used);
        samples.push((Sample::Total, self.interval.clone()));
        let legend = Legend::lay(samples, PAD, room);
        let lines = |b: &CountBar| wrap(&format!("{}: {}", b.label, b.value), SIZE, room);
        let headings: Vec<Vec<String>> = self
            .sections
            .iter()
            .map(|s| wrap_bold(&s.heading, 12.5, room))
            .collect();
        let top = PAD + 20.0 * title.len() as f64 + legend.height + 10.0;
        let text: usize = self.bars().map(|b| lines(b).len()).sum();
        let heads: usize = headings.iter().map(Vec::len).sum();
        let height = top
            + LINE * (text + heads) as f64
            + (BELOW_TEXT + BAR + GAP) * self.bars().count() as f64
            + GAP * self.sections.len() as f64
            + PAD;
        let document = Document {
            id: &id,
            title: &self.title,
            description: &self.description,
            width: full,
            height,
            styled,
        };
        let mut writer = document.open(|w| patterns(w, &id, self.kinds.len()));
        draw_title(&mut writer, &title);
        legend.draw(&mut writer, PAD + 20.0 * title.len() as f64, &id);
        let mut y = top;
        for (section, heading) in self.sections.iter().zip(headings) {
            for line in heading {
                writer.text(words(PAD, y + 12.0, "fg-label"), &line);
                y += LINE;
            }
            y += GAP / 2.0;
            let scale = scale(&section.bars, room - 6.0);
            for bar in &section.bars {
                for line in lines(bar) {
                    writer.text(words(PAD, y + 12.0, "fg-legend"), &line);
                    y += LINE;
                }
                y += BELOW_TEXT;
                let at = |v: f64| PAD + v.max(0.0) * scale;
                if bar.mean.is_finite() && bar.mean > 0.0 {
                    let rect = block(PAD, y, bar.mean * scale, BAR);
                    group_block(&mut writer, rect, &id, bar.kind);
                }
                if bar.low.is_finite() && bar.high.is_finite() && bar.high > 0.0 {
                    let path = across(y + BAR / 2.0, at(bar.low), at(bar.high), 5.0);
                    // Seen on dark bars too.
                    for class in ["fg-halo", "fg-total"] {
                        writer.empty(Element::new("path").path(&path).class(class));
                    }
                }
                let told = format!("{}: {}", bar.label, bar.value);
                spot(&mut writer, &told, block(PAD, y - 2.0, room, BAR + 4.0));
                y += BAR + GAP;
            }
            y += GAP / 2.0;
        }
        writer.finish()
    }
}

/// Pixels an animal: the highest number of the section takes all of the room.
fn scale(bars: &[CountBar], room: f64) -> f64 {
    let ends = bars.iter().flat_map(|b| [b.mean, b.high]);
    let most = ends.filter(|v| v.is_finite()).fold(0.0, f64::max);
    if most > 0.0 { room / most } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn figure() -> CountBars {
        let bar = |label: &str, mean: f64, kind| CountBar {
            label: label.into(),
            mean,
            low: 0.8 * mean,
            high: 1.2 * mean,
            value: format!("{mean:.0}"),
            kind,
            cells: vec![format!("{mean:.0}")],
        };
        CountBars {
            id: "toll".into(),
            title: "What it <kills>".into(),
            show_title: true,
            description: "bars & whiskers".into(),
            kinds: vec!["target".into(), "arthropods".into(), "vertebrates".into()],
            interval: "interval of 90 %".into(),
            sections: vec![
                CountSection {
                    heading: "many".into(),
                    bars: vec![bar("beetles", 40_000.0, 0)],
                },
                CountSection {
                    heading: "vertebrates".into(),
                    bars: vec![bar("shrews", 60.0, 2), bar("newts", 0.0, 2)],
                },
            ],
            headers: ["group", "kind", "mean"].map(Into::into).to_vec(),
            width: 360.0,
        }
    }

    #[test]
    fn well_formed_with_and_without_numbers() {
        let mut odd = figure();
        odd.sections[1].bars[0].mean = f64::NAN;
        odd.sections[0].bars[0].high = f64::INFINITY;
        let mut none = figure();
        (none.sections, none.width) = (Vec::new(), f64::NAN);
        for f in [figure(), odd, none] {
            for svg in [f.svg(), f.svg_unstyled()] {
                check(&svg);
                assert!(!svg.contains("NaN") && !svg.contains("inf"));
            }
        }
        // A kind without counts has no place in the legend.
        assert!(!figure().svg().contains(">arthropods<"));
    }

    #[test]
    fn each_section_has_its_own_scale() {
        let f = figure();
        let scales = f.sections.iter().map(|s| scale(&s.bars, 240.0));
        let highest = [48_000.0, 72.0];
        for (scale, high) in scales.zip(highest) {
            assert!((scale * high - 240.0).abs() < 1e-9);
        }
        assert_eq!(scale(&[], 240.0), 0.0);
    }

    #[test]
    fn the_same_as_a_table() {
        let table = figure().table();
        assert_eq!(table.rows.len(), 3);
        assert_eq!(table.rows[1], ["shrews", "vertebrates", "60"]);
    }
}
