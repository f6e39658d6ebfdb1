//! Where a walk goes on at a look.

use super::design::Sides;

/// Statistics are taken to lie within this of their mean: beyond it are 1e-15 of them.
pub(super) const FARTHEST: f64 = 8.0;

/// The lines of one look. `futility` is `None` where none is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Look {
    pub upper: f64,
    pub futility: Option<f64>,
}

impl Look {
    /// The intervals between the lines in which the walk goes on: with two sides and a futility line above 0, one to
    /// either side of the wedge; none where the lines meet.
    pub fn going_on(self, sides: Sides) -> Vec<(f64, f64)> {
        let all = match (sides, self.futility) {
            (Sides::One, None) => vec![(f64::NEG_INFINITY, self.upper)],
            (Sides::One, Some(f)) => vec![(f, self.upper)],
            (Sides::Two, Some(f)) if f > 0.0 => vec![(-self.upper, -f), (f, self.upper)],
            (Sides::Two, _) => vec![(-self.upper, self.upper)],
        };
        all.into_iter().filter(|(low, high)| low < high).collect()
    }

    /// The interval of a stop for futility; `None` where there is none.
    pub fn futile(self, sides: Sides) -> Option<(f64, f64)> {
        let f = self.futility?;
        match sides {
            Sides::One => Some((f64::NEG_INFINITY, f.min(self.upper))),
            Sides::Two if f > 0.0 => Some((-f.min(self.upper), f.min(self.upper))),
            Sides::Two => None,
        }
    }
}
