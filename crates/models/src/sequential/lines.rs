//! The lines of a design.

use super::design::Sides;
use super::region::Look;
use numerics::special::{normal, student};

/// Upper and futility lines on the scale of the standardised statistic, look by look.
#[derive(Clone, Debug, PartialEq)]
pub struct Lines {
    /// What the statistic must exceed.
    pub upper: Vec<f64>,
    /// Below what it is stopped without; `None` where no line is drawn, and at the last look, where all end.
    pub futility: Vec<Option<f64>>,
}

impl Lines {
    pub(super) fn look(&self, k: usize) -> Look {
        Look {
            upper: self.upper[k],
            futility: self.futility[k],
        }
    }

    /// The same without futility lines.
    pub fn without_futility(&self) -> Self {
        Self {
            upper: self.upper.clone(),
            futility: vec![None; self.upper.len()],
        }
    }

    /// The nominal levels: the chance that a statistic without drift lies beyond the upper line at each look, looks before
    /// left out of account; both sides together where there are two.
    pub fn nominal(&self, sides: Sides) -> Vec<f64> {
        let of = |&c: &f64| sides.number() * normal::cdf(-c);
        self.upper.iter().map(of).collect()
    }
}

/// A line for a statistic that has Student's t law with `df` degrees of freedom, by equal tails: the value that t exceeds as
/// often as a standard normal number exceeds `line` (z to p to t; Jennison & Turnbull 2000, section 3.8: the significance
/// level approach). Infinite degrees give the line back.
pub fn on_t_scale(line: f64, df: f64) -> f64 {
    if df.is_infinite() || !line.is_finite() {
        return line;
    }
    // From the upper tail, which keeps its digits.
    let size = -student::quantile(normal::cdf(-line.abs()), df);
    if line < 0.0 { -size } else { size }
}
