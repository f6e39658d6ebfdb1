//! What is kept in the browser, and the scenario in the page's address.

use super::{Model, Notice};
use crate::words::link as words;
use crate::{browser, link};
use leptos::prelude::*;
use stand::{Stand, keep};
use std::time::Duration;

/// How long an edit may rest before the address is written anew.
const REST: Duration = Duration::from_millis(400);

/// How the address stands to the scenario.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Link {
    /// It holds the scenario, or soon will.
    #[default]
    Holds,
    /// The scenario holds something that is refused; the address holds the last one that was not.
    Refused,
    /// The link would be too long, by this many characters in all; the address holds no scenario.
    TooLong(usize),
}

/// The end of the address for a stand.
fn made(model: Model, stand: &Stand) -> Result<String, Link> {
    if model.checked.with_untracked(Result::is_err) {
        return Err(Link::Refused);
    }
    let made = link::encode(stand);
    if made.len() > link::LONGEST {
        return Err(Link::TooLong(made.len()));
    }
    Ok(made)
}

impl Model {
    /// Keeps everything in this browser for the next visit, and notes whether the browser let it.
    pub fn keep(self) {
        let link = Some(browser::fragment()).filter(|f| link::is_one(f));
        let kept = browser::keep(&keep(&self.stand(), link.unwrap_or_default()));
        if self.refused_storage.get_untracked() == kept {
            self.refused_storage.set(!kept);
        }
    }

    /// Writes the address once the edits rest.
    pub fn write_link_soon(self) {
        let later = set_timeout_with_handle(move || self.write_link(), REST).ok();
        self.later.update_value(|old| {
            if let Some(old) = std::mem::replace(old, later) {
                old.clear();
            }
        });
    }

    fn write_link(self) {
        let state = match made(self, &self.stand()) {
            Ok(fragment) => {
                browser::set_fragment(&fragment);
                Link::Holds
            }
            Err(state) => {
                if state != Link::Refused {
                    browser::set_fragment("");
                }
                state
            }
        };
        if self.link.get_untracked() != state {
            self.link.set(state);
        }
        // What is kept names the address it belongs to.
        self.keep();
    }

    /// The whole link to what the page shows now.
    ///
    /// # Errors
    /// Why there is none.
    pub fn link_now(self) -> Result<String, String> {
        match made(self, &self.stand()) {
            Ok(fragment) => Ok(browser::address_with(&fragment)),
            Err(Link::TooLong(length)) => Err(words::too_long(length)),
            Err(_) => Err(words::REFUSED.into()),
        }
    }

    /// The address was changed by hand, or a link was opened on this page.
    pub fn follow(self, fragment: &str) {
        if link::is_one(fragment) {
            match link::decode(fragment) {
                Ok(stand) => {
                    let line = words::opened(&stand.scenario);
                    let said = stand.scenario != self.scenario.get_untracked();
                    self.replace_all(stand, words::STEP);
                    if said {
                        let lines = vec![line];
                        self.notice.set(Some(Notice { bad: false, lines }));
                    }
                }
                Err(why) => {
                    let lines = vec![words::unreadable(&why, words::AS_IT_WAS)];
                    self.notice.set(Some(Notice { bad: true, lines }));
                }
            }
        }
        // The address tells what is shown, also after a jump to a place of the page.
        self.write_link_soon();
    }
}
