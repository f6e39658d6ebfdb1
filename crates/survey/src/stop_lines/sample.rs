//! What the premises say of one sample: the catch of one site's traps in one visit.
//!
//! In a week of a year, with weather and year the same for all sites, the count is Poisson about the sum over m traps of
//! mean x site x own year x point x gamma. Its relative variance beyond Poisson's is exact:
//!   1 + 1/K = e^(site^2 + site-year^2) (1 + ((1 + 1/k) e^(trap^2) - 1)/m).
//! The law of the count is taken as the negative binomial of the same mean and variance, with this K for its dispersion:
//! sites' differences are in it, so that it is smaller than the k of a trap-week. In the terms of mean crowding (Lloyd
//! 1967, Journal of Animal Ecology 36:1-30; Iwao 1968, Researches on Population Ecology 10:1-20) that is m* = m (1 + 1/K):
//! alpha 0, beta 1 + 1/K.

use crate::closed_form::{mean_factor, spread_of_catch};
use crate::scenario::Scenario;
use crate::season;
use models::sampling::{CountLaw, Spread};
use numerics::maths::exp;
use serde::Serialize;

/// Dispersions from here on are taken for Poisson.
const POISSON: f64 = 1e4;

/// One sample as the premises have it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Sample {
    /// Mean count, over sites and years and over the plan's weeks.
    pub mean: f64,
    /// Dispersion K of a sample, differences of sites included; `null` where the counts are as good as Poisson.
    pub k: Option<f64>,
    /// Mean crowding at a mean of 0.
    pub alpha: f64,
    /// Slope of mean crowding on the mean.
    pub beta: f64,
    /// By-catch killed by a sample, mean of all groups together.
    pub bycatch: f64,
}

impl Sample {
    /// Under the scenario's own plan.
    pub fn of(scenario: &Scenario) -> Self {
        let (p, plan) = (&scenario.premises, &scenario.plan);
        let t = &p.target;
        let traps = f64::from(plan.traps_per_site);
        // Trap-weeks of a visit, weighted by the mean season of the plan's weeks.
        let visit = |peak: f64, width: f64| {
            let weights = season::weights(plan, peak, width);
            let mean = weights.iter().sum::<f64>() / weights.len() as f64;
            traps * plan.exposure_days / 7.0 * mean
        };
        let square = |sd: f64| exp(sd * sd);
        let sites = square(t.site_sd.value) * square(t.site_year_sd.value);
        let one_trap = (1.0 + 1.0 / t.dispersion_k.value) * square(t.trap_sd.value);
        let beyond = sites * (1.0 + (one_trap - 1.0) / traps) - 1.0;
        let k = (beyond * POISSON > 1.0).then_some(1.0 / beyond);
        let bycatch = p.bycatch.iter().map(|g| {
            let (peak, width) = (g.season_peak_week.value, g.season_width_weeks.value);
            let factor = mean_factor(&[g.site_sd.value, g.year_sd.value]);
            g.catch_per_trap_week.value * factor * visit(peak, width)
        });
        Self {
            mean: t.catch_per_trap_week.value
                * mean_factor(&spread_of_catch(scenario))
                * visit(t.season_peak_week.value, t.season_width_weeks.value),
            k,
            alpha: 0.0,
            beta: 1.0 + k.map_or(0.0, |k| 1.0 / k),
            bycatch: bycatch.sum(),
        }
    }

    /// The law of a sample's count at a mean.
    pub fn law(&self, mean: f64) -> CountLaw {
        match self.k {
            Some(k) => CountLaw::NegativeBinomial { mean, k },
            None => CountLaw::Poisson { mean },
        }
    }

    /// How the variance goes with the mean.
    pub fn spread(&self) -> Spread {
        match self.k {
            Some(k) => Spread::NegativeBinomial { k },
            None => Spread::Poisson,
        }
    }
}
