//! Finding the first sufficient place of a rising list with few probes.

use std::collections::BTreeMap;

/// The search, from what is known of the places told.
#[derive(Clone, Debug)]
pub(crate) struct Bracket {
    sufficient: BTreeMap<i64, bool>,
    n: i64,
    step: i64,
    guess: i64,
}

impl Bracket {
    /// A search over `n` places that begins at `guess`.
    pub fn new(n: usize, guess: usize) -> Self {
        let n = n as i64;
        Self {
            sufficient: BTreeMap::new(),
            n,
            step: 1,
            guess: (guess as i64).clamp(0, (n - 1).max(0)),
        }
    }

    /// The last place known too weak (-1 when none is) and the first one known sufficient (n when none is). A sufficient
    /// place below a weak one ends the search there: the list is not quite rising, and what is sufficient counts.
    fn ends(&self) -> (i64, i64) {
        let first = |(&place, &enough): (&i64, &bool)| enough.then_some(place);
        let high = self.sufficient.iter().find_map(first).unwrap_or(self.n);
        let mut weak = self.sufficient.iter().filter(|(_, enough)| !**enough);
        let low = weak.next_back().map_or(-1, |(&place, _)| place);
        (low.min(high - 1), high)
    }

    /// The next place to probe; `None` when the answer is known.
    pub fn next(&self) -> Option<usize> {
        let (low, high) = self.ends();
        if high - low <= 1 {
            return None;
        }
        let probe = match (low, high) {
            (-1, h) if h == self.n => self.guess,
            (-1, h) => (h - self.step).max(0),
            (l, h) if h == self.n => (l + self.step).min(self.n - 1),
            (l, h) => (l + h) / 2,
        };
        Some(probe as usize)
    }

    /// Tells what the probed place is; what was told of it before is taken back.
    pub fn tell(&mut self, place: usize, sufficient: bool) {
        let (low, high) = self.ends();
        let open = low == -1 || high == self.n;
        self.sufficient.insert(place as i64, sufficient);
        if open {
            self.step = self.step.saturating_mul(2);
        }
    }

    /// The first sufficient place, once known; `None` when no place is.
    pub fn found(&self) -> Option<usize> {
        let (_, high) = self.ends();
        (high < self.n).then_some(high as usize)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sufficient_place_below_a_weak_one_counts() {
        let mut b = Bracket::new(10, 5);
        b.tell(5, false);
        b.tell(6, true);
        assert_eq!(b.found(), Some(6));
        b.tell(4, true);
        assert_eq!((b.next(), b.found()), (None, Some(4)));
    }

    /// A place thought sufficient that turns out too weak sends the search on to the next one above.
    #[test]
    fn what_was_told_can_be_taken_back() {
        let mut b = Bracket::new(12, 5);
        b.tell(5, true);
        b.tell(3, false);
        b.tell(4, false);
        assert_eq!((b.next(), b.found()), (None, Some(5)));
        b.tell(5, false);
        assert_eq!(b.found(), None);
        while let Some(place) = b.next() {
            assert!(place > 5);
            b.tell(place, place >= 7);
        }
        assert_eq!(b.found(), Some(7));
        // And a last place thought too weak that suffices after all.
        let mut b = Bracket::new(3, 2);
        b.tell(2, false);
        assert_eq!((b.next(), b.found()), (None, None));
        b.tell(2, true);
        assert_eq!((b.next(), b.found()), (Some(0), Some(2)));
    }

    #[test]
    fn finds_every_place_from_every_guess() {
        for n in 1..30usize {
            for first in 0..=n {
                for guess in 0..n {
                    let mut b = Bracket::new(n, guess);
                    let mut probes = 0;
                    while let Some(p) = b.next() {
                        b.tell(p, p >= first);
                        probes += 1;
                        assert!(probes < 30);
                    }
                    assert_eq!(
                        b.found(),
                        (first < n).then_some(first),
                        "{n} {first} {guess}"
                    );
                }
            }
        }
    }
}
