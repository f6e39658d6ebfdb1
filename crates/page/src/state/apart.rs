//! The file with what is not needed at first: whether it is here, and what waits for it.

use leptos::prelude::*;
use leptos::task::spawn_local;

use super::{Model, Notice};
use crate::apart::{Rest, fetch};
use crate::words::apart as words;

/// How the file stands.
#[derive(Clone, Copy)]
pub enum Apart {
    /// Nobody has asked for it.
    Unasked,
    /// It is on its way.
    Coming,
    /// It could not be loaded.
    Failed,
    /// It is here.
    Here(&'static Rest),
}

/// What is done once the file is here.
pub(super) type Waiting = Box<dyn FnOnce(&'static Rest)>;

impl Model {
    /// Loads the file unless it is here or on its way; one that failed to come is asked for again.
    pub fn fetch_apart(self) {
        if matches!(self.apart.get_untracked(), Apart::Coming | Apart::Here(_)) {
            return;
        }
        self.apart.set(Apart::Coming);
        spawn_local(async move {
            let came = fetch().await;
            self.apart
                .set(came.as_ref().map_or(Apart::Failed, |r| Apart::Here(r)));
            let waiting = self.waiting.try_update_value(std::mem::take);
            let waiting = waiting.unwrap_or_default();
            match came {
                Ok(rest) => waiting.into_iter().for_each(|then| then(rest)),
                Err(_) if waiting.is_empty() => {}
                Err(_) => {
                    let lines = vec![words::FAILED.to_owned()];
                    self.notice.set(Some(Notice { bad: true, lines }));
                }
            }
        });
    }

    /// Loads the file the first time it is wanted; what failed to come is asked for again by whoever wants it again.
    pub fn want_apart(self) {
        if matches!(self.apart.get_untracked(), Apart::Unasked) {
            self.fetch_apart();
        }
    }

    /// Does something with what is in the file, at once where it is here.
    pub fn with_apart(self, then: impl FnOnce(&'static Rest) + 'static) {
        if let Apart::Here(rest) = self.apart.get_untracked() {
            return then(rest);
        }
        self.waiting.update_value(|w| w.push(Box::new(then)));
        self.fetch_apart();
    }

    /// Loads the file once the first surveys are counted, so that whoever opens a part of it need not wait and the next
    /// visit finds it without a network; the answer comes first.
    pub fn fetch_apart_after_answer(self) {
        Effect::new(move |_| {
            let counted = |a: &engine::summary::Answer| a.power.replicates > 0;
            if self.answer.with(|a| a.as_ref().is_some_and(counted)) {
                self.want_apart();
            }
        });
    }
}
