//! Cells to counts, efforts, years and weeks.

use super::problem::Problem;

/// Largest count read.
const MOST: f64 = 1e9;

/// Whether a cell says that nothing was written down.
pub(crate) fn missing(cell: &str) -> bool {
    const TOKENS: [&str; 11] = [
        "", "na", "n/a", "nan", "null", "none", "\\n", "-", "--", "-9999", "#n/a",
    ];
    TOKENS.contains(&cell.to_lowercase().as_str())
}

/// A count; `None` is "not counted".
pub(crate) fn count(cell: &str) -> Result<Option<f64>, Problem> {
    if missing(cell) {
        return Ok(None);
    }
    let whole = cell.split_once('.').map_or(cell, |(whole, rest)| {
        // "3.0" is how some programs write the whole number 3.
        let zeros = !rest.is_empty() && rest.bytes().all(|b| b == b'0');
        if zeros { whole } else { cell }
    });
    if digits(whole) {
        let value: f64 = whole.parse().map_err(|_| Problem::CountWord)?;
        return if value > MOST {
            Err(Problem::CountLarge)
        } else {
            Ok(Some(value))
        };
    }
    Err(not_a_count(cell))
}

fn not_a_count(cell: &str) -> Problem {
    let plain = |c: char| c.is_ascii_digit();
    if !cell.contains(plain) {
        return Problem::CountWord;
    }
    if let Some(rest) = cell.strip_prefix(['-', '\u{2212}'])
        && rest.starts_with(plain)
    {
        return Problem::CountNegative;
    }
    if cell.contains(['+', '>', '<', '~', '\u{2265}', '\u{2264}']) || cell.starts_with("ca") {
        return Problem::CountBound;
    }
    let parts: Vec<&str> = cell.split(['-', '\u{2013}', '\u{2014}']).collect();
    if parts.len() == 2 && parts.iter().all(|p| digits(p.trim())) {
        return Problem::CountRange;
    }
    for mark in [',', '\'', '\u{2019}', ' ', '\u{a0}', '\u{202f}'] {
        if grouped(cell, mark) {
            return Problem::CountThousands;
        }
    }
    if cell.replace(',', ".").parse::<f64>().is_ok() {
        return Problem::CountFraction;
    }
    Problem::CountWord
}

fn digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())
}

fn grouped(text: &str, mark: char) -> bool {
    let mut parts = text.split(mark);
    let first = parts.next().is_some_and(|p| digits(p) && p.len() <= 3);
    let rest: Vec<&str> = parts.collect();
    first && !rest.is_empty() && rest.iter().all(|p| digits(p) && p.len() == 3)
}

/// How a number's decimals are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Decimals {
    /// No decimals.
    None,
    /// A point.
    Point,
    /// A comma.
    Comma,
}

/// An effort above 0; decimal commas only where commas do not separate the columns.
pub(crate) fn effort(cell: &str, commas: bool) -> Result<(f64, Decimals), Problem> {
    let (text, decimals) = match (cell.contains('.'), cell.contains(',')) {
        (false, false) => (cell.to_owned(), Decimals::None),
        (true, false) => (cell.to_owned(), Decimals::Point),
        (false, true) if commas => (cell.replace(',', "."), Decimals::Comma),
        _ => return Err(Problem::Effort),
    };
    let plain = text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    match text.parse::<f64>() {
        Ok(v) if plain && v > 0.0 && v.is_finite() => Ok((v, decimals)),
        _ => Err(Problem::Effort),
    }
}

/// A year, 1800 to 2200.
pub(crate) fn year(cell: &str) -> Result<i32, Problem> {
    match cell.parse::<i32>() {
        Ok(v) if digits(cell) && (1800..=2200).contains(&v) => Ok(v),
        _ => Err(Problem::Year),
    }
}

/// A week, 1 to 53.
pub(crate) fn week(cell: &str) -> Result<u8, Problem> {
    match cell.parse::<u8>() {
        Ok(v) if digits(cell) && (1..=53).contains(&v) => Ok(v),
        _ => Err(Problem::Week),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts() {
        for (cell, want) in [("0", 0.0), ("17", 17.0), ("3.0", 3.0), ("1024", 1024.0)] {
            assert_eq!(count(cell), Ok(Some(want)));
        }
        for cell in ["", "NA", "n/a", "NULL", "\\N", "-", "-9999"] {
            assert_eq!(count(cell), Ok(None), "{cell}");
        }
        for (cell, want) in [
            ("50+", Problem::CountBound),
            (">100", Problem::CountBound),
            ("~20", Problem::CountBound),
            ("10-15", Problem::CountRange),
            ("10\u{2013}15", Problem::CountRange),
            ("many", Problem::CountWord),
            ("lost", Problem::CountWord),
            ("3.5", Problem::CountFraction),
            ("3,5", Problem::CountFraction),
            ("-1", Problem::CountNegative),
            ("1,024", Problem::CountThousands),
            ("1 024", Problem::CountThousands),
            ("1e3", Problem::CountFraction),
            ("99999999999", Problem::CountLarge),
            ("3.", Problem::CountFraction),
        ] {
            assert_eq!(count(cell), Err(want), "{cell}");
        }
    }

    #[test]
    fn efforts() {
        assert_eq!(effort("0.5", false), Ok((0.5, Decimals::Point)));
        assert_eq!(effort("0,5", true), Ok((0.5, Decimals::Comma)));
        assert_eq!(effort("7", true), Ok((7.0, Decimals::None)));
        for cell in [
            "0", "", "0,5", "seven", "-1", "inf", "1e2", "7 days", "1.000,5",
        ] {
            assert_eq!(effort(cell, false), Err(Problem::Effort), "{cell}");
        }
    }

    #[test]
    fn years_and_weeks() {
        assert_eq!((year("1995"), week("23")), (Ok(1995), Ok(23)));
        for cell in ["95", "1995.5", "+1995", "3024"] {
            assert_eq!(year(cell), Err(Problem::Year));
        }
        for cell in ["0", "54", "W23", "2.5"] {
            assert_eq!(week(cell), Err(Problem::Week));
        }
    }
}
