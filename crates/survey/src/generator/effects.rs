//! The random effects of one survey: what sites, years, weeks and trap points have of their own.

use super::layout::correlate;
use super::place;
use super::world::Generator;
use crate::season::WeekClass;
use numerics::maths::exp;
use numerics::random::Stream;

/// Effects of one survey on the log scale. A list is empty where the world has no such effect, or where it is drawn
/// with its site-year.
pub(super) struct Effects {
    /// Site.
    pub site: Vec<f64>,
    /// Year, shared by all sites.
    pub year: Vec<f64>,
    /// A site's own change a year.
    pub slope: Vec<f64>,
    /// A site's own year, `s * years + y`; only when sites are correlated.
    pub own: Vec<f64>,
    /// Weeks of each year with their weather and their year's season, in the order of the plan's classes, each by itself;
    /// only when weather is shared or the season moves.
    pub weeks: Vec<Vec<WeekClass>>,
}

impl Generator {
    pub(super) fn effects(&self, rng: &mut Stream) -> Effects {
        let (sites, years) = (self.sites, self.years);
        rng.go_to(place::SITES, 0, 0);
        let mut site = self.over_sites(rng, self.target.site_sd);
        if self.pairs.is_some() {
            rng.go_to(place::PAIRS, 0, 0);
            for pair in site.chunks_mut(2) {
                let z = rng.normal();
                pair.iter_mut()
                    .for_each(|a| *a = self.with_pair(*a, self.target.site_sd * z));
            }
        }
        let slope = if self.site_slope_sd > 0.0 {
            rng.go_to(place::SLOPES, 0, 0);
            self.over_sites(rng, self.site_slope_sd)
        } else {
            Vec::new()
        };
        Effects {
            site,
            year: self.year_effects(rng),
            slope,
            own: match &self.factor {
                Some(factor) if self.site_year_sd > 0.0 => {
                    let mut own = vec![0.0; sites * years];
                    for y in 0..years {
                        let z: Vec<f64> = (0..sites)
                            .map(|s| {
                                rng.go_to(place::CELLS, s as u32, y as u32);
                                rng.normal()
                            })
                            .collect();
                        for (s, v) in correlate(factor, &z).into_iter().enumerate() {
                            own[s * years + y] = self.site_year_sd * v;
                        }
                    }
                    own
                }
                _ => Vec::new(),
            },
            weeks: self.weeks_of_years(rng),
        }
    }

    /// A site's own effect and that of its pair, each with the SD of sites, in one of the same SD.
    pub(super) fn with_pair(&self, own: f64, pair: f64) -> f64 {
        let common = self.pairs.unwrap_or(0.0);
        (1.0 - common).sqrt() * own + common.sqrt() * pair
    }

    /// The own year that a pair has in common; 0 without pairs.
    pub(super) fn pair_year(&self, rng: &mut Stream, s: usize, y: usize) -> f64 {
        if self.pairs.is_none() || self.site_year_sd == 0.0 {
            return 0.0;
        }
        rng.go_to(place::PAIR_YEARS, s as u32 / 2, y as u32);
        self.site_year_sd * rng.normal()
    }

    /// One effect for each site, correlated by distance where sites are.
    fn over_sites(&self, rng: &mut Stream, sd: f64) -> Vec<f64> {
        let z: Vec<f64> = (0..self.sites).map(|_| rng.normal()).collect();
        let z = match &self.factor {
            Some(factor) => correlate(factor, &z),
            None => z,
        };
        z.into_iter().map(|v| sd * v).collect()
    }

    /// U_1 = sd z_1, U_y = r U_(y-1) + sd sqrt(1 - r^2) z_y: every year has the SD sd.
    fn year_effects(&self, rng: &mut Stream) -> Vec<f64> {
        rng.go_to(place::YEARS, 0, 0);
        let (sd, r) = (self.target.year_sd, self.year_autocorrelation);
        let fresh = sd * (1.0 - r * r).sqrt();
        let mut before = None;
        (0..self.years)
            .map(|_| {
                let z = rng.normal();
                let now = before.map_or(sd * z, |u| r * u + fresh * z);
                before = Some(now);
                now
            })
            .collect()
    }

    /// Effects of the traps' points at a site in a year, unlogged: `out` is left empty when points do not differ, and
    /// as it is when points are the same as the year before.
    pub(super) fn points(&self, rng: &mut Stream, s: usize, y: usize, out: &mut Vec<f64>) {
        if self.trap_sd == 0.0 || (y > 0 && !self.new_points) {
            return;
        }
        if self.new_points {
            rng.go_to(place::NEW_TRAPS, s as u32, y as u32);
        } else {
            rng.go_to(place::TRAPS, s as u32, 0);
        }
        out.clear();
        out.extend((0..self.traps).map(|_| exp(self.trap_sd * rng.normal())));
    }
}
