//! How the page is read: the way in, and which parts are open. None of it changes a number.

use crate::browser;
use leptos::prelude::*;
use stand::Way;
use std::collections::BTreeSet;

/// The way in and the open parts.
#[derive(Clone, Copy)]
pub struct Layout {
    /// The way in.
    pub way: RwSignal<Way>,
    open: RwSignal<BTreeSet<String>>,
}

const KEPT: &str = "leastcatch-layout";

impl Layout {
    /// As it was at the last visit, or as for sizing a survey.
    pub fn begin() -> Self {
        let kept = browser::kept_under(KEPT).and_then(|text| read(&text));
        let (way, open) = kept.unwrap_or_else(|| (Way::Size, beginning(Way::Size)));
        Self {
            way: RwSignal::new(way),
            open: RwSignal::new(open),
        }
    }

    /// Takes a way in: its parts open, the others close.
    pub fn take(self, way: Way) {
        self.way.set(way);
        self.open.set(beginning(way));
        self.keep();
    }

    /// Whether a part is open.
    pub fn is_open(self, part: &str) -> bool {
        self.open.with(|o| o.contains(part))
    }

    /// Opens or closes a part.
    pub fn set(self, part: &str, open: bool) {
        if self.open.with_untracked(|o| o.contains(part)) == open {
            return;
        }
        self.open.update(|o| {
            if open {
                o.insert(part.to_owned());
            } else {
                o.remove(part);
            }
        });
        self.keep();
    }

    /// Opens all of some parts, or closes every part.
    pub fn set_all(self, parts: &[&str], open: bool) {
        let all = parts.iter().map(|p| (*p).to_owned());
        self.open
            .set(if open { all.collect() } else { BTreeSet::new() });
        self.keep();
    }

    fn keep(self) {
        let open: Vec<String> = self.open.with_untracked(|o| o.iter().cloned().collect());
        let text = format!("{} {}", self.way.get_untracked().key(), open.join(" "));
        // A browser that keeps nothing begins anew at the next visit, as it does with the scenario, which says so.
        browser::keep_under(KEPT, text.trim_end());
    }
}

fn beginning(way: Way) -> BTreeSet<String> {
    let parts = way.begins_with().iter();
    parts.map(|p| (*p).to_owned()).collect()
}

/// Reads what [`Layout::keep`] wrote; `None` for anything else.
fn read(text: &str) -> Option<(Way, BTreeSet<String>)> {
    let mut words = text.split(' ');
    let key = words.next()?;
    let way = Way::ALL.into_iter().find(|w| w.key() == key)?;
    Some((way, words.map(str::to_owned).collect()))
}
