//! Steps that can be undone and done again, of whatever the page holds.

/// Steps that are kept; with more the oldest goes, which [`History::full`] tells.
pub const MOST: usize = 300;
/// Milliseconds within which further keys in the same place belong to the same step.
const ONE_STEP: f64 = 1500.0;

/// How the page stood before a step, and the step's name.
#[derive(Clone, Debug)]
struct Step<S> {
    stand: S,
    name: String,
}

/// What was done and what was undone.
#[derive(Debug)]
pub struct History<S> {
    past: Vec<Step<S>>,
    future: Vec<Step<S>>,
    /// Place and time of the last edit, while further keys may belong to it.
    last: Option<(String, f64)>,
    full: bool,
}

impl<S> Default for History<S> {
    fn default() -> Self {
        Self {
            past: Vec::new(),
            future: Vec::new(),
            last: None,
            full: false,
        }
    }
}

impl<S> History<S> {
    /// Notes a step: how the page stood before it, and its name. An edit that follows one in the same `place` at once
    /// (`now` in milliseconds) is part of it; without a place a step stands by itself. `rename` makes the common name
    /// from the stand before the first of them.
    pub fn record(
        &mut self,
        before: S,
        name: String,
        place: Option<String>,
        now: f64,
        rename: impl FnOnce(&S) -> String,
    ) {
        self.future.clear();
        let goes_on = match (&self.last, &place) {
            (Some((at, then)), Some(place)) => at == place && now - then < ONE_STEP,
            _ => false,
        };
        self.last = place.map(|place| (place, now));
        if let (true, Some(step)) = (goes_on, self.past.last_mut()) {
            step.name = rename(&step.stand);
            return;
        }
        if self.past.len() == MOST {
            self.past.remove(0);
            self.full = true;
        }
        self.past.push(Step {
            stand: before,
            name,
        });
    }

    /// Takes the last step back: the stand before it and its name. `current` is kept for [`History::redo`].
    pub fn undo(&mut self, current: S) -> Option<(S, String)> {
        turn(&mut self.past, &mut self.future, &mut self.last, current)
    }

    /// Does again what was undone last.
    pub fn redo(&mut self, current: S) -> Option<(S, String)> {
        turn(&mut self.future, &mut self.past, &mut self.last, current)
    }

    /// Name of the step that would be undone.
    pub fn back(&self) -> Option<&str> {
        self.past.last().map(|s| s.name.as_str())
    }

    /// Name of the step that would be done again.
    pub fn forth(&self) -> Option<&str> {
        self.future.last().map(|s| s.name.as_str())
    }

    /// Whether older steps than the kept ones were dropped.
    pub fn full(&self) -> bool {
        self.full
    }
}

fn turn<S>(
    from: &mut Vec<Step<S>>,
    to: &mut Vec<Step<S>>,
    last: &mut Option<(String, f64)>,
    current: S,
) -> Option<(S, String)> {
    *last = None;
    let step = from.pop()?;
    to.push(Step {
        stand: current,
        name: step.name.clone(),
    });
    Some((step.stand, step.name))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn note(h: &mut History<u32>, before: u32, place: Option<&str>, now: f64) {
        h.record(
            before,
            format!("from {before}"),
            place.map(Into::into),
            now,
            |first| format!("from {first} at once"),
        );
    }

    #[test]
    fn two_hundred_steps_go_back_and_forth() {
        let mut h = History::default();
        for i in 0..200 {
            note(&mut h, i, None, 0.0);
        }
        let mut at = 200;
        while let Some((stand, name)) = h.undo(at) {
            assert_eq!((stand, name), (at - 1, format!("from {}", at - 1)));
            at = stand;
        }
        assert_eq!((at, h.full()), (0, false));
        while let Some((stand, _)) = h.redo(at) {
            assert_eq!(stand, at + 1);
            at = stand;
        }
        assert_eq!(at, 200);
    }

    #[test]
    fn of_too_many_steps_the_oldest_go_and_it_is_told() {
        let mut h = History::default();
        for i in 0..MOST as u32 + 5 {
            note(&mut h, i, None, 0.0);
        }
        assert!(h.full());
        let mut at = MOST as u32 + 5;
        while let Some((stand, _)) = h.undo(at) {
            at = stand;
        }
        assert_eq!(at, 5);
    }

    #[test]
    fn keys_in_one_place_are_one_step_until_a_pause_another_place_or_an_undo() {
        let mut h = History::default();
        note(&mut h, 0, Some("sites"), 0.0);
        note(&mut h, 1, Some("sites"), 1000.0);
        note(&mut h, 2, Some("sites"), 2000.0);
        assert_eq!(h.back(), Some("from 0 at once"));
        note(&mut h, 3, Some("sites"), 9000.0);
        note(&mut h, 4, Some("weeks"), 9001.0);
        assert_eq!(h.undo(5).map(|s| s.0), Some(4));
        note(&mut h, 4, Some("weeks"), 9002.0);
        assert_eq!(h.undo(6).map(|s| s.0), Some(4));
        assert_eq!(h.undo(4).map(|s| s.0), Some(3));
        assert_eq!(h.undo(3).map(|s| s.0), Some(0));
        assert_eq!(h.undo(0), None);
    }

    #[test]
    fn a_new_step_ends_what_could_be_done_again() {
        let mut h = History::default();
        note(&mut h, 0, None, 0.0);
        h.undo(1);
        assert_eq!(h.forth(), Some("from 0"));
        note(&mut h, 0, None, 0.0);
        assert_eq!(h.forth(), None);
        assert_eq!(h.redo(1), None);
    }
}
