//! Reading a number that a person typed.

use super::marks;

/// What was typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Typed {
    /// A number, finite.
    Number(f64),
    /// It could be two numbers, a thousand times apart.
    Unclear,
    /// No number.
    Nothing,
}

impl Typed {
    /// The number, if it is one.
    pub fn number(self) -> Option<f64> {
        match self {
            Self::Number(v) => Some(v),
            Self::Unclear | Self::Nothing => None,
        }
    }
}

/// Reads a number with the reader's marks or with the English full stop; whichever it is, it is never guessed.
///
/// - The reader's decimal mark and the full stop are decimal marks; so is a comma for English readers, where it cannot
///   stand between thousands: `0,35` is 0.35 for everybody.
/// - Marks between thousands are passed over where all stand as they must and the number is surely grouped: `1.234,5`
///   or `1.234.567` in German, `1,234.5` in English, `1 234` and `1’234` for everybody.
/// - What could be either is [`Typed::Unclear`] and not read: `1,234` for English readers, `1.234` for German ones.
pub fn typed(text: &str) -> Typed {
    let text = text.trim().replace('\u{2212}', "-");
    let (sign, size) = match text.strip_prefix(['-', '+']) {
        Some(size) => (&text[..1], size),
        None => ("", text.as_str()),
    };
    let (mantissa, exponent) = match size.find(['e', 'E']) {
        Some(at) => size.split_at(at),
        None => (size, ""),
    };
    let plain = match plain(mantissa) {
        Ok(plain) => plain,
        Err(other) => return other,
    };
    match format!("{sign}{plain}{exponent}").parse::<f64>() {
        Ok(v) if v.is_finite() => Typed::Number(v),
        _ => Typed::Nothing,
    }
}

/// Digits and a full stop, from digits and any marks.
fn plain(mantissa: &str) -> Result<String, Typed> {
    if !mantissa.contains(|c: char| c.is_ascii_digit()) {
        return Err(Typed::Nothing);
    }
    let is_mark = |c: char| !c.is_ascii_digit();
    let marks_in: Vec<char> = mantissa.chars().filter(|c| is_mark(*c)).collect();
    let Some(&last) = marks_in.last() else {
        return Ok(mantissa.to_string());
    };
    let lone = marks_in.len() == 1;
    let grouped = groups(mantissa, &marks_in);
    let never_decimal = !is_decimal(last);
    if never_decimal || !lone && marks_in.iter().all(|m| *m == last) {
        // One kind of mark that stands more than once, or cannot stand before decimals: all or nothing.
        return grouped.ok_or(Typed::Nothing);
    }
    if lone {
        if marks().thousands() == Some(last) && grouped.is_some() {
            return Err(Typed::Unclear);
        }
        return Ok(mantissa.replace(last, "."));
    }
    // The last is before decimals, those before it are another and stand between thousands.
    let (whole, decimals) = mantissa.rsplit_once(last).unwrap_or((mantissa, ""));
    let whole = groups(whole, &marks_in[..marks_in.len() - 1]);
    let decimals_sound = !decimals.is_empty();
    match whole {
        Some(whole) if decimals_sound && marks_in[0] != last => Ok(format!("{whole}.{decimals}")),
        _ => Err(Typed::Nothing),
    }
}

/// Whether a mark can stand before decimals: the reader's own, and full stop and comma, which everybody knows.
fn is_decimal(mark: char) -> bool {
    matches!(mark, '.' | ',') || mark == marks().decimal()
}

/// Whether a mark can stand between thousands.
fn is_between(mark: char) -> bool {
    let known = [
        '.', ',', ' ', '\'', '\u{2019}', '\u{a0}', '\u{202f}', '\u{2009}',
    ];
    known.contains(&mark) || marks().thousands() == Some(mark)
}

/// The digits of a number whose thousands are apart by one kind of mark, all as they must be.
fn groups(whole: &str, marks_in: &[char]) -> Option<String> {
    let first = *marks_in.first()?;
    if !is_between(first) || marks_in.iter().any(|m| *m != first) {
        return None;
    }
    let mut parts = whole.split(first);
    let head = parts.next()?;
    let sound = (1..=3).contains(&head.len())
        && !head.starts_with('0')
        && parts.all(|part| part.len() == 3);
    sound.then(|| whole.replace(first, ""))
}

#[cfg(test)]
mod tests {
    use super::super::countries::{french, german, read_by, spanish, swiss};
    use super::super::{Marks, pointed};
    use super::*;

    fn by(marks: Marks, text: &str) -> Typed {
        read_by(marks, || typed(text))
    }

    #[test]
    fn what_is_clear_is_read_alike_by_all() {
        for marks in [Marks::ENGLISH, german(), french(), swiss(), spanish()] {
            for (text, value) in [
                ("0.35", 0.35),
                ("0,35", 0.35),
                (" 12,5 ", 12.5),
                ("12.5", 12.5),
                ("0,350", 0.35),
                ("0.350", 0.35),
                (".5", 0.5),
                ("-3", -3.0),
                ("\u{2212}0,5", -0.5),
                ("1234", 1234.0),
                ("1234.567", 1234.567),
                ("1,234.5", 1234.5),
                ("1.234,5", 1234.5),
                ("1.234.567", 1_234_567.0),
                ("1,234,567", 1_234_567.0),
                ("1 234", 1234.0),
                ("1\u{202f}234,5", 1234.5),
                ("1\u{2019}234.5", 1234.5),
                ("1e-3", 0.001),
                ("2,5E3", 2500.0),
            ] {
                assert_eq!(by(marks, text), Typed::Number(value), "{text} by {marks:?}");
            }
            for text in [
                "",
                "-",
                ".",
                "abc",
                "1,2,3",
                "1.2.3",
                "12 34",
                "1,23.4,5",
                "1..5",
                "inf",
                "NaN",
                "1e999",
                "0,123,456",
                "1.234,",
                "--5",
                "1e1.5",
                "1 2345",
            ] {
                assert_eq!(by(marks, text), Typed::Nothing, "{text} by {marks:?}");
            }
        }
    }

    #[test]
    fn a_mark_that_could_be_either_is_not_guessed() {
        assert_eq!(by(Marks::ENGLISH, "1,234"), Typed::Unclear);
        assert_eq!(by(Marks::ENGLISH, "1.234"), Typed::Number(1.234));
        for marks in [german(), spanish()] {
            assert_eq!(by(marks, "1.234"), Typed::Unclear);
            assert_eq!(by(marks, "1,234"), Typed::Number(1.234));
        }
        for marks in [french(), swiss()] {
            assert_eq!(by(marks, "1.234"), Typed::Number(1.234));
        }
        assert_eq!(by(french(), "1,234"), Typed::Number(1.234));
        assert_eq!(typed("1,234").number(), None);
    }

    #[test]
    fn what_a_field_shows_is_read_again() {
        for marks in [Marks::ENGLISH, german(), french(), swiss(), spanish()] {
            for value in [0.05, 1.234, -12.5, 1234.0, 123_456.789, 100_000.0] {
                let again = read_by(marks, || typed(&pointed(&value.to_string())));
                assert_eq!(again, Typed::Number(value), "{value} by {marks:?}");
            }
        }
    }
}
