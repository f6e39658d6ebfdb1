//! What takes long to draw is drawn in a task of its own, so that the page stays free for the hand in between.

use crate::browser::later;
use leptos::prelude::*;

/// Follows a value, each change in a task of its own: whatever is drawn from it is drawn in that task. A value that
/// follows may be followed in turn, [`IN_TURN`] deep.
///
/// [`IN_TURN`]: crate::browser::IN_TURN
pub fn in_turn<T>(source: Memo<T>) -> ReadSignal<T>
where
    T: Clone + PartialEq + Send + Sync + 'static,
{
    let (shown, show) = signal(source.get_untracked());
    let due = StoredValue::new(false);
    let follow = move || {
        // Gone with the part that it was for.
        if due.try_set_value(false).is_some() {
            return;
        }
        let now = source.get_untracked();
        if shown.with_untracked(|before| *before != now) {
            show.set(now);
        }
    };
    Effect::new(move |_| {
        source.track();
        if !due.get_value() {
            due.set_value(true);
            later(follow);
        }
    });
    shown
}
