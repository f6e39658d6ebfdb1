//! Cells to days, with the order of day and month settled for the whole file.

use super::problem::Problem;
use jiff::civil::Date;

/// A date as written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Written {
    /// Year first: no doubt about the order.
    Clear(Date),
    /// Two numbers and a year, such as 03/04/2024.
    Pair {
        /// First number.
        first: i8,
        /// Second number.
        second: i8,
        /// Year.
        year: i16,
    },
}

/// Reads a date as written.
pub(crate) fn written(cell: &str) -> Result<Written, Problem> {
    let (day, time) = match cell.split_once(['T', 't', ' ']) {
        Some((day, time)) if time.trim().starts_with(|c: char| c.is_ascii_digit()) => {
            (day, time.trim())
        }
        _ => (cell, ""),
    };
    if is_interval(cell) {
        return Err(Problem::DateInterval);
    }
    if time.ends_with(['Z', 'z']) || time.contains(['+', '-']) {
        return Err(Problem::DateZone);
    }
    let clock = |c: char| c.is_ascii_digit() || c == ':' || c == '.';
    if !time.chars().all(clock) {
        return Err(Problem::DateUnknown);
    }
    let number = |part: &str| -> Option<i16> {
        let plain = !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
        if plain { part.parse().ok() } else { None }
    };
    let parts: Vec<&str> = day.split(['-', '/', '.']).collect();
    match parts.as_slice() {
        [one] if one.len() == 8 && one.bytes().all(|b| b.is_ascii_digit()) => {
            clear(number(&one[..4]), number(&one[4..6]), number(&one[6..]))
        }
        [one] if one.bytes().all(|b| b.is_ascii_digit()) => Err(match one.len() {
            4 => Problem::DatePartial,
            5 => Problem::DateSerial,
            _ => Problem::DateUnknown,
        }),
        // A day number with a time is written with decimals: 45123.5.
        [one, rest] if one.len() == 5 && day.contains('.') && number(rest).is_some() => {
            Err(Problem::DateSerial)
        }
        [_, _] => Err(Problem::DatePartial),
        [y, m, d] if y.len() == 4 => clear(number(y), number(m), number(d)),
        [a, b, y] => match (number(a), number(b), number(y)) {
            (Some(_), Some(_), Some(_)) if y.len() != 4 => Err(Problem::DateShortYear),
            (Some(first), Some(second), Some(year)) => {
                let small = |v: i16| i8::try_from(v).ok().filter(|v| (1..=31).contains(v));
                match (small(first), small(second)) {
                    (Some(first), Some(second)) if in_range(year) => Ok(Written::Pair {
                        first,
                        second,
                        year,
                    }),
                    _ => Err(Problem::DateImpossible),
                }
            }
            _ => Err(Problem::DateUnknown),
        },
        _ => Err(Problem::DateUnknown),
    }
}

fn in_range(year: i16) -> bool {
    (1800..=2200).contains(&year)
}

/// Two days joined by a slash or "to", the second perhaps shortened (2007-11-13/15).
fn is_interval(cell: &str) -> bool {
    let Some((a, b)) = cell
        .split_once(" - ")
        .or_else(|| cell.split_once(" to "))
        .or_else(|| cell.split_once('/'))
    else {
        return false;
    };
    let full = |d: &str| d.trim().split(['-', '/', '.', 'T']).count() >= 3;
    full(a) && (full(b) || !b.trim().contains('/'))
}

fn clear(y: Option<i16>, m: Option<i16>, d: Option<i16>) -> Result<Written, Problem> {
    let (Some(y), Some(m), Some(d)) = (y, m, d) else {
        return Err(Problem::DateUnknown);
    };
    day(y, m, d).map(Written::Clear)
}

fn day(y: i16, m: i16, d: i16) -> Result<Date, Problem> {
    let small = |v: i16| i8::try_from(v).map_err(|_| Problem::DateImpossible);
    if !in_range(y) {
        return Err(Problem::DateImpossible);
    }
    Date::new(y, small(m)?, small(d)?).map_err(|_| Problem::DateImpossible)
}

/// What the file tells of the order of day and month.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Order {
    /// A row whose first number is above 12.
    pub day_first: Option<usize>,
    /// A row whose second number is above 12.
    pub month_first: Option<usize>,
    /// A row that could be read both ways, to different days.
    pub either: Option<usize>,
}

impl Order {
    /// Takes a date at `line` into account.
    pub(crate) fn see(&mut self, line: usize, date: Written) {
        if let Written::Pair { first, second, .. } = date {
            if first > 12 && second <= 12 {
                self.day_first.get_or_insert(line);
            } else if second > 12 && first <= 12 {
                self.month_first.get_or_insert(line);
            } else if first != second && first <= 12 {
                self.either.get_or_insert(line);
            }
        }
    }

    /// Whether the day comes first, or the row and problem that leave it open.
    pub(crate) fn settle(&self, told: Option<bool>) -> Result<bool, (usize, Problem)> {
        if let Some(told) = told {
            return Ok(told);
        }
        match (self.day_first, self.month_first, self.either) {
            (Some(day), Some(other), _) => Err((day, Problem::DatesMixed { other })),
            (None, None, Some(line)) => Err((line, Problem::DayOrMonth)),
            (None, Some(_), _) => Ok(false),
            _ => Ok(true),
        }
    }
}

/// The day, given the order.
pub(crate) fn resolve(date: Written, day_first: bool) -> Result<Date, Problem> {
    match date {
        Written::Clear(d) => Ok(d),
        Written::Pair {
            first,
            second,
            year,
        } => {
            let (d, m) = if day_first {
                (first, second)
            } else {
                (second, first)
            };
            Date::new(year, m, d).map_err(|_| Problem::DateImpossible)
        }
    }
}

/// Days from one date to another.
pub(crate) fn days(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

/// The day in the middle of a trap's time (the earlier one of two).
pub(crate) fn middle(from: Date, to: Date) -> Date {
    let half = jiff::Span::new().try_days(days(from, to) / 2);
    half.and_then(|h| from.checked_add(h)).unwrap_or(from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn readable() {
        for cell in [
            "2024-05-06",
            "2024/05/06",
            "20240506",
            "2024-05-06T09:30",
            "2024-05-06 09:30:00",
        ] {
            assert_eq!(
                written(cell),
                Ok(Written::Clear(date(2024, 5, 6))),
                "{cell}"
            );
        }
        let pair = written("13.05.2024").unwrap();
        assert_eq!(resolve(pair, true), Ok(date(2024, 5, 13)));
        assert_eq!(resolve(pair, false), Err(Problem::DateImpossible));
    }

    #[test]
    fn refused() {
        for (cell, want) in [
            ("45123", Problem::DateSerial),
            ("45123.5", Problem::DateSerial),
            ("2024", Problem::DatePartial),
            ("2024-05", Problem::DatePartial),
            ("Feb-18", Problem::DatePartial),
            ("12/05/24", Problem::DateShortYear),
            ("2024-02-30", Problem::DateImpossible),
            ("32/01/2024", Problem::DateImpossible),
            ("0024-02-03", Problem::DateImpossible),
            ("2007-11-13/15", Problem::DateInterval),
            ("2024-05-01/2024-05-08", Problem::DateInterval),
            ("01/05/2024 - 08/05/2024", Problem::DateInterval),
            ("2024-05-01T23:00Z", Problem::DateZone),
            ("2024-05-01T23:00+02:00", Problem::DateZone),
            ("12 May 2024", Problem::DateUnknown),
            ("soon", Problem::DateUnknown),
        ] {
            assert_eq!(written(cell), Err(want), "{cell}");
        }
    }

    #[test]
    fn order_of_day_and_month() {
        let see = |cells: &[&str]| {
            let mut order = Order::default();
            for (i, c) in cells.iter().enumerate() {
                order.see(i + 2, written(c).unwrap());
            }
            order
        };
        assert_eq!(see(&["03/04/2024", "13/04/2024"]).settle(None), Ok(true));
        assert_eq!(see(&["03/04/2024", "04/13/2024"]).settle(None), Ok(false));
        assert_eq!(see(&["04/04/2024"]).settle(None), Ok(true));
        assert_eq!(
            see(&["03/04/2024"]).settle(None),
            Err((2, Problem::DayOrMonth))
        );
        assert_eq!(see(&["03/04/2024"]).settle(Some(false)), Ok(false));
        assert_eq!(
            see(&["13/04/2024", "04/13/2024"]).settle(None),
            Err((2, Problem::DatesMixed { other: 3 }))
        );
    }

    #[test]
    fn spans() {
        let (a, b) = (date(2024, 5, 6), date(2024, 5, 13));
        assert_eq!((days(a, b), days(b, a)), (7, -7));
        assert_eq!(middle(a, b), date(2024, 5, 9));
        assert_eq!(middle(a, b).iso_week_date().week(), 19);
        assert_eq!(days(date(2023, 12, 20), date(2024, 3, 1)), 72);
    }
}
