//! The fixed effects of the planned analysis.

use crate::generator::positions;
use crate::scenario::{Checked, Effect, Plan};

/// Covariates of each site-year (row `s * years + y`), row-major.
///
/// Decline: 1 and the year, centred. Range shift: 1, x, x^2, centred year t, and x t, with x the position less the
/// transect's middle in quarters of its length (the scale).
#[derive(Clone, Debug)]
pub struct Covariates {
    /// Values, `columns` for each row.
    pub x: Vec<f64>,
    /// Fixed effects.
    pub columns: usize,
    /// Gradient units of one unit of x (1 without a gradient).
    pub scale: f64,
    /// Middle of the transect (0 without a gradient).
    pub centre: f64,
}

impl Covariates {
    /// The covariates of a plan.
    pub fn new(scenario: &Checked, plan: &Plan) -> Self {
        let (sites, years) = (plan.sites as usize, plan.years as usize);
        let mid = 0.5 * (years as f64 - 1.0);
        let mut x = Vec::new();
        match (&scenario.question.effect, &plan.transect) {
            (Effect::RangeShift(_), Some(t)) => {
                let (centre, scale) = (0.5 * (t.lowest + t.highest), 0.25 * (t.highest - t.lowest));
                for position in positions(plan) {
                    let p = (position - centre) / scale;
                    for y in 0..years {
                        let t = y as f64 - mid;
                        x.extend([1.0, p, p * p, t, p * t]);
                    }
                }
                Self {
                    x,
                    columns: 5,
                    scale,
                    centre,
                }
            }
            _ => {
                for _ in 0..sites {
                    for y in 0..years {
                        x.extend([1.0, y as f64 - mid]);
                    }
                }
                Self {
                    x,
                    columns: 2,
                    scale: 1.0,
                    centre: 0.0,
                }
            }
        }
    }
}
