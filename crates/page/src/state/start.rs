//! How the page begins: with the link in its address, or what an earlier visit kept, or the first demo.

use super::Notice;
use crate::demos::FIRST;
use crate::words::{link as words, steps};
use crate::{browser, link};
use engine::scenario::reread;
use stand::{Stand, kept};

/// What the page begins with.
pub struct Start {
    /// How it stands.
    pub stand: Stand,
    /// What an earlier visit kept, where a link takes its place: the step before the first.
    pub before: Option<Stand>,
    /// What there is to say.
    pub notice: Option<Notice>,
}

fn bad(line: String) -> Option<Notice> {
    let lines = vec![line];
    Some(Notice { bad: true, lines })
}

/// What to begin with.
///
/// # Errors
/// When not even the demo can be read.
pub fn first() -> Result<Start, String> {
    let fragment = browser::fragment();
    let (mine, link_of_mine, lost) = match browser::kept() {
        None => (None, String::new(), None),
        Some(text) => match kept(&text) {
            Ok((stand, link)) => (Some(stand), link, None),
            Err(fault) => match reread(&text) {
                // As kept by the first version of the page: the scenario alone.
                Ok(scenario) => (Some(Stand::of(scenario)), String::new(), None),
                Err(_) => (None, String::new(), bad(steps::unreadable(&fault))),
            },
        },
    };
    let or_demo = |mine: Option<Stand>| match mine {
        Some(stand) => Ok(stand),
        None => reread(FIRST).map(Stand::of).map_err(|f| f.to_string()),
    };
    if !link::is_one(&fragment) || (mine.is_some() && fragment == link_of_mine) {
        return or_demo(mine).map(|stand| Start {
            stand,
            before: None,
            notice: lost,
        });
    }
    match link::decode(&fragment) {
        Ok(stand) => {
            let before = mine.filter(|mine| *mine != stand);
            let lines = vec![words::opened(&stand.scenario)];
            let notice = before.is_some().then_some(Notice { bad: false, lines });
            Ok(Start {
                stand,
                before,
                notice: lost.or(notice),
            })
        }
        Err(why) => {
            let instead = if mine.is_some() {
                words::KEPT_INSTEAD
            } else {
                words::DEMO_INSTEAD
            };
            let mut notice = bad(words::unreadable(&why, instead));
            if let (Some(notice), Some(lost)) = (&mut notice, lost) {
                notice.lines.extend(lost.lines);
            }
            or_demo(mine).map(|stand| Start {
                stand,
                before: None,
                notice,
            })
        }
    }
}
