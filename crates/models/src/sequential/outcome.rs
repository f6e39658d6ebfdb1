//! Where walks end.

use super::design::Sides;
use super::fraction::Fractions;
use super::lines::Lines;
use super::walk::Walk;

/// The share of walks that ends in each way at each look.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    fractions: Vec<f64>,
    /// Beyond the upper line.
    pub above: Vec<f64>,
    /// Beyond the upper line on the other side; 0 where there is one side.
    pub below: Vec<f64>,
    /// Stopped for futility; 0 at the last look.
    pub futile: Vec<f64>,
}

impl Outcome {
    pub(super) fn of(fractions: &Fractions, means: &[f64], sides: Sides, lines: &Lines) -> Self {
        let mut walk = Walk::new(fractions.all(), means, sides);
        let (mut above, mut below, mut futile) = (Vec::new(), Vec::new(), Vec::new());
        for k in 0..fractions.looks() {
            let look = lines.look(k);
            above.push(walk.above(look.upper));
            below.push(match sides {
                Sides::One => 0.0,
                Sides::Two => walk.below(-look.upper),
            });
            futile.push(walk.futile(look));
            walk.pass(look);
        }
        Self {
            fractions: fractions.all().to_vec(),
            above,
            below,
            futile,
        }
    }

    /// Share of walks that find a change, on either side.
    pub fn found(&self) -> f64 {
        self.found_on_its_side() + self.found_on_the_other()
    }

    /// Share of walks that find a change above.
    pub fn found_on_its_side(&self) -> f64 {
        self.above.iter().sum()
    }

    /// Share of walks that find one below.
    pub fn found_on_the_other(&self) -> f64 {
        self.below.iter().sum()
    }

    /// Share of walks that end at each look, for whatever reason; at the last all that are left.
    pub fn ends(&self) -> Vec<f64> {
        let mut left = 1.0;
        let looks = self.above.len();
        (0..looks)
            .map(|k| {
                let ends = if k + 1 == looks {
                    left
                } else {
                    self.above[k] + self.below[k] + self.futile[k]
                };
                left -= ends;
                ends
            })
            .collect()
    }

    /// Mean over walks of what each look costs, `costs` being what has been spent by each look (information, years,
    /// animals or money).
    pub fn expected(&self, costs: &[f64]) -> f64 {
        self.ends().iter().zip(costs).map(|(e, c)| e * c).sum()
    }

    /// Mean information at the end, as a share of the final one.
    pub fn expected_information(&self) -> f64 {
        self.expected(&self.fractions)
    }
}
