//! The numbers of a figure as a table, for reading and for a spreadsheet.

use crate::svg::escape;

/// A table: the same numbers as the picture, in words and digits.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Table {
    /// What the table shows.
    pub caption: String,
    /// One header per column.
    pub headers: Vec<String>,
    /// Rows of as many cells as there are headers; the first cell names the row.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// The table as HTML, with row and column headers marked for screen readers.
    pub fn html(&self) -> String {
        let mut out = format!(
            "<table class=\"fg-table\"><caption>{}</caption><thead><tr>",
            escape(&self.caption)
        );
        for header in &self.headers {
            out.push_str(&format!("<th scope=\"col\">{}</th>", escape(header)));
        }
        out.push_str("</tr></thead><tbody>");
        for row in &self.rows {
            out.push_str("<tr>");
            for (index, cell) in row.iter().enumerate() {
                let cell = escape(cell);
                match index {
                    0 => out.push_str(&format!("<th scope=\"row\">{cell}</th>")),
                    _ => out.push_str(&format!("<td>{cell}</td>")),
                }
            }
            out.push_str("</tr>");
        }
        out.push_str("</tbody></table>");
        out
    }

    /// Headers and rows as CSV (RFC 4180, lines end in CRLF); the caption is left out.
    pub fn csv(&self) -> String {
        let mut out = String::new();
        for row in std::iter::once(&self.headers).chain(&self.rows) {
            let cells: Vec<String> = row.iter().map(|cell| csv_cell(cell)).collect();
            out.push_str(&cells.join(","));
            out.push_str("\r\n");
        }
        out
    }
}

/// One CSV cell. Text that a spreadsheet would run as a formula gets an apostrophe in front.
fn csv_cell(text: &str) -> String {
    let risky = text.starts_with(['=', '+', '-', '@', '\t', '\r']) && text.parse::<f64>().is_err();
    let text = if risky {
        format!("'{text}")
    } else {
        text.to_string()
    };
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::{Table, csv_cell};

    #[test]
    fn csv_cells_are_quoted_when_needed() {
        assert_eq!(csv_cell("plain"), "plain");
        assert_eq!(csv_cell("a,b"), "\"a,b\"");
        assert_eq!(csv_cell("say \"no\""), "\"say \"\"no\"\"\"");
        assert_eq!(csv_cell("two\nlines"), "\"two\nlines\"");
    }

    #[test]
    fn formulas_are_defused_and_numbers_left_alone() {
        assert_eq!(csv_cell("=1+1"), "'=1+1");
        assert_eq!(csv_cell("@cmd"), "'@cmd");
        assert_eq!(csv_cell("-2+3"), "'-2+3");
        assert_eq!(csv_cell("-2.5"), "-2.5");
        assert_eq!(csv_cell("+1e-3"), "+1e-3");
    }

    #[test]
    fn both_forms_hold_every_cell() {
        let table = Table {
            caption: "A & B".into(),
            headers: vec!["x".into(), "<y>".into()],
            rows: vec![vec!["1".into(), "2".into()]],
        };
        assert_eq!(table.csv(), "x,<y>\r\n1,2\r\n");
        let html = table.html();
        crate::xml_check::check(&html);
        assert!(
            html.contains("A &amp; B") && html.contains("&lt;y&gt;") && html.contains("<td>2</td>")
        );
        assert!(html.contains("<th scope=\"row\">1</th>"));
    }
}
