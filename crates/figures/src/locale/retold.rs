//! Numbers in a sentence that was made in English elsewhere.

use super::{Marks, marks, pointed, written};

/// An English sentence with its numbers in the reader's marks: for sentences of those who know nothing of readers.
///
/// Only what is surely a number is written anew: digits with a decimal point (`.4` too), or thousands apart by commas.
/// Names that hold digits (`v1.2`, `10.1234/ab`) stay. It cannot know that section 2.3 of a book is no number: sources
/// are not to be given to it.
pub fn retold(sentence: &str) -> String {
    if marks() == Marks::ENGLISH {
        return sentence.to_string();
    }
    let bytes = sentence.as_bytes();
    let mut out = String::with_capacity(sentence.len());
    let mut at = 0;
    while at < bytes.len() {
        let begun = at;
        if bytes[at].is_ascii_digit() {
            at = end_of_word(bytes, at);
            out.push_str(&one(&sentence[begun..at]));
        } else if bytes[at] == b'.' && bytes.get(at + 1).is_some_and(u8::is_ascii_digit) {
            // English may leave out the 0 before the point.
            at = end_of_word(bytes, at + 1);
            let word = &sentence[begun..at];
            if word[1..].bytes().all(|b| b.is_ascii_digit()) {
                out.push_str(&pointed(&format!("0{word}")));
            } else {
                out.push_str(word);
            }
        } else {
            // A word that holds letters is taken whole, so that digits within it are no number.
            let letters = bytes[at].is_ascii_alphabetic();
            at = if letters {
                end_of_word(bytes, at)
            } else {
                at + 1
            };
            while !sentence.is_char_boundary(at) {
                at += 1;
            }
            out.push_str(&sentence[begun..at]);
        }
    }
    out
}

/// Where the word that begins at a place ends: digits, letters, and what stands between two of them.
fn end_of_word(bytes: &[u8], from: usize) -> usize {
    let mut at = from;
    while at < bytes.len() {
        let joins = matches!(bytes[at], b'.' | b',' | b'/' | b'_' | b':');
        let goes_on = bytes.get(at + 1).is_some_and(u8::is_ascii_alphanumeric);
        if !(bytes[at].is_ascii_alphanumeric() || joins && goes_on) {
            break;
        }
        at += 1;
    }
    at
}

/// A word that begins with a digit, written anew if it is a number.
fn one(word: &str) -> String {
    let (mantissa, exponent) = match word.split_once('e') {
        // The sign of an exponent ends a word: "1.2e-7" comes as "1.2e".
        Some((mantissa, exponent)) if exponent.bytes().all(|b| b.is_ascii_digit()) => {
            (mantissa, Some(exponent))
        }
        _ => (word, None),
    };
    let (whole, decimals) = match mantissa.split_once('.') {
        Some((whole, decimals)) => (whole, Some(decimals)),
        None => (mantissa, None),
    };
    let digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or_default();
    let apart = whole.contains(',');
    let sound = digits(first)
        && (!apart || first.len() <= 3)
        && groups.all(|group| digits(group) && group.len() == 3)
        && decimals.is_none_or(digits);
    if !sound {
        return word.to_string();
    }
    let plain = match decimals {
        Some(decimals) => format!("{}.{decimals}", whole.replace(',', "")),
        None => whole.replace(',', ""),
    };
    let mut out = if apart {
        written(&plain)
    } else {
        pointed(&plain)
    };
    if let Some(exponent) = exponent {
        out.push('e');
        out.push_str(exponent);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::countries::{french, german, read_by};
    use super::*;

    #[test]
    fn numbers_are_written_anew_and_names_stay() {
        let told = "kills about 1,234 (2.5 % of 40,000), SD 0.3; 2014, sites 1, 2 and 3.";
        assert_eq!(retold(told), told);
        assert_eq!(
            read_by(german(), || retold(told)),
            "kills about 1.234 (2,5 % of 40.000), SD 0,3; 2014, sites 1, 2 and 3."
        );
        assert_eq!(
            read_by(french(), || retold("±1,234,567.5 – 1.2e-7 — 3.4e9.")),
            "±1\u{202f}234\u{202f}567,5 – 1,2e-7 — 3,4e9."
        );
        assert_eq!(
            read_by(german(), || retold("SD 0, .1, .25 and .4; .5.6")),
            "SD 0, 0,1, 0,25 and 0,4; .5.6"
        );
        for name in [
            "v1.2",
            "10.1234/ab.5",
            "1.2.3",
            "1,2,3",
            "sp. 12a.5",
            "12:30",
        ] {
            assert_eq!(read_by(german(), || retold(name)), name);
        }
    }
}
