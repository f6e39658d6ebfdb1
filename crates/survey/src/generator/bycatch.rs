//! By-catch: the same count model, with the group's own rate, spread and season, and no trend; and other species that
//! are asked about, which change as the target does ([`crate::scenario::Killed`]).
//!
//! Only the kills of a year are wanted, and Poisson counts add up: the year's mean is summed over sites, weeks and
//! their gamma numbers, and one count is drawn for it.

use super::closing::shares_upto;
use super::draw::Drawn;
use super::extent::Extent;
use super::gammas::Gammas;
use super::place;
use super::response::Response;
use super::seasons::{MovingSeason, shifts};
use super::world::{Spread, World};
use crate::closed_form::grown;
use crate::scenario::{Checked, Killed, Plan};
use crate::season::{self, Moving};
use numerics::draws::poisson;
use numerics::maths::exp;
use numerics::random::Stream;

/// One by-catch group under one plan.
#[derive(Clone, Debug)]
pub(super) struct Group {
    spread: Spread,
    gammas: Gammas,
    classes: Vec<Class>,
    /// Share of the season's catch in the first so many weeks.
    upto: Vec<f64>,
    /// What the question says of the catch and, by year, what departures do to its mean; `None` for by-catch.
    follows: Option<(Response, Vec<f64>)>,
    /// Where the season moves: the season, and each of the plan's weeks with its mean catch for one unit of the gamma
    /// number of `traps` trap-weeks at the season's peak.
    moving: Option<(MovingSeason, Vec<u32>, Class)>,
}

/// Trap-weeks of one site and year that share a law: how many, and the mean catch for one unit of their gamma number
/// at the median site and year.
#[derive(Clone, Copy, Debug)]
struct Class {
    trap_weeks: u32,
    unit: f64,
}

/// Which traps kill, and for how long.
#[derive(Clone, Copy, Debug)]
pub(super) struct Killing<'a> {
    /// Weeks that are trapped of each site-year (`s * years + y`) where sites are closed early; empty otherwise.
    pub open: &'a [usize],
    /// Whether each site-year is trapped at all; empty when all are.
    pub visited: &'a [bool],
}

impl Group {
    pub fn new(scenario: &Checked, killed: &Killed, plan: &Plan) -> Self {
        let group = &*killed.group;
        let follows = killed
            .asked_about
            .then(|| (Response::of(scenario, plan), grown(scenario, plan.years)));
        let spread = Spread {
            rate: group.catch_per_trap_week.value,
            k: group.dispersion_k.value,
            site_sd: group.site_sd.value,
            year_sd: group.year_sd.value,
        };
        let season = season::classes(
            plan,
            group.season_peak_week.value,
            group.season_width_weeks.value,
        );
        let unit = spread.rate * plan.exposure_days / 7.0 / spread.k;
        let classes: Vec<Class> = season
            .iter()
            .map(|class| Class {
                trap_weeks: plan.traps_per_site * class.weeks,
                unit: unit * class.weight,
            })
            .collect();
        let weights = season::weights(
            plan,
            group.season_peak_week.value,
            group.season_width_weeks.value,
        );
        let moving = Moving::of(&scenario.premises.departures).map(|moving| {
            let season = MovingSeason {
                moving,
                peak: group.season_peak_week.value,
                width: group.season_width_weeks.value,
            };
            let trap_weeks = plan.traps_per_site;
            (season, plan.open_weeks(), Class { trap_weeks, unit })
        });
        Self {
            moving,
            upto: shares_upto(&weights),
            spread,
            gammas: Gammas::new(spread.k, classes.iter().map(|c| c.trap_weeks)),
            classes,
            follows,
        }
    }

    /// The weeks of a year by themselves, where the season moves.
    fn moved(&self, year: usize, z: f64) -> Option<Vec<Class>> {
        let (season, weeks, peak) = self.moving.as_ref()?;
        let of_week = |&week: &u32| Class {
            trap_weeks: peak.trap_weeks,
            unit: peak.unit * season.weight(week, year, z),
        };
        Some(weeks.iter().map(of_week).collect())
    }

    /// Adds the yearly kills of group `g` in each of `parts` of the `whole` to its draw. Of a
    /// year that ends early the kill is the share that the season has in its weeks, on average. Only the world of change
    /// is drawn.
    pub fn draw(
        &self,
        rng: &mut Stream,
        g: usize,
        whole: Extent,
        killing: Killing,
        parts: &[Extent],
        out: &mut [Drawn],
    ) {
        let from: Vec<usize> = out.iter().map(|out| out.bycatch.len()).collect();
        for ((out, from), part) in out.iter_mut().zip(&from).zip(parts) {
            out.bycatch.resize(from + part.years, 0.0);
        }
        if self.spread.rate == 0.0 {
            return;
        }
        let g = g as u16;
        rng.go_to(place::GROUP_SITES + g, 0, 0);
        let site: Vec<f64> = (0..whole.sites)
            .map(|_| exp(self.spread.site_sd * rng.normal()))
            .collect();
        rng.go_to(place::GROUP_YEARS + g, 0, 0);
        let year: Vec<f64> = (0..whole.years)
            .map(|_| exp(self.spread.year_sd * rng.normal()))
            .collect();
        let shifts = match &self.moving {
            Some(_) => shifts(rng, whole.years),
            None => vec![0.0; whole.years],
        };
        // The mean over the first so many sites, from 0.
        let mut means = vec![0.0; whole.sites + 1];
        for (y, effect) in year.into_iter().enumerate() {
            rng.go_to(place::GROUP_CELLS + g, y as u32, 0);
            let moved = self.moved(y, shifts[y]);
            let classes = moved.as_ref().unwrap_or(&self.classes);
            let mut mean = 0.0;
            for (s, (site, upto)) in site.iter().zip(&mut means[1..]).enumerate() {
                let at = s * whole.years + y;
                if !killing.visited.get(at).copied().unwrap_or(true) {
                    *upto = mean;
                    continue;
                }
                let mut sum = 0.0;
                for class in classes {
                    sum += class.unit * self.gammas.draw(rng, class.trap_weeks);
                }
                if let Some(&weeks) = killing.open.get(at) {
                    sum *= self.upto[weeks];
                }
                if let Some((response, grown)) = &self.follows {
                    sum *= exp(response.log(s, y, World::Change)) * grown[y];
                }
                mean += site * sum;
                *upto = mean;
            }
            let of = out.iter_mut().zip(&from).zip(parts);
            for ((out, from), part) in of.filter(|(_, part)| y < part.years) {
                // At a place of its own, so that it has the same numbers whatever was drawn for the sites.
                rng.go_to(place::GROUP_CELLS + g, y as u32, 1);
                out.bycatch[from + y] = poisson(rng, effect * means[part.sites]);
            }
        }
    }
}
