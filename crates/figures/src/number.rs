//! How numbers are written: with thousands separators for people, without for CSV.

/// What stands in a table where there is no finite number.
pub const NOT_AVAILABLE: &str = "not available";

/// A number with a fixed count of decimals and commas between thousands: `1,234.5`.
pub fn grouped(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return NOT_AVAILABLE.to_string();
    }
    if value.abs() >= 1e15 {
        return scientific(value);
    }
    let digits = format!("{:.*}", decimals.min(12), value.abs());
    let (whole, fraction) = digits.split_once('.').unwrap_or((&digits, ""));
    let mut out = String::new();
    // A value that rounds to nothing carries no sign.
    if value < 0.0 && digits.bytes().any(|byte| (b'1'..=b'9').contains(&byte)) {
        out.push('\u{2212}');
    }
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index) % 3 == 0 {
            out.push(',');
        }
        out.push(digit);
    }
    if !fraction.is_empty() {
        out.push('.');
        out.push_str(fraction);
    }
    out
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
    let text = grouped(value, decimals);
    if !text.contains('.') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_string()
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
        return "<0.1%".to_string();
    }
    if (0.9995..1.0).contains(&share) {
        return ">99.9%".to_string();
    }
    format!("{}%", grouped(share * 100.0, 1))
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

fn scientific(value: f64) -> String {
    let text = format!("{value:.2e}");
    let (mantissa, exponent) = text.split_once('e').unwrap_or((&text, "0"));
    let mantissa = mantissa.trim_end_matches('0').trim_end_matches('.');
    format!("{mantissa}e{exponent}").replace('-', "\u{2212}")
}

#[cfg(test)]
mod tests {
    use super::*;

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
        assert_eq!(percent(0.8125), "81.2%");
        assert_eq!(percent(0.0), "0.0%");
        assert_eq!(percent(0.0001), "<0.1%");
        assert_eq!(percent(0.99999), ">99.9%");
        assert_eq!(percent(1.0), "100.0%");
        assert_eq!(percent(f64::NAN), NOT_AVAILABLE);
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
