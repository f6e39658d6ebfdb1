//! Lists of numbers as they are typed.

use figures::locale::{marks, typed};
use paper::number::unmarked;

/// Numbers of a list as a person types them: commas, spaces and semicolons part them, and decimals have a full stop.
///
/// Of readers whose decimal mark is the comma "3,5" could be one number or two, so that it is none; beside a semicolon
/// it is one.
pub fn numbers(text: &str) -> Option<Vec<f64>> {
    let parts = |at: &[char]| -> Vec<String> {
        let each = text.split(at).map(str::trim);
        each.filter(|t| !t.is_empty()).map(Into::into).collect()
    };
    let decimal_comma = marks().decimal() == ',';
    if decimal_comma && text.contains(';') {
        return parts(&[';']).iter().map(|t| typed(t).number()).collect();
    }
    let digit = |b: &u8| b.is_ascii_digit();
    let mut glued = text.as_bytes().windows(3);
    let glued = glued.any(|w| digit(&w[0]) && w[1] == b',' && digit(&w[2]));
    if decimal_comma && glued {
        return None;
    }
    let number = |t: &String| t.parse::<f64>().ok().filter(|v| v.is_finite());
    parts(&[',', ';', ' ']).iter().map(number).collect()
}

/// One number in the reader's marks, or nothing.
pub fn one_or_none(text: &str) -> Option<Vec<f64>> {
    if text.trim().is_empty() {
        return Some(Vec::new());
    }
    typed(text).number().map(|v| vec![v])
}

/// A list of numbers in the reader's marks, as [`numbers`] reads it.
pub fn listed(values: &[f64]) -> String {
    let each: Vec<String> = values.iter().map(|v| unmarked(*v)).collect();
    each.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use figures::locale::{Marks, in_english, set};
    use paper::number::plain;

    #[test]
    fn lists_are_never_guessed() {
        assert_eq!(numbers("8,10, 12"), Some(vec![8.0, 10.0, 12.0]));
        assert_eq!(numbers("3.5 7"), Some(vec![3.5, 7.0]));
        assert_eq!(one_or_none("1,500"), None);
        in_english(|| {
            set(Marks::new(',', Some('.'), 1).expect("sound"));
            assert_eq!((numbers("3,5"), numbers("2, 3,5")), (None, None));
            assert_eq!(numbers("3,5; 7"), Some(vec![3.5, 7.0]));
            assert_eq!(numbers("2, 4, 7"), Some(vec![2.0, 4.0, 7.0]));
            assert_eq!(numbers(&listed(&[3.5, 7.0])), Some(vec![3.5, 7.0]));
            assert_eq!(one_or_none("1.500"), None);
            assert_eq!(one_or_none(&plain(0.5)), Some(vec![0.5]));
        });
        assert_eq!(one_or_none(" "), Some(vec![]));
    }
}
