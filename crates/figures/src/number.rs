//! How numbers are written: in the reader's marks for people ([`locale`](crate::locale)), plainly for CSV.

use crate::locale::{pointed, written};

/// What stands in a table where there is no finite number.
pub const NOT_AVAILABLE: &str = "not available";

/// A number with a fixed count of decimals and marks between thousands: `1,234.5`.
pub fn grouped(value: f64, decimals: usize) -> String {
    match fixed(value, decimals) {
        Some(digits) => written(&digits),
        None => beyond(value),
    }
}

/// A number for a label or a table: whole from 100 on, else about three digits, no trailing zeros.
pub fn tidy(value: f64) -> String {
    let size = value.abs();
    if value.is_finite() && size > 0.0 && size < 1e-4 {
        return scientific(value);
    }
    let decimals = match size {
        s if s >= 99.95 => 0,
        s if s >= 9.995 => 1,
        s if s >= 0.9995 => 2,
        s if s >= 0.1 => 3,
        s if s >= 0.01 => 4,
        _ => 6,
    };
    match fixed(value, decimals) {
        Some(digits) => written(untailed(&digits)),
        None => beyond(value),
    }
}

/// The English digits of a number of a size that can be written out.
fn fixed(value: f64, decimals: usize) -> Option<String> {
    if !value.is_finite() || value.abs() >= 1e15 {
        return None;
    }
    let digits = format!("{:.*}", decimals.min(12), value.abs());
    // A value that rounds to nothing carries no sign.
    let signed = value < 0.0 && digits.bytes().any(|byte| (b'1'..=b'9').contains(&byte));
    let sign = if signed { "\u{2212}" } else { "" };
    Some(format!("{sign}{digits}"))
}

/// A number that is not written out.
fn beyond(value: f64) -> String {
    if value.is_finite() {
        scientific(value)
    } else {
        NOT_AVAILABLE.to_string()
    }
}

/// Digits without needless zeros after the point.
fn untailed(digits: &str) -> &str {
    if digits.contains('.') {
        digits.trim_end_matches('0').trim_end_matches('.')
    } else {
        digits
    }
}

/// A tick of an axis whose ticks need `decimals` places: `12,000`, `0.25`, `2e-9`.
pub fn tick(value: f64, step: f64, decimals: usize) -> String {
    if value != 0.0 && !(1e-6..1e9).contains(&step) {
        return scientific(value);
    }
    grouped(value, decimals)
}

/// A share of one as a percentage with one decimal: `81.3%`.
///
/// A share that is not quite nothing or not quite all says so (`<0.1%`, `>99.9%`) instead of rounding.
pub fn percent(share: f64) -> String {
    if !share.is_finite() {
        return NOT_AVAILABLE.to_string();
    }
    if share > 0.0 && share < 0.0005 {
        return pointed("<0.1 %");
    }
    if (0.9995..1.0).contains(&share) {
        return pointed(">99.9 %");
    }
    format!("{} %", grouped(share * 100.0, 1))
}

/// A number for a machine to read: up to ten significant digits, full stop, no separators; empty if not finite.
pub fn plain(value: f64) -> String {
    if !value.is_finite() {
        return String::new();
    }
    // Ten digits hide the last bits of binary fractions (0.1 + 0.2) and keep all that is meant.
    let rounded = format!("{value:.9e}").parse::<f64>().unwrap_or(value) + 0.0;
    let size = rounded.abs();
    if size != 0.0 && !(1e-6..1e15).contains(&size) {
        format!("{rounded:e}")
    } else {
        format!("{rounded}")
    }
}

/// The same number for a person: [`plain`] with the reader's decimal mark.
pub fn exact(value: f64) -> String {
    pointed(&plain(value))
}

/// A number with a fixed count of decimals and no marks between thousands: `1234.5`.
pub fn decimals(value: f64, decimals: usize) -> String {
    pointed(&format!("{value:.decimals$}"))
}

fn scientific(value: f64) -> String {
    let text = format!("{value:.2e}");
    let (mantissa, exponent) = text.split_once('e').unwrap_or((&text, "0"));
    pointed(&format!("{}e{exponent}", untailed(mantissa)).replace('-', "\u{2212}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::locale;

    #[test]
    fn thousands_are_grouped() {
        assert_eq!(grouped(1_234_567.0, 0), "1,234,567");
        assert_eq!(grouped(999.0, 0), "999");
        assert_eq!(grouped(-1234.56, 1), "\u{2212}1,234.6");
        assert_eq!(grouped(-0.01, 1), "0.0");
        assert_eq!(grouped(f64::NAN, 1), NOT_AVAILABLE);
    }

    #[test]
    fn digits_are_sensible() {
        let cases = [
            (0.0, "0"),
            (12.0, "12"),
            (12.34, "12.3"),
            (1.005, "1"),
            (3.25, "3.25"),
            (0.1234, "0.123"),
            (412.6, "413"),
            (12_345.0, "12,345"),
            (0.00001, "1e\u{2212}5"),
            (100.0, "100"),
            (10.0, "10"),
        ];
        for (value, text) in cases {
            assert_eq!(tidy(value), text);
        }
        assert_eq!(tidy(f64::INFINITY), NOT_AVAILABLE);
    }

    #[test]
    fn percentages_do_not_claim_certainty() {
        assert_eq!(percent(0.8125), "81.2 %");
        assert_eq!(percent(0.0), "0.0 %");
        assert_eq!(percent(0.0001), "<0.1 %");
        assert_eq!(percent(0.99999), ">99.9 %");
        assert_eq!(percent(1.0), "100.0 %");
        assert_eq!(percent(f64::NAN), NOT_AVAILABLE);
    }

    #[test]
    fn people_read_their_own_marks_and_machines_do_not() {
        let marks = locale::Marks::new(',', Some('.'), 1).expect("sound");
        locale::in_english(|| {
            locale::set(marks);
            assert_eq!(grouped(-1234.56, 1), "\u{2212}1.234,6");
            assert_eq!((tidy(12_345.0), tidy(0.5)), ("12.345".into(), "0,5".into()));
            assert_eq!(tick(2e-9, 1e-9, 9), "2e\u{2212}9");
            assert_eq!(tidy(1.5e-5), "1,5e\u{2212}5");
            assert_eq!(percent(0.0001), "<0,1 %");
            assert_eq!(percent(0.8125), "81,2 %");
            assert_eq!(
                (exact(1234.5), decimals(1234.56, 1)),
                ("1234,5".into(), "1234,6".into())
            );
            assert_eq!(plain(1234.5), "1234.5");
        });
        assert_eq!(grouped(1234.5, 1), "1,234.5");
    }

    #[test]
    fn powers_of_ten_keep_their_zeros() {
        assert_eq!(tidy(1.5e20), "1.5e20");
    }

    #[test]
    fn machines_read_plain_numbers() {
        assert_eq!(plain(0.1 + 0.2), "0.3");
        assert_eq!(plain(-1_234_567.5), "-1234567.5");
        assert_eq!(plain(-0.0), "0");
        assert_eq!(plain(1e300), "1e300");
        assert_eq!(plain(f64::NAN), "");
    }

    #[test]
    fn ticks_of_any_size_stay_short() {
        assert_eq!(tick(0.3, 0.1, 1), "0.3");
        assert_eq!(tick(12_000.0, 2000.0, 0), "12,000");
        assert!(tick(3e250, 1e250, 0).len() < 12);
        assert_eq!(tick(0.0, 1e250, 0), "0");
    }
}
