//! Shares as horizontal bars, one below the other, each with its name above it and its value behind it.
//!
//! Bars of a kind have a colour and a pattern in common, which the legend names.

use crate::document::Document;
use crate::legend::{Legend, kinds_used};
use crate::marks::{block, group_block, patterns};
use crate::plot::{LINE, PAD, draw_title, pixels, title_lines, words};
use crate::svg::safe_id;
use crate::table::Table;
use crate::words::{width, wrap};

const BAR: f64 = 16.0;
const SIZE: f64 = 12.0;

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct ShareBar {
    /// Its name.
    pub label: String,
    /// Its length, 1 being all of the width; nothing is drawn for one that is not finite.
    pub share: f64,
    /// Its value in words.
    pub value: String,
    /// Which of the kinds it is of.
    pub kind: usize,
    /// Further cells of the table.
    pub more: Vec<String>,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct ShareBars {
    /// Begins every id in the picture: give each figure of a page its own.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// Names of the kinds of bars.
    pub kinds: Vec<String>,
    /// The bars, from top to bottom.
    pub bars: Vec<ShareBar>,
    /// Headers of the table: of names, values, kinds, and of the further cells.
    pub headers: Vec<String>,
    /// Width in pixels, kept between 280 and 4000.
    pub width: f64,
}

impl ShareBars {
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
        let kind = |b: &ShareBar| self.kinds.get(b.kind).cloned().unwrap_or_default();
        let row = |b: &ShareBar| {
            let mut row = vec![b.label.clone(), b.value.clone(), kind(b)];
            row.extend(b.more.iter().cloned());
            row
        };
        Table {
            caption: self.title.clone(),
            headers: self.headers.clone(),
            rows: self.bars.iter().map(row).collect(),
        }
    }

    fn draw(&self, styled: bool) -> String {
        let id = safe_id(&self.id);
        let full = pixels(self.width, 640.0, 280.0);
        let room = full - 2.0 * PAD;
        let title = title_lines(self.show_title, &self.title, full);
        let used = |kind| self.bars.iter().any(|b| b.kind == kind);
        let legend = Legend::lay(kinds_used(&self.kinds, used), PAD, room);
        let names: Vec<Vec<String>> = self
            .bars
            .iter()
            .map(|b| wrap(&b.label, SIZE, room))
            .collect();
        // Room for the longest value behind the longest bar.
        let values = self.bars.iter().map(|b| width(&b.value, SIZE));
        let longest = room - values.fold(0.0, f64::max) - 10.0;
        let top = PAD + 20.0 * title.len() as f64 + legend.height + 10.0;
        let lines: usize = names.iter().map(Vec::len).sum();
        let height = top + LINE * lines as f64 + (BAR + 12.0) * self.bars.len() as f64 + PAD;
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
        for (bar, name) in self.bars.iter().zip(names) {
            for line in name {
                writer.text(words(PAD, y + 12.0, "fg-legend"), &line);
                y += LINE;
            }
            let length = if bar.share.is_finite() {
                bar.share.clamp(0.0, 1.0) * longest
            } else {
                0.0
            };
            if length > 0.0 {
                group_block(&mut writer, block(PAD, y, length, BAR), &id, bar.kind);
            }
            writer.text(words(PAD + length + 6.0, y + 12.5, "fg-text"), &bar.value);
            y += BAR + 12.0;
        }
        writer.finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn figure() -> ShareBars {
        let bar = |label: &str, share: f64, kind| ShareBar {
            label: label.into(),
            share,
            value: format!("{:.0} %", 100.0 * share),
            kind,
            more: vec!["more".into()],
        };
        ShareBars {
            id: "shares".into(),
            title: "What <limits>".into(),
            show_title: true,
            description: "bars & values".into(),
            kinds: vec!["years".into(), "sites".into(), "traps".into()],
            bars: vec![
                bar("good and bad years, shared by all sites", 0.65, 0),
                bar("luck", 0.35, 2),
                bar("nothing", 0.0, 2),
            ],
            headers: ["source", "share", "kind", "more"].map(Into::into).to_vec(),
            width: 360.0,
        }
    }

    #[test]
    fn well_formed_with_and_without_numbers() {
        let mut odd = figure();
        odd.bars[1].share = f64::NAN;
        odd.bars[2].share = 1.4;
        let mut none = figure();
        (none.bars, none.width) = (Vec::new(), f64::NAN);
        for f in [figure(), odd, none] {
            for svg in [f.svg(), f.svg_unstyled()] {
                check(&svg);
                assert!(!svg.contains("NaN") && !svg.contains("inf"));
            }
        }
        let svg = figure().svg();
        // A kind without bars has no place in the legend.
        assert!(svg.contains("65 %") && !svg.contains(">sites<"));
    }

    #[test]
    fn the_same_as_a_table() {
        let table = figure().table();
        assert_eq!(table.rows[1], ["luck", "35 %", "traps", "more"]);
        assert_eq!(table.headers.len(), 4);
    }
}
