//! What becomes of a demonstration's scenario as a survey of one's own.

use crate::number::plain;
use survey::scenario::Own;

/// What it has no more of, and what is to be done.
pub fn own(own: &Own) -> Vec<String> {
    if own.is_unchanged() {
        return vec![
            "Nothing here is invented: every premise is yours, published or common practice."
                .into(),
        ];
    }
    let guesses = match own.guesses {
        0 => "none of the premises that stay was invented.".to_owned(),
        1 => "one premise was invented and is marked “guess” now.".to_owned(),
        many => format!(
            "{} premises were invented and are marked “guess” now.",
            plain(many as f64)
        ),
    };
    let mut lines = vec![format!(
        "A survey of your own: {guesses} Replace what you know better, or open your pilot catches."
    )];
    if !own.groups.is_empty() {
        lines.push(format!(
            "Invented by-catch is gone: {}. State what your traps will kill besides, or the toll leaves it out.",
            own.groups.join(", ")
        ));
    }
    if own.costs {
        let caps = if own.caps {
            ", and limits on hours and money with them"
        } else {
            ""
        };
        lines.push(format!(
            "Invented costs are gone{caps}: state yours to see hours and money."
        ));
    }
    lines
}
