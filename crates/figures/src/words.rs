//! How wide words are, roughly, and where to break them: there is no font at hand to measure with.

/// Estimated width in pixels of text at a font size in pixels. Errs towards wide, for common sans-serif fonts.
pub fn width(text: &str, size: f64) -> f64 {
    let ems: f64 = text.chars().map(ems).sum();
    ems * size
}

fn ems(character: char) -> f64 {
    match character {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' => 0.30,
        ' ' | '\u{a0}' | '\u{202f}' | '\u{2019}' | 'f' | 't' | 'r' | '(' | ')' | '-' | '/' => 0.38,
        'm' | 'w' | 'M' | 'W' | '%' | '@' | '\u{2014}' => 0.92,
        'A'..='Z' | '&' | '+' | '=' | '<' | '>' => 0.70,
        '0'..='9' => 0.63,
        c if c.is_ascii() => 0.59,
        // Ideographs and the like fill a square.
        c if c as u32 >= 0x2e80 => 1.05,
        _ => 0.66,
    }
}

/// How much wider bold letters are, in the widest of the common fonts.
const BOLD: f64 = 1.2;

/// Breaks bold text into lines, as [`wrap`].
pub fn wrap_bold(text: &str, size: f64, room: f64) -> Vec<String> {
    wrap(text, BOLD * size, room)
}

/// Breaks text into lines no wider than `room` pixels; a word that is wider than that is cut. A space that does not
/// break, as stands between thousands in some countries, holds its word together.
pub fn wrap(text: &str, size: f64, room: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_ascii_whitespace() {
        let longer = if line.is_empty() {
            word.to_string()
        } else {
            format!("{line} {word}")
        };
        if width(&longer, size) <= room {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for character in word.chars() {
            if !line.is_empty()
                && width(&line, size) + width(character.encode_utf8(&mut [0; 4]), size) > room
            {
                lines.push(std::mem::take(&mut line));
            }
            line.push(character);
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::{width, wrap, wrap_bold};

    /// In DejaVu Sans Bold, in which Linux draws what names no other font, this text is 395 pixels wide at 12.5 (measured in
    /// Chromium).
    #[test]
    fn bold_text_is_taken_for_wide_enough() {
        let text = "information per animal killed, a catch of the week alone";
        assert_eq!(wrap_bold(text, 12.5, 1e6).len(), 1);
        assert!(wrap_bold(text, 12.5, 395.0).len() > 1);
    }

    #[test]
    fn lines_fit_and_lose_nothing() {
        let text = "individuals killed over the whole survey Hymenopterologically";
        let lines = wrap(text, 12.0, 90.0);
        assert!(lines.len() > 3);
        assert!(lines.iter().all(|line| width(line, 12.0) <= 90.0));
        assert_eq!(lines.concat().replace(' ', ""), text.replace(' ', ""));
    }

    #[test]
    fn thousands_stay_together() {
        let text = "about 12\u{202f}345 animals and 1\u{a0}234 more";
        for line in wrap(text, 12.0, 70.0) {
            assert!(!line.ends_with("12") && !line.ends_with('1'), "{line}");
        }
    }

    #[test]
    fn nothing_gives_no_line_and_no_room_still_ends() {
        assert!(wrap("  ", 12.0, 50.0).is_empty());
        assert_eq!(wrap("abc", 12.0, 0.0).len(), 3);
    }
}
