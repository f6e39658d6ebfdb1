//! The whole scenario as the end of an address: `1.` and the base64url of compressed JSON.
//!
//! Version 1: two lines, compressed as zlib (whose checksum tells a link that was cut or altered): the settings that are
//! not the usual ones, and the scenario as in a file but without white space.

use crate::words::link as words;
use crate::{Stand, axis};
use engine::scenario::reread;
use miniz_oxide::deflate::compress_to_vec_zlib;
use miniz_oxide::inflate::decompress_to_vec_zlib_with_limit;
use serde::{Deserialize, Serialize};

/// Most characters of a link's end; some programs cut longer addresses.
pub const LONGEST: usize = 8000;
/// Most bytes that a link may unpack to, so that a made-up one cannot fill the memory.
const LARGEST: usize = 4_000_000;
const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// Settings that are not the usual ones.
#[derive(Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Settings {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    seed: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    replicates: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    axis: Option<String>,
}

/// Whether the end of an address is meant to be a scenario: places of the page do not begin with a digit.
pub fn is_one(fragment: &str) -> bool {
    fragment.starts_with(|c: char| c.is_ascii_digit())
}

/// The end of an address that holds the scenario and its settings; what was refused is not in it.
pub fn encode(stand: &Stand) -> String {
    let usual = Stand::of(stand.scenario.clone());
    let settings = Settings {
        seed: (stand.seed != usual.seed).then_some(stand.seed),
        replicates: (stand.replicates != usual.replicates).then_some(stand.replicates),
        axis: (stand.axis != usual.axis).then(|| stand.axis.key().to_string()),
    };
    let head = serde_json::to_string(&settings).unwrap_or_default();
    let body = serde_json::to_string(&stand.scenario).unwrap_or_default();
    let packed = compress_to_vec_zlib(format!("{head}\n{body}").as_bytes(), 9);
    format!("1.{}", to_text(&packed))
}

/// What the end of an address holds.
///
/// # Errors
/// Says why it cannot be read, or what in it is out of its bounds.
pub fn decode(fragment: &str) -> Result<Stand, String> {
    let (version, packed) = fragment.split_once('.').ok_or(words::CUT)?;
    if version != "1" {
        return Err(words::newer(version));
    }
    let packed = from_text(packed).ok_or(words::CUT)?;
    let text = decompress_to_vec_zlib_with_limit(&packed, LARGEST).map_err(|_| words::CUT)?;
    let text = String::from_utf8(text).map_err(|_| words::CUT)?;
    let (head, body) = text.split_once('\n').ok_or(words::CUT)?;
    let settings: Settings = serde_json::from_str(head).map_err(|e| e.to_string())?;
    let scenario = reread(body).map_err(|fault| fault.to_string())?;
    if let Err(faults) = scenario.clone().check() {
        let lines: Vec<String> = faults.iter().map(ToString::to_string).collect();
        return Err(lines.join("; "));
    }
    let mut stand = Stand::of(scenario);
    stand.seed = settings.seed.unwrap_or(stand.seed);
    if let Some(replicates) = settings.replicates {
        if !(1..=engine::MOST_REPLICATES).contains(&replicates) {
            return Err(words::replicates(replicates));
        }
        stand.replicates = replicates;
    }
    if let Some(key) = settings.axis {
        stand.axis = axis(&key).ok_or_else(|| words::axis(&key))?;
    }
    Ok(stand)
}

/// Base64 with the letters of addresses (RFC 4648, section 5), without padding.
fn to_text(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let at = |i: usize| u32::from(chunk.get(i).copied().unwrap_or(0));
        let bits = at(0) << 16 | at(1) << 8 | at(2);
        for place in 0..=chunk.len() {
            let letter = bits >> (18 - 6 * place) & 63;
            text.push(char::from(LETTERS[letter as usize]));
        }
    }
    text
}

fn from_text(text: &str) -> Option<Vec<u8>> {
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3 + 2);
    for chunk in text.as_bytes().chunks(4) {
        let mut bits = 0u32;
        for letter in chunk {
            bits = bits << 6 | LETTERS.iter().position(|l| l == letter)? as u32;
        }
        bits <<= 6 * (4 - chunk.len());
        let whole = [(bits >> 16) as u8, (bits >> 8) as u8, bits as u8];
        let (taken, left) = whole.split_at(chunk.len() - 1);
        // One letter alone is no byte, and what is left over must be nothing.
        if taken.is_empty() || left.iter().any(|b| *b != 0) {
            return None;
        }
        bytes.extend_from_slice(taken);
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demos::DEMOS;
    use engine::Axis;

    fn demo(text: &str) -> Stand {
        Stand::of(reread(text).expect("a demo"))
    }

    #[test]
    fn every_demo_comes_back_from_a_short_link() {
        for (name, text) in DEMOS {
            let stand = demo(text);
            let link = encode(&stand);
            assert!(link.len() < 3000, "{name}: {}", link.len());
            assert!(
                link.bytes().all(|b| b == b'.' || LETTERS.contains(&b)),
                "{name}"
            );
            assert_eq!(decode(&link), Ok(stand), "{name}");
        }
    }

    #[test]
    fn settings_come_back_too() {
        let mut stand = demo(DEMOS[0].1);
        (stand.seed, stand.replicates, stand.axis) = (u64::MAX, 40, Axis::Years);
        assert_eq!(decode(&encode(&stand)), Ok(stand));
    }

    #[test]
    fn bytes_come_back_from_their_letters() {
        for length in 0..70 {
            let bytes: Vec<u8> = (0..length).map(|i| (i * 91 + length) as u8).collect();
            assert_eq!(from_text(&to_text(&bytes)), Some(bytes));
        }
        // RFC 4648, section 10, without the padding.
        assert_eq!(to_text(b"foobar"), "Zm9vYmFy");
        assert_eq!(to_text(b"fooba"), "Zm9vYmE");
        assert_eq!(to_text(b"foob"), "Zm9vYg");
        assert_eq!(from_text("Zm9vY"), None);
        assert_eq!(from_text("Zm9v+"), None);
    }

    #[test]
    fn a_link_that_was_cut_or_altered_is_refused() {
        let link = encode(&demo(DEMOS[0].1));
        for end in 0..link.len() {
            assert!(decode(&link[..end]).is_err(), "cut at {end}");
        }
        for at in (2..link.len()).step_by(7) {
            let mut altered = link.clone().into_bytes();
            altered[at] = if altered[at] == b'A' { b'B' } else { b'A' };
            let altered = String::from_utf8(altered).expect("letters");
            assert!(decode(&altered).is_err(), "altered at {at}");
        }
    }

    #[test]
    fn what_does_not_fit_is_named() {
        let mut stand = demo(DEMOS[0].1);
        stand.scenario.plan.sites = 1;
        assert!(decode(&encode(&stand)).is_err_and(|e| e.contains("plan.sites is 1")));
        let mut stand = demo(DEMOS[0].1);
        stand.replicates = 100_001;
        assert!(decode(&encode(&stand)).is_err_and(|e| e.contains("100001")));
        let newer = encode(&stand).replacen("1.", "7.", 1);
        assert!(decode(&newer).is_err_and(|e| e.contains('7')));
    }

    #[test]
    fn what_would_unpack_to_too_much_is_refused() {
        let packed = compress_to_vec_zlib(&vec![b'x'; LARGEST + 1], 9);
        assert!(decode(&format!("1.{}", to_text(&packed))).is_err());
    }
}
