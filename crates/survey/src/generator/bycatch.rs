//! By-catch: the same count model, with the group's own rate, spread and season, and no trend.

use super::place;
use super::world::Spread;
use crate::scenario::{Bycatch, Plan};
use crate::season::{self, WeekClass};
use numerics::draws::{gamma, poisson};
use numerics::maths::exp;
use numerics::random::Stream;

/// One by-catch group under one plan.
#[derive(Clone, Debug)]
pub(super) struct Group {
    spread: Spread,
    classes: Vec<WeekClass>,
    exposure: f64,
    traps: u32,
}

impl Group {
    pub fn new(group: &Bycatch, plan: &Plan) -> Self {
        Self {
            spread: Spread {
                rate: group.catch_per_trap_week.value,
                k: group.dispersion_k.value,
                site_sd: group.site_sd.value,
                year_sd: group.year_sd.value,
            },
            classes: season::classes(
                plan,
                group.season_peak_week.value,
                group.season_width_weeks.value,
            ),
            exposure: plan.exposure_days / 7.0,
            traps: plan.traps_per_site,
        }
    }

    /// Adds the yearly kills of group `g` to `out`.
    pub fn draw(&self, rng: &mut Stream, g: usize, sites: usize, years: usize, out: &mut Vec<f64>) {
        let from = out.len();
        out.resize(from + years, 0.0);
        if self.spread.rate == 0.0 {
            return;
        }
        let g = g as u16;
        rng.go_to(place::GROUP_SITES + g, 0, 0);
        let site: Vec<f64> = (0..sites)
            .map(|_| self.spread.site_sd * rng.normal())
            .collect();
        rng.go_to(place::GROUP_YEARS + g, 0, 0);
        let year: Vec<f64> = (0..years)
            .map(|_| self.spread.year_sd * rng.normal())
            .collect();
        let k = self.spread.k;
        for s in 0..sites {
            for y in 0..years {
                rng.go_to(place::GROUP_CELLS + g, s as u32, y as u32);
                let base = self.spread.rate * self.exposure * exp(site[s] + year[y]);
                let mut sum = 0.0;
                for class in &self.classes {
                    sum += class.weight / k * gamma(rng, k * f64::from(self.traps * class.weeks));
                }
                out[from + y] += poisson(rng, base * sum);
            }
        }
    }
}
