//! Work on the page's own thread in slices, so that it never keeps anybody waiting.

use crate::browser::now;
use leptos::prelude::*;
use std::time::Duration;

/// Milliseconds of a slice; the last step of one may go beyond.
const SLICE: f64 = 8.0;

/// Takes steps until one says that it was the last, letting the browser do its own things between slices.
fn in_slices(mut step: Box<dyn FnMut() -> bool>) {
    let slice = move || {
        let end = now() + SLICE;
        while step() {
            if now() >= end {
                in_slices(step);
                return;
            }
        }
    };
    set_timeout(slice, Duration::ZERO);
}

/// Begins anew each time it is asked to, after a pause in which nothing else was asked: what was begun before is dropped.
#[derive(Clone, Copy)]
pub struct Restarted {
    turn: StoredValue<u64, LocalStorage>,
}

impl Restarted {
    /// Milliseconds without a further wish after which the work begins.
    const PAUSE: Duration = Duration::from_millis(250);

    /// Nothing is begun.
    pub fn new() -> Self {
        Self {
            turn: StoredValue::new_local(0),
        }
    }

    /// Drops what was begun.
    pub fn stop(self) {
        self.turn.update_value(|t| *t += 1);
    }

    /// Begins: `make` gives the steps, which are taken while nothing else is begun.
    pub fn begin<S: FnMut() -> bool + 'static>(self, make: impl FnOnce() -> Option<S> + 'static) {
        self.stop();
        let own = self.turn.get_value();
        let turn = self.turn;
        let current = move || turn.try_get_value() == Some(own);
        let begin = move || {
            if !current() {
                return;
            }
            if let Some(mut step) = make() {
                in_slices(Box::new(move || current() && step()));
            }
        };
        set_timeout(begin, Self::PAUSE);
    }
}
