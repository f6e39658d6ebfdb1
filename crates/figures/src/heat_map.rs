//! A map of cells by columns and rows: a number in each where there is room, its class as a tint, and a heavy line between the cells
//! that reach what is wanted and those that do not.
//!
//! Nothing hangs on colour alone: the numbers and the line say the same. A cell without a value is blank.

use crate::document::Document;
use crate::marks::{block, segment};
use crate::plot::{LINE, PAD, draw_title, pixels, title_lines, words};
use crate::svg::{Element, safe_id};
use crate::table::Table;
use crate::words::{width, wrap};

const ROW: f64 = 30.0;
const SIZE: f64 = 12.0;

/// Classes of tints: on the wanted side and on the other, from near the line to far from it.
pub const TINTS: usize = 3;

/// One cell.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct HeatCell {
    /// What stands in it where there is room; nothing in a blank cell.
    pub short: String,
    /// What it says in full: for the pointer and the table.
    pub full: String,
    /// Whether it reaches what is wanted; `None` for a blank cell.
    pub reaches: Option<bool>,
    /// Its tint, below [`TINTS`], the farther from the line the larger.
    pub tint: usize,
}

/// The figure: see the [module](self).
#[derive(Debug, Clone, PartialEq)]
pub struct HeatMap {
    /// Begins every id in the picture: give each figure of a page its own.
    pub id: String,
    /// Title: the accessible name and, if `show_title`, the visible heading.
    pub title: String,
    /// Whether the title is also drawn.
    pub show_title: bool,
    /// What the picture shows, in words.
    pub description: String,
    /// Name of the columns.
    pub x_label: String,
    /// Name of the rows.
    pub y_label: String,
    /// Columns.
    pub columns: Vec<String>,
    /// Rows, from top to bottom.
    pub rows: Vec<String>,
    /// The cells, row by row.
    pub cells: Vec<HeatCell>,
    /// Row and column of the cell with a ring, and its name.
    pub mark: Option<(usize, usize, String)>,
    /// What the line, the tints and blank cells mean, a line each.
    pub legend: Vec<String>,
    /// Width in pixels, kept between 280 and 4000.
    pub width: f64,
}

impl HeatMap {
    /// The picture with its own style sheet: stands alone as a file.
    pub fn svg(&self) -> String {
        self.draw(true)
    }

    /// The picture without the style sheet, for a page that carries it once.
    pub fn svg_unstyled(&self) -> String {
        self.draw(false)
    }

    /// The cell of a row and column.
    pub fn at(&self, row: usize, column: usize) -> Option<&HeatCell> {
        if column >= self.columns.len() {
            return None;
        }
        self.cells.get(row * self.columns.len() + column)
    }

    /// Whether the line runs between two cells.
    pub fn line_between(&self, a: (usize, usize), b: (usize, usize)) -> bool {
        let reaches = |(r, c): (usize, usize)| self.at(r, c).and_then(|cell| cell.reaches);
        matches!((reaches(a), reaches(b)), (Some(a), Some(b)) if a != b)
    }

    /// The same as a table: every cell in full.
    pub fn table(&self) -> Table {
        let mut headers = vec![format!("{} \\ {}", self.y_label, self.x_label)];
        headers.extend(self.columns.iter().cloned());
        let row = |(r, name): (usize, &String)| {
            let cells = (0..self.columns.len()).map(|c| self.at(r, c));
            let told = cells.map(|c| c.map_or_else(String::new, |c| c.full.clone()));
            std::iter::once(name.clone()).chain(told).collect()
        };
        Table {
            caption: self.title.clone(),
            headers,
            rows: self.rows.iter().enumerate().map(row).collect(),
        }
    }

    fn draw(&self, styled: bool) -> String {
        let id = safe_id(&self.id);
        let full = pixels(self.width, 640.0, 280.0);
        let title = title_lines(self.show_title, &self.title, full);
        let legend: Vec<String> = self
            .legend
            .iter()
            .flat_map(|l| wrap(l, SIZE, full - 2.0 * PAD))
            .collect();
        let names = self.rows.iter().map(|r| width(r, SIZE));
        let left = PAD + names.fold(20.0, f64::max) + 10.0;
        let across = (full - PAD - left) / self.columns.len().max(1) as f64;
        let top = PAD + 20.0 * title.len() as f64 + LINE * 2.0 + 8.0;
        let bottom = top + ROW * self.rows.len() as f64;
        let document = Document {
            id: &id,
            title: &self.title,
            description: &self.description,
            width: full,
            height: bottom + 26.0 + LINE * legend.len() as f64 + PAD,
            styled,
        };
        let mut writer = document.open(|_| ());
        draw_title(&mut writer, &title);
        let heading = format!("{} ↓   {} →", self.y_label, self.x_label);
        writer.text(words(PAD, top - LINE - 12.0, "fg-label"), &heading);
        let widest = self.columns.iter().map(|c| width(c, SIZE));
        // Names and numbers that would touch are left out.
        let every = ((widest.fold(0.0, f64::max) + 6.0) / across)
            .ceil()
            .max(1.0) as usize;
        for (c, name) in self.columns.iter().enumerate().step_by(every) {
            let x = left + across * (c as f64 + 0.5);
            writer.text(words(x, top - 7.0, "fg-text fg-middle"), name);
        }
        let shorts = self.cells.iter().map(|c| width(&c.short, SIZE));
        let numbers = shorts.fold(0.0, f64::max) + 4.0 <= across;
        let corner = |r: usize, c: usize| (left + across * c as f64, top + ROW * r as f64);
        for (r, name) in self.rows.iter().enumerate() {
            let y = top + ROW * r as f64;
            writer.text(words(left - 8.0, y + 19.0, "fg-text fg-end"), name);
            for c in 0..self.columns.len() {
                let Some(cell) = self.at(r, c) else { continue };
                let (x, y) = corner(r, c);
                let tint = cell.tint.min(TINTS - 1);
                writer.open(Element::new("g").class("fg-spot"));
                writer.text(
                    Element::new("title"),
                    &format!("{name}, {}: {}", self.columns[c], cell.full),
                );
                let place = || block(x, y, across, ROW);
                match cell.reaches {
                    Some(true) => writer.empty(place().class(&format!("fg-good{tint}"))),
                    Some(false) => writer.empty(place().class(&format!("fg-bad{tint}"))),
                    None => {}
                }
                writer.empty(place().class("fg-grid"));
                if numbers {
                    let at = words(x + 0.5 * across, y + 19.0, "fg-legend fg-middle");
                    writer.text(at, &cell.short);
                }
                writer.empty(place().class("fg-hit"));
                writer.close();
            }
        }
        for r in 0..self.rows.len() {
            for c in 0..self.columns.len() {
                let (x, y) = corner(r, c);
                if self.line_between((r, c), (r, c + 1)) {
                    let right = x + across;
                    writer.empty(segment((right, y), (right, y + ROW)).class("fg-contour"));
                }
                if self.line_between((r, c), (r + 1, c)) {
                    let below = y + ROW;
                    writer.empty(segment((x, below), (x + across, below)).class("fg-contour"));
                }
            }
        }
        if let Some((r, c, name)) = &self.mark {
            let (x, y) = corner(*r, *c);
            let ring = block(x + 2.5, y + 2.5, across - 5.0, ROW - 5.0);
            writer.empty(ring.class("fg-ring"));
            writer.text(words(PAD, bottom + 17.0, "fg-tag"), name);
        }
        for (i, line) in legend.iter().enumerate() {
            let y = bottom + 35.0 + LINE * i as f64;
            writer.text(words(PAD, y, "fg-text"), line);
        }
        writer.finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    fn figure() -> HeatMap {
        let cell = |r: usize, c: usize| match (r, c) {
            (0, 0) => HeatCell {
                full: "no such plan: too few years".into(),
                ..HeatCell::default()
            },
            _ => HeatCell {
                short: format!("{}", 60 / (r + c)),
                full: format!("{} %", 60 / (r + c)),
                reaches: Some(r + c > 2),
                tint: r,
            },
        };
        HeatMap {
            id: "map".into(),
            title: "Smallest <fall>".into(),
            show_title: true,
            description: "a map & its line".into(),
            x_label: "years".into(),
            y_label: "sites".into(),
            columns: ["2", "4", "6"].map(Into::into).to_vec(),
            rows: ["10", "20", "30", "40"].map(Into::into).to_vec(),
            cells: (0..12).map(|i| cell(i / 3, i % 3)).collect(),
            mark: Some((1, 2, "ring: this plan".into())),
            legend: vec!["heavy line: the wanted change".into()],
            width: 360.0,
        }
    }

    #[test]
    fn well_formed_whatever_it_is_given() {
        let mut none = figure();
        (none.cells, none.columns, none.mark) = (Vec::new(), Vec::new(), None);
        none.width = f64::NAN;
        let mut short = figure();
        short.cells.truncate(5);
        for f in [figure(), none, short] {
            for svg in [f.svg(), f.svg_unstyled()] {
                check(&svg);
                assert!(!svg.contains("NaN") && !svg.contains("inf"));
            }
        }
    }

    /// The line runs where one neighbour reaches and the other does not, and never beside a blank cell.
    #[test]
    fn the_line_and_the_numbers() {
        let f = figure();
        assert!(f.line_between((0, 2), (1, 2)) && f.line_between((1, 1), (1, 2)));
        assert!(!f.line_between((0, 0), (0, 1)) && !f.line_between((0, 2), (0, 3)));
        let svg = f.svg_unstyled();
        // r + c = 2 against 3, to the right and below, within the map.
        assert_eq!(svg.matches("fg-contour").count(), 5);
        assert_eq!(svg.matches("fg-ring").count(), 1);
        assert!(svg.contains(">15<"));
        // Too narrow for numbers: none at all rather than some.
        let mut narrow = figure();
        narrow.cells[1].short = "a very long number that has no room".into();
        assert!(!narrow.svg_unstyled().contains(">15<"));
    }

    #[test]
    fn the_same_as_a_table() {
        let table = figure().table();
        assert_eq!(table.headers, ["sites \\ years", "2", "4", "6"]);
        assert_eq!(table.rows[0][1], "no such plan: too few years");
        assert_eq!(table.rows[2], ["30", "30 %", "20 %", "15 %"]);
    }
}
