//! One simulated survey of the target.

use super::losses::Room;
use super::place;
use super::split::Split;
use super::weekly::Weekly;
use super::world::{Generator, World};
use numerics::draws::poisson;
use numerics::maths::exp;
use numerics::random::Stream;

/// One simulated survey. Site-year values stand at `s * years + y`.
#[derive(Clone, Debug, Default)]
pub struct Drawn {
    /// Target animals counted (from trap-weeks that were not lost).
    pub counts: Vec<f64>,
    /// Trap-weeks counted; 0 when all were lost.
    pub effort: Vec<f64>,
    /// Target animals killed each year, lost trap-weeks included.
    pub killed: Vec<f64>,
    /// By-catch killed, group by group, each year: `g * years + y`.
    pub bycatch: Vec<f64>,
}

impl Generator {
    /// Draws replicate `replicate` of `seed` in a world; by-catch only when asked for.
    pub fn draw(
        &self,
        seed: u64,
        replicate: u64,
        world: World,
        with_bycatch: bool,
        out: &mut Drawn,
    ) {
        self.survey(seed, replicate, world, with_bycatch, out, None);
    }

    /// Draws the very same survey as [`Generator::draw`] and tells the target's catch week by week too: the weekly
    /// counts and efforts of a site-year add up to its total.
    pub fn draw_weekly(
        &self,
        seed: u64,
        replicate: u64,
        world: World,
        with_bycatch: bool,
        out: &mut Drawn,
        weekly: &mut Weekly,
    ) {
        weekly.clear(self.sites * self.years * self.season.len());
        self.survey(seed, replicate, world, with_bycatch, out, Some(weekly));
    }

    fn survey(
        &self,
        seed: u64,
        replicate: u64,
        world: World,
        with_bycatch: bool,
        out: &mut Drawn,
        mut weekly: Option<&mut Weekly>,
    ) {
        let stream = replicate * 2 + u64::from(world == World::Still);
        let mut rng = Stream::new(seed, stream);
        let (sites, years) = (self.sites, self.years);
        out.counts.clear();
        out.effort.clear();
        out.killed.clear();
        out.killed.resize(years, 0.0);
        let effects = self.effects(&mut rng);
        let slope = if world == World::Change {
            self.slope
        } else {
            0.0
        };
        let mut points = Vec::new();
        let mut lost_means = vec![0.0; years];
        let mut room = Room::default();
        for s in 0..sites {
            for y in 0..years {
                self.points(&mut rng, s, y, &mut points);
                rng.go_to(place::CELLS, s as u32, y as u32);
                let z = rng.normal();
                let own = effects
                    .own
                    .get(s * years + y)
                    .copied()
                    .unwrap_or(self.site_year_sd * z);
                let mut response = self
                    .response
                    .as_ref()
                    .map_or(slope * y as f64, |r| r.log(s, y, world));
                if let Some(own_slope) = effects.slope.get(s) {
                    response += own_slope * y as f64;
                }
                response += self.drift * y as f64;
                let relative = exp(effects.site[s] + effects.year[y] + own + response);
                let base = self.target.rate * self.exposure * relative;
                let classes = effects.weeks.get(y).unwrap_or(&self.classes);
                let mut split = Split {
                    parts: weekly.is_some().then(Vec::new),
                    ..Split::default()
                };
                self.split(&mut rng, &points, classes, relative, &mut room, &mut split);
                let counted = poisson(&mut rng, base * split.counted);
                lost_means[y] += base * split.lost;
                out.counts.push(counted);
                out.effort.push(split.trap_weeks * self.exposure);
                out.killed[y] += counted;
                if let Some(weekly) = weekly.as_deref_mut() {
                    rng.go_to(place::WEEKLY, s as u32, y as u32);
                    self.share_out(&mut rng, classes, &split, counted, weekly);
                }
            }
        }
        // Of the lost only the kills of a year are wanted, and Poisson counts add up.
        for (y, (killed, mean)) in out.killed.iter_mut().zip(lost_means).enumerate() {
            if mean > 0.0 {
                rng.go_to(place::LOST, y as u32, 0);
                *killed += poisson(&mut rng, mean);
            }
        }
        out.bycatch.clear();
        if with_bycatch {
            for (g, group) in self.groups.iter().enumerate() {
                group.draw(&mut rng, g, sites, years, &mut out.bycatch);
            }
        }
    }
}
