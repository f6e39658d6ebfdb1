//! The fixed effects of the planned analysis.

use crate::generator::positions;
use crate::scenario::{Checked, Effect, Plan, Rows};

/// Covariates of each row, row-major. A row is a site-year (`s * years + y`) or a site's week of a year
/// (`(s * years + y) * weeks + w`).
///
/// Decline: 1 and the year, centred. Range shift: 1, x, x^2, centred year t, and x t, with x the position less the
/// transect's middle in quarters of its length (the scale). Rows of weeks add w and w^2, w the week less the run's
/// middle: a bell-shaped season is a parabola on the log scale. A column that would repeat another is left out (w^2
/// with two weeks, both with one).
#[derive(Clone, Debug)]
pub struct Covariates {
    /// Values, `columns` for each row.
    pub x: Vec<f64>,
    /// Fixed effects.
    pub columns: usize,
    /// Those of the season among them, the last ones.
    pub season: usize,
    /// Number of the column that holds the change.
    pub change: usize,
    /// Gradient units of one unit of x (1 without a gradient).
    pub scale: f64,
    /// Middle of the transect (0 without a gradient).
    pub centre: f64,
    /// Middle of the run of weeks.
    pub middle_week: f64,
}

impl Covariates {
    /// The covariates of a plan.
    pub fn new(scenario: &Checked, plan: &Plan) -> Self {
        let (sites, years) = (plan.sites as usize, plan.years as usize);
        let weekly = scenario.analysis.rows == Rows::Weeks;
        let (weeks, season) = if weekly {
            (plan.weeks, (plan.weeks as usize - 1).min(2))
        } else {
            (1, 0)
        };
        let mid = 0.5 * (years as f64 - 1.0);
        let half_run = 0.5 * (f64::from(plan.weeks) - 1.0);
        let (centre, scale, places) = match (&scenario.question.effect, &plan.transect) {
            (Effect::RangeShift(_), Some(t)) => (
                0.5 * (t.lowest + t.highest),
                0.25 * (t.highest - t.lowest),
                positions(plan),
            ),
            _ => (0.0, 1.0, Vec::new()),
        };
        let gradient = !places.is_empty();
        let mut x = Vec::new();
        for s in 0..sites {
            for y in 0..years {
                let t = y as f64 - mid;
                for w in 0..weeks {
                    if gradient {
                        let p = (places[s] - centre) / scale;
                        x.extend([1.0, p, p * p, t, p * t]);
                    } else {
                        x.extend([1.0, t]);
                    }
                    let w = f64::from(w) - half_run;
                    x.extend([w, w * w].iter().take(season));
                }
            }
        }
        let (own, change) = if gradient { (5, 4) } else { (2, 1) };
        Self {
            x,
            columns: own + season,
            season,
            change,
            scale,
            centre,
            middle_week: f64::from(plan.first_week) + half_run,
        }
    }

    /// The same without the column of the change.
    pub fn without_change(&self) -> Vec<f64> {
        let rows = self.x.chunks_exact(self.columns);
        let kept = |row: &[f64]| -> Vec<f64> {
            let columns = row.iter().enumerate();
            let kept = columns.filter(|(j, _)| *j != self.change);
            kept.map(|(_, v)| *v).collect()
        };
        rows.flat_map(kept).collect()
    }
}
