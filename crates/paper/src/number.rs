//! Numbers for people: no more digits than they mean, in the reader's marks ([`figures::locale`]).
//!
//! No sentence writes a number that may have decimals by itself: it asks one of these.

use figures::locale::{pointed, written};

pub use figures::number::decimals;

/// A share as per cent, with a decimal below 10 % and above 90 %; "not known" when it is none.
pub fn percent(share: f64) -> String {
    if !share.is_finite() {
        return "not known".into();
    }
    let p = unsigned_zero(100.0 * share, 0.05);
    if !(9.95..=90.05).contains(&p) {
        format!("{} %", decimals(p, 1))
    } else {
        format!("{p:.0} %")
    }
}

/// A number, but 0 without a sign where rounding to within `half` makes it 0.
fn unsigned_zero(v: f64, half: f64) -> f64 {
    if v.abs() < half { 0.0 } else { v }
}

/// A share as per cent, always with a decimal: where plans stand close to the wanted power.
pub fn percent_fine(share: f64) -> String {
    if share.is_finite() {
        format!("{} %", decimals(unsigned_zero(100.0 * share, 0.05), 1))
    } else {
        "not known".into()
    }
}

/// A count of animals: whole from 10, with decimals below, thousands apart.
pub fn count(n: f64) -> String {
    if !n.is_finite() {
        return "not known".into();
    }
    if n == 0.0 {
        return "0".into();
    }
    if n < 0.95 {
        return decimals(n, 2);
    }
    if n < 9.95 {
        return decimals(n, 1);
    }
    written(&format!("{n:.0}"))
}

/// A count for a sentence: no more than three leading digits.
pub fn rounded(n: f64) -> String {
    if n < 10.0 {
        return count(n);
    }
    let mut unit = 1.0;
    while n / unit >= 1000.0 {
        unit *= 10.0;
    }
    count((n / unit + 0.5).floor() * unit)
}

/// A plain number without a needless tail: 0.05, 30, 12.5.
pub fn plain(v: f64) -> String {
    pointed(&unmarked(v))
}

/// The same with a full stop, whoever reads: where it is read again in a form of its own.
pub fn unmarked(v: f64) -> String {
    untailed(&format!("{v:.4}")).to_string()
}

/// A number with all its digits: 0.05, 0.123456.
pub fn in_full(v: f64) -> String {
    pointed(&v.to_string())
}

/// A number of about so many decimals, without a needless tail.
pub fn at_most(v: f64, decimals: usize) -> String {
    pointed(untailed(&format!("{v:.decimals$}")))
}

/// A number with its sign, also where it is above 0: +1.5, -0.3.
pub fn signed(v: f64, decimals: usize) -> String {
    pointed(&format!("{v:+.decimals$}"))
}

/// A number in powers of ten: 1.25e-6.
pub fn scientific(v: f64, decimals: usize) -> String {
    pointed(&format!("{v:.decimals$e}"))
}

/// Digits without needless zeros after the point.
fn untailed(digits: &str) -> &str {
    if digits.contains('.') {
        digits.trim_end_matches('0').trim_end_matches('.')
    } else {
        digits
    }
}

/// A power with the false alarms of the same test behind it: never one without the other.
pub fn power_with_alarms(power: f64, false_alarm: f64) -> String {
    format!("{} ({})", percent(power), percent(false_alarm))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits() {
        assert_eq!(percent(0.8), "80 %");
        assert_eq!(percent(0.056), "5.6 %");
        assert_eq!(
            (percent(-4e-4), percent_fine(-4e-4)),
            ("0.0 %".into(), "0.0 %".into())
        );
        assert_eq!(percent(f64::NAN), "not known");
        assert_eq!(count(0.123), "0.12");
        assert_eq!(count(-0.0), "0");
        assert_eq!(count(1234567.0), "1,234,567");
        assert_eq!(count(345.6), "346");
        assert_eq!(rounded(79_093.0), "79,100");
        assert_eq!(rounded(210.2), "210");
        assert_eq!(rounded(3.4), "3.4");
        assert_eq!(plain(30.0), "30");
        assert_eq!(plain(0.05), "0.05");
    }
}
