//! Bytes to text: encoding, line ends, comments above the header.

use super::problem::Problem;

/// Text with line ends `\n`, without byte-order mark and leading comments.
#[derive(Debug, PartialEq)]
pub(crate) struct Text {
    /// From the header on.
    pub body: String,
    /// Lines of the file before `body`.
    pub before: usize,
    /// Whether the letters look as if encoded twice.
    pub twice_encoded: bool,
}

/// Reads bytes as UTF-8; leading lines that start with `#` and empty lines are skipped.
///
/// # Errors
/// A problem, with the line where it is known.
pub(crate) fn read(bytes: &[u8]) -> Result<Text, (Option<usize>, Problem)> {
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xd0\xcf\x11\xe0") {
        return Err((None, Problem::Archive));
    }
    let utf16_mark = bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff");
    if utf16_mark || bytes.contains(&0) {
        return Err((None, Problem::Utf16));
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = std::str::from_utf8(bytes).map_err(|e| {
        let good = &bytes[..e.valid_up_to()];
        let line = 1 + good.iter().filter(|&&b| b == b'\n').count();
        (Some(line), Problem::NotUtf8)
    })?;
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    let mut rest = text.as_str();
    let mut before = 0;
    while let Some((line, below)) = rest.split_once('\n') {
        // A spreadsheet saves a comment line with separators at its end and quotes around it when it holds one.
        let start = line.trim_start().trim_start_matches('"');
        if !(start.starts_with('#') || line.trim().is_empty()) {
            break;
        }
        rest = below;
        before += 1;
    }
    if rest.trim().is_empty() || rest.trim_start().starts_with('#') {
        return Err((None, Problem::NoHeader));
    }
    Ok(Text {
        body: rest.to_owned(),
        before,
        twice_encoded: twice_encoded(rest),
    })
}

/// UTF-8 read as Latin-1 and encoded again turns an accented letter into one of two letters and a symbol.
fn twice_encoded(text: &str) -> bool {
    let mut last = ' ';
    text.chars().any(|c| {
        let hit = matches!(last, 'Ã' | 'Â') && ('\u{80}'..='\u{bf}').contains(&c);
        last = c;
        hit
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_line_ends_and_comments() {
        let text = read(b"\xef\xbb\xbf# invented\r\n\r\nsite,count\rA,1\r\n").unwrap();
        assert_eq!(text.body, "site,count\nA,1\n");
        assert_eq!(text.before, 2);
    }

    #[test]
    fn other_encodings_are_refused() {
        let utf16: Vec<u8> = "site,n".encode_utf16().flat_map(u16::to_le_bytes).collect();
        assert_eq!(read(&utf16), Err((None, Problem::Utf16)));
        assert_eq!(read(b"\xff\xfes\x00"), Err((None, Problem::Utf16)));
        assert_eq!(
            read(b"site,n\nM\xfchle,3\n"),
            Err((Some(2), Problem::NotUtf8))
        );
        assert_eq!(read(b"PK\x03\x04..."), Err((None, Problem::Archive)));
        assert_eq!(read(b"# only\n"), Err((None, Problem::NoHeader)));
        assert_eq!(read(b"# only"), Err((None, Problem::NoHeader)));
        assert!(read("site,n\nMÃ¼hle,3\n".as_bytes()).unwrap().twice_encoded);
        assert!(!read("site,n\nMühle,3\n".as_bytes()).unwrap().twice_encoded);
    }
}
