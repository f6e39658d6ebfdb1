//! Text to cells: separator, quotes, rows with their line in the file.

use super::problem::Problem;
use super::text::Text;

/// One row of cells, trimmed.
#[derive(Debug, PartialEq)]
pub(crate) struct Row {
    /// Line of the file, from 1.
    pub line: usize,
    /// As many cells as there are headers.
    pub cells: Vec<String>,
}

/// A table as written.
#[derive(Debug)]
pub(crate) struct Table {
    /// Headers, trimmed.
    pub headers: Vec<String>,
    /// Line of the header.
    pub header_line: usize,
    /// Rows that hold anything.
    pub rows: Vec<Row>,
    /// The separator.
    pub separator: u8,
    /// Rows without anything in them.
    pub empty_rows: usize,
}

/// Takes the text apart.
///
/// # Errors
/// Every problem with its line.
pub(crate) fn read(text: &Text) -> Result<Table, Vec<(usize, Problem)>> {
    let (mut body, mut before) = (text.body.as_str(), text.before);
    let mut named = None;
    // A first line "sep=;" is a spreadsheet's way to name the separator.
    if let Some((first, rest)) = body.split_once('\n')
        && let Some(mark) = first.trim_end().strip_prefix("sep=")
        && let [separator @ (b',' | b';' | b'\t')] = mark.as_bytes()
    {
        named = Some(*separator);
        (body, before) = (rest, before + 1);
    }
    let separator = match named {
        Some(s) => s,
        None => separator(body).map_err(|p| vec![(before + 1, p)])?,
    };
    quotes(body, separator).map_err(|(line, p)| vec![(before + line, p)])?;
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .from_reader(body.as_bytes());
    let mut table = Table {
        headers: Vec::new(),
        header_line: 0,
        rows: Vec::new(),
        separator,
        empty_rows: 0,
    };
    let mut problems = Vec::new();
    let mut lines = Lines::new(body);
    for record in reader.records() {
        let record = match record {
            Ok(r) => r,
            Err(e) => {
                let why = e.to_string();
                let line = e.position().map_or(0, |p| lines.at(p.byte()));
                problems.push((before + line, Problem::Csv { why }));
                continue;
            }
        };
        let line = before + record.position().map_or(0, |p| lines.at(p.byte()));
        let mut cells: Vec<String> = record.iter().map(|c| c.trim().to_owned()).collect();
        if table.headers.is_empty() {
            // Empty headers at the end come from a spreadsheet's unused columns.
            while cells.last().is_some_and(String::is_empty) {
                cells.pop();
            }
            (table.headers, table.header_line) = (cells, line);
            continue;
        }
        if cells.iter().all(String::is_empty) {
            table.empty_rows += 1;
            continue;
        }
        let want = table.headers.len();
        while cells.len() > want && cells.last().is_some_and(String::is_empty) {
            cells.pop();
        }
        if cells.len() == want {
            table.rows.push(Row { line, cells });
        } else {
            let got = cells.len();
            problems.push((line, Problem::Fields { got, want }));
        }
    }
    if table.headers.is_empty() {
        problems.push((before + 1, Problem::NoHeader));
    } else if table.rows.is_empty() && problems.is_empty() {
        problems.push((table.header_line, Problem::NoRows));
    }
    if problems.is_empty() {
        Ok(table)
    } else {
        Err(problems)
    }
}

fn separator(body: &str) -> Result<u8, Problem> {
    let mut counts = [
        (0, b',', "commas"),
        (0, b';', "semicolons"),
        (0, b'\t', "tabs"),
    ];
    let mut quoted = false;
    for b in body.bytes().take_while(|&b| b != b'\n') {
        quoted ^= b == b'"';
        for c in &mut counts {
            c.0 += usize::from(!quoted && b == c.1);
        }
    }
    counts.sort_by_key(|c| std::cmp::Reverse(c.0));
    let [most, next, _] = counts;
    if most.0 == 0 {
        Err(Problem::NoSeparator)
    } else if most.0 == next.0 {
        Err(Problem::TwoSeparators {
            first: most.2.into(),
            second: next.2.into(),
        })
    } else {
        Ok(most.1)
    }
}

/// Checks that every quoted field ends: the reader would swallow the rows below an open one.
fn quotes(body: &str, separator: u8) -> Result<(), (usize, Problem)> {
    let bytes = body.as_bytes();
    let (mut line, mut i, mut field_start) = (1, 0, true);
    while i < bytes.len() {
        let b = bytes[i];
        if b == b'"' && field_start {
            let opened = line;
            i += 1;
            loop {
                match bytes.get(i) {
                    None => return Err((opened, Problem::UnclosedQuote)),
                    Some(b'\n') => line += 1,
                    Some(b'"') if bytes.get(i + 1) == Some(&b'"') => i += 1,
                    Some(b'"') => break,
                    Some(_) => {}
                }
                i += 1;
            }
            match bytes.get(i + 1) {
                None | Some(b'\n') => {}
                Some(&b) if b == separator => {}
                Some(_) => return Err((line, Problem::StrayQuote)),
            }
            field_start = false;
        } else {
            line += usize::from(b == b'\n');
            field_start = b == b'\n' || b == separator;
        }
        i += 1;
    }
    Ok(())
}

/// Lines of growing places in a text.
struct Lines<'a> {
    bytes: &'a [u8],
    place: usize,
    line: usize,
}

impl<'a> Lines<'a> {
    fn new(text: &'a str) -> Self {
        Self {
            bytes: text.as_bytes(),
            place: 0,
            line: 1,
        }
    }

    /// Line of the first byte at or after `place` that is not a line end: the reader's place of a record lies
    /// before the empty lines above it.
    fn at(&mut self, place: u64) -> usize {
        let place = usize::try_from(place).unwrap_or(usize::MAX);
        while let Some(b) = self.bytes.get(self.place)
            && (self.place < place || *b == b'\n')
        {
            self.line += usize::from(*b == b'\n');
            self.place += 1;
        }
        self.line
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(text: &str) -> Result<Table, Vec<(usize, Problem)>> {
        read(&super::super::text::read(text.as_bytes()).unwrap())
    }

    #[test]
    fn lines_are_those_of_the_file() {
        let t = table("# c\nsite,note,n\n\nA,\"two\nlines\",1\n\n\nB,,2\r\n,,\nC,,3,,\n").unwrap();
        let lines: Vec<usize> = t.rows.iter().map(|r| r.line).collect();
        assert_eq!((t.header_line, lines), (2, vec![4, 8, 10]));
        assert_eq!(t.empty_rows, 1);
        assert_eq!(t.rows[0].cells, ["A", "two\nlines", "1"]);
    }

    #[test]
    fn separators() {
        assert_eq!(table("a;b;\"c,d,e,f\"\n1;2;3\n").unwrap().separator, b';');
        assert_eq!(table("a\tb\n1\t2\n").unwrap().separator, b'\t');
        assert_eq!(table("sep=;\na;b\n1;2\n").unwrap().rows[0].line, 3);
        assert_eq!(
            table("a b\n1 2\n").unwrap_err(),
            [(1, Problem::NoSeparator)]
        );
        assert!(matches!(
            table("a;b,c\n1;2\n").unwrap_err()[0].1,
            Problem::TwoSeparators { .. }
        ));
    }

    #[test]
    fn quotes_and_lengths() {
        let unclosed = table("a,b\n\"x,1\ny,2\nz,3\n").unwrap_err();
        assert_eq!(unclosed, [(2, Problem::UnclosedQuote)]);
        let stray = table("a,b\nx,1\n\"y\"z,2\n").unwrap_err();
        assert_eq!(stray, [(3, Problem::StrayQuote)]);
        assert_eq!(
            table("a,b\n5\" pot,1\n").unwrap().rows[0].cells[0],
            "5\" pot"
        );
        assert_eq!(
            table("a,b\nx,1\ny\nz,1,2\n").unwrap_err(),
            [
                (3, Problem::Fields { got: 1, want: 2 }),
                (4, Problem::Fields { got: 3, want: 2 })
            ]
        );
        assert_eq!(table("a,b\n").unwrap_err(), [(1, Problem::NoRows)]);
    }
}
