//! What a baseline is of: the expected catch of a trap-week over all sites of the region.

use super::effects::Effects;
use super::world::Generator;
use crate::closed_form::mean_factor;
use numerics::maths::exp;

impl Generator {
    /// Expected catch of a trap-week over all sites that could have been chosen, their own years and trap points, in the
    /// first `years` years of trapping and their weeks: given what these years, and the weather of their weeks, have for
    /// all sites alike. The catch is that of the traps, a drift of theirs included.
    pub(super) fn region_mean(&self, effects: &Effects, years: usize) -> f64 {
        let weeks = self.season.len() as f64;
        let of_year = |y: usize| {
            let classes = effects.weeks.get(y).unwrap_or(&self.classes);
            let season: f64 = classes.iter().map(|c| c.weight * f64::from(c.weeks)).sum();
            let at = y as f64;
            let grown = exp(effects.year[y] + self.drift * at);
            grown * mean_factor(&[self.site_slope_sd * at]) * season / weeks
        };
        let spread = [self.target.site_sd, self.site_year_sd, self.trap_sd];
        let mean = (0..years).map(of_year).sum::<f64>() / years as f64;
        self.target.rate * mean_factor(&spread) * mean
    }
}
