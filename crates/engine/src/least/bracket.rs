//! Finding the first sufficient place of a rising list with few probes.

/// The search: `low` is the last place known too weak (-1 at first), `high` the first known sufficient (n at first).
#[derive(Clone, Debug)]
pub(crate) struct Bracket {
    low: i64,
    high: i64,
    n: i64,
    step: i64,
    guess: i64,
}

impl Bracket {
    /// A search over `n` places that begins at `guess`.
    pub fn new(n: usize, guess: usize) -> Self {
        let n = n as i64;
        Self {
            low: -1,
            high: n,
            n,
            step: 1,
            guess: (guess as i64).clamp(0, (n - 1).max(0)),
        }
    }

    /// The next place to probe; `None` when the answer is known.
    pub fn next(&self) -> Option<usize> {
        if self.high - self.low <= 1 {
            return None;
        }
        let probe = match (self.low, self.high) {
            (-1, h) if h == self.n => self.guess,
            (-1, h) => (h - self.step).max(0),
            (l, h) if h == self.n => (l + self.step).min(self.n - 1),
            (l, h) => (l + h) / 2,
        };
        Some(probe as usize)
    }

    /// Tells what the probed place is.
    pub fn tell(&mut self, place: usize, sufficient: bool) {
        let place = place as i64;
        let open = self.low == -1 || self.high == self.n;
        if sufficient {
            self.high = self.high.min(place);
            // A place below one thought too weak: the list is not quite rising, and what is sufficient counts.
            self.low = self.low.min(place - 1);
        } else {
            self.low = self.low.max(place);
        }
        let began = self.low > -1 || self.high < self.n;
        if open && began {
            self.step *= 2;
        }
    }

    /// The first sufficient place, once known; `None` when no place is.
    pub fn found(&self) -> Option<usize> {
        (self.high < self.n).then_some(self.high as usize)
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
