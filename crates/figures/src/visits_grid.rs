//! A grid of visits: which rows are visited in which columns.

use crate::document::Document;
use crate::marks::block;
use crate::svg::{Element, Writer, safe_id};
use crate::table::Table;
use crate::words::{width, wrap_bold};

const PAD: f64 = 12.0;
const ROW: f64 = 22.0;

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub struct Visits {
    /// Its name.
    pub label: String,
    /// Whether it is visited in each column.
    pub visited: Vec<bool>,
}

/// Rows by columns, a dot where there is a visit.
#[derive(Debug, Clone, PartialEq)]
pub struct VisitsGrid {
    /// Begins every id in the picture.
    pub id: String,
    /// Title.
    pub title: String,
    /// Whether the title is drawn; it is always told.
    pub show_title: bool,
    /// What the picture shows, for those who do not see it.
    pub description: String,
    /// Above the names of rows.
    pub row_heading: String,
    /// Names of columns.
    pub columns: Vec<String>,
    /// Rows.
    pub rows: Vec<Visits>,
    /// Width in pixels, kept between 280 and 4000.
    pub width: f64,
}

impl VisitsGrid {
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
        let mut headers = vec![self.row_heading.clone()];
        headers.extend(self.columns.iter().cloned());
        let row = |r: &Visits| {
            let cells = r.visited.iter().map(|v| if *v { "visited" } else { "—" });
            std::iter::once(r.label.clone())
                .chain(cells.map(String::from))
                .collect()
        };
        Table {
            caption: self.title.clone(),
            headers,
            rows: self.rows.iter().map(row).collect(),
        }
    }

    fn draw(&self, styled: bool) -> String {
        let full = if self.width.is_finite() {
            self.width.clamp(280.0, 4000.0).round()
        } else {
            560.0
        };
        let title = if self.show_title {
            wrap_bold(&self.title, 15.0, full - 2.0 * PAD)
        } else {
            Vec::new()
        };
        let labels = self.rows.iter().map(|r| &r.label);
        let widest = labels
            .chain([&self.row_heading])
            .map(|l| width(l, 12.0))
            .fold(40.0, f64::max);
        let left = PAD + widest.min(0.5 * full) + 8.0;
        let columns = self.columns.len().max(1) as f64;
        let across = ((full - PAD - left) / columns).min(44.0);
        let top = PAD + 20.0 * title.len() as f64 + 20.0;
        let id = safe_id(&self.id);
        let document = Document {
            id: &id,
            title: &self.title,
            description: &self.description,
            width: full,
            height: top + ROW * self.rows.len() as f64 + PAD,
            styled,
        };
        let mut writer = document.open(|_| ());
        for (i, line) in title.iter().enumerate() {
            text(
                &mut writer,
                (PAD, PAD + 14.0 + 20.0 * i as f64),
                "fg-title",
                line,
            );
        }
        text(&mut writer, (PAD, top - 7.0), "fg-label", &self.row_heading);
        // Names of columns that would touch are left out, the first and the last but for the next kept.
        let widest = self
            .columns
            .iter()
            .map(|c| width(c, 12.0))
            .fold(0.0, f64::max);
        let every = ((widest + 6.0) / across).ceil().max(1.0) as usize;
        for (i, name) in self.columns.iter().enumerate().step_by(every) {
            let x = left + across * (i as f64 + 0.5);
            text(&mut writer, (x, top - 7.0), "fg-text fg-middle", name);
        }
        for (j, row) in self.rows.iter().enumerate() {
            let y = top + ROW * j as f64;
            text(
                &mut writer,
                (left - 8.0, y + 15.0),
                "fg-text fg-end",
                &row.label,
            );
            for (i, visited) in row.visited.iter().enumerate() {
                let x = left + across * i as f64;
                let cell = block(x + 1.0, y + 1.0, across - 2.0, ROW - 2.0);
                writer.empty(cell.class(if *visited { "fg-main-band" } else { "fg-grid" }));
                if *visited {
                    let at = (x + 0.5 * across, y + 15.0);
                    text(&mut writer, at, "fg-text fg-middle", "●");
                }
            }
        }
        writer.finish()
    }
}

fn text(writer: &mut Writer, (x, y): (f64, f64), class: &str, words: &str) {
    let element = Element::new("text").at("x", x).at("y", y).class(class);
    writer.text(element, words);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::xml_check::check;

    #[test]
    fn a_picture_and_its_table() {
        let figure = VisitsGrid {
            id: "calendar".into(),
            title: "Visits <all>".into(),
            show_title: true,
            description: "who & when".into(),
            row_heading: "sites".into(),
            columns: (1..=12).map(|y| y.to_string()).collect(),
            rows: (0..3)
                .map(|r| Visits {
                    label: format!("{} sites", r + 1),
                    visited: (0..12).map(|y| y % 3 == r).collect(),
                })
                .collect(),
            width: 600.0,
        };
        for svg in [figure.svg(), figure.svg_unstyled()] {
            check(&svg);
            assert_eq!(svg.matches('●').count(), 12);
        }
        let table = figure.table();
        assert_eq!((table.headers.len(), table.rows.len()), (13, 3));
        assert_eq!(table.rows[1][..3], ["2 sites", "—", "visited"]);
    }
}
