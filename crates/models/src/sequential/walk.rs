//! The recursion: what share of walks leaves where at each look, and the density of those that go on.

use super::design::Sides;
use super::grid::points;
use super::region::Look;
use numerics::special::normal;

/// A walk of statistics before a look: the density of those that have gone on, as points of the look before with their
/// masses.
#[derive(Clone, Debug)]
pub(super) struct Walk<'a> {
    fractions: &'a [f64],
    means: &'a [f64],
    sides: Sides,
    /// The look that comes next.
    next: usize,
    /// Statistics at the look before, and the share of walks at each; before the first look none is needed.
    going_on: Vec<(f64, f64)>,
}

impl<'a> Walk<'a> {
    /// Before the first look. `means` are the statistics' means at each look.
    pub fn new(fractions: &'a [f64], means: &'a [f64], sides: Sides) -> Self {
        Self {
            fractions,
            means,
            sides,
            next: 0,
            going_on: Vec::new(),
        }
    }

    /// Mean and standard deviation of the next statistic given that of the look before.
    fn law(&self, before: f64) -> (f64, f64) {
        let k = self.next;
        let pull = (self.fractions[k - 1] / self.fractions[k]).sqrt();
        let mean = self.means[k] + pull * (before - self.means[k - 1]);
        (mean, (1.0 - pull * pull).sqrt())
    }

    /// Share of walks that come to the next look and lie in an interval there.
    pub fn within(&self, low: f64, high: f64) -> f64 {
        if low >= high {
            return 0.0;
        }
        let share = |mean: f64, sd: f64| {
            // By the tails on the interval's own side of the mean, so that small shares keep their digits.
            let (a, b) = ((low - mean) / sd, (high - mean) / sd);
            if a > 0.0 {
                normal::cdf(-a) - normal::cdf(-b)
            } else {
                normal::cdf(b) - normal::cdf(a)
            }
        };
        if self.next == 0 {
            return share(self.means[0], 1.0);
        }
        let of = |&(z, mass): &(f64, f64)| {
            let (mean, sd) = self.law(z);
            mass * share(mean, sd)
        };
        self.going_on.iter().map(of).sum()
    }

    /// Share of walks that come to the next look and lie above a line there.
    pub fn above(&self, line: f64) -> f64 {
        self.within(line, f64::INFINITY)
    }

    /// Share of walks that come to the next look and lie below a line there.
    pub fn below(&self, line: f64) -> f64 {
        self.within(f64::NEG_INFINITY, line)
    }

    /// Share beyond the upper line, on both sides where there are two.
    pub fn beyond(&self, line: f64) -> f64 {
        match self.sides {
            Sides::One => self.above(line),
            Sides::Two => self.above(line) + self.below(-line),
        }
    }

    /// Share that a futility line stops at the next look.
    pub fn futile(&self, look: Look) -> f64 {
        look.futile(self.sides)
            .map_or(0.0, |(low, high)| self.within(low, high))
    }

    /// Goes past the next look; those that lie beyond its lines stay behind.
    pub fn pass(&mut self, look: Look) {
        let k = self.next;
        if k + 1 >= self.fractions.len() {
            self.going_on.clear();
            return;
        }
        let pull = (self.fractions[k] / self.fractions[k + 1]).sqrt();
        // What the next look adds, on this look's scale; and what this one has added, in whose steps its density bends.
        let adds = (1.0 - pull * pull).sqrt() / pull;
        let added = if k == 0 {
            1.0
        } else {
            (1.0 - self.fractions[k - 1] / self.fractions[k]).sqrt()
        };
        let width = adds.min(added);
        let grid = points(&look.going_on(self.sides), self.means[k], width);
        let density = |z: f64| -> f64 {
            if k == 0 {
                return normal::pdf(z - self.means[0]);
            }
            let of = |&(before, mass): &(f64, f64)| {
                let (mean, sd) = self.law(before);
                mass * normal::pdf((z - mean) / sd) / sd
            };
            self.going_on.iter().map(of).sum()
        };
        self.going_on = grid.into_iter().map(|(z, w)| (z, w * density(z))).collect();
        self.next += 1;
    }
}
