//! The weeks of each year by themselves: with the weather that all traps share, and with a season that moves.

use super::place;
use super::world::Generator;
use crate::season::{Moving, WeekClass, weight};
use numerics::maths::exp;
use numerics::random::Stream;

/// A group's season over the plan's weeks, in years that have it earlier or later.
#[derive(Clone, Debug)]
pub(super) struct MovingSeason {
    pub moving: Moving,
    pub peak: f64,
    pub width: f64,
}

impl MovingSeason {
    /// Weight of a week in a year whose own shift is `z` SDs.
    pub fn weight(&self, week: u32, year: usize, z: f64) -> f64 {
        let peak = self.peak - self.moving.shift(year, z);
        weight(f64::from(week), peak, self.width)
    }
}

/// Each year's own shift in SDs: the same for target and by-catch, whatever else is drawn.
pub(super) fn shifts(rng: &mut Stream, years: usize) -> Vec<f64> {
    rng.go_to(place::SEASON, 0, 0);
    (0..years).map(|_| rng.normal()).collect()
}

impl Generator {
    /// Empty where all years have the same weeks. The weather of each week of each year has its place by its number in
    /// the calendar, whatever other weeks the plan has.
    pub(super) fn weeks_of_years(&self, rng: &mut Stream) -> Vec<Vec<WeekClass>> {
        if self.shared_week_sd == 0.0 && self.moving.is_none() {
            return Vec::new();
        }
        let shifts = match self.moving {
            Some(_) => shifts(rng, self.years),
            None => vec![0.0; self.years],
        };
        let mut of_year = |y: usize, z: f64| -> Vec<WeekClass> {
            let weeks = self.order.iter().map(|&w| {
                let week = self.open_weeks[w];
                let season = self.moving.as_ref();
                let mut weight = season.map_or(self.season[w], |m| m.weight(week, y, z));
                if self.shared_week_sd > 0.0 {
                    rng.go_to(place::WEATHER, y as u32, week);
                    weight *= exp(self.shared_week_sd * rng.normal());
                }
                WeekClass { weight, weeks: 1 }
            });
            weeks.collect()
        };
        let years = shifts.into_iter().enumerate();
        years.map(|(y, z)| of_year(y, z)).collect()
    }
}
