//! One simulated survey of the target.

use super::bycatch::Killing;
use super::closing::{Closing, shares_upto};
use super::depletion::Depletion;
use super::extent::Extent;
use super::losses::Room;
use super::place;
use super::recorded::Tally;
use super::split::{Lost, Split};
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
    /// Trap-weeks counted; 0 when all were lost, or the site was not visited in the year.
    pub effort: Vec<f64>,
    /// Target animals killed each year, lost trap-weeks included.
    pub killed: Vec<f64>,
    /// By-catch killed, group by group, each year: `g * years + y`.
    pub bycatch: Vec<f64>,
    /// What `counts` would be on average over all surveys with the same effects of sites, years, traps and weeks: each
    /// count is a Poisson number about its part of it.
    pub expected: f64,
    /// Expected catch of a trap-week over all sites of the region in these years; NaN but for the question of a baseline.
    pub region: f64,
    /// The species recorded; `None` but for an inventory.
    pub recorded: Option<Tally>,
}

impl Drawn {
    fn clear(&mut self, years: usize) {
        self.counts.clear();
        self.effort.clear();
        self.killed.clear();
        self.killed.resize(years, 0.0);
        self.bycatch.clear();
        self.expected = 0.0;
        self.region = f64::NAN;
        self.recorded = None;
    }
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
        let out = std::slice::from_mut(out);
        let whole = [self.extent()];
        self.draw_parts(seed, replicate, world, with_bycatch, &whole, out, None);
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
        let (out, weekly) = (std::slice::from_mut(out), std::slice::from_mut(weekly));
        let whole = [self.extent()];
        self.draw_parts(
            seed,
            replicate,
            world,
            with_bycatch,
            &whole,
            out,
            Some(weekly),
        );
    }

    /// Draws the same survey once and tells each of `parts` of it by itself, in `out` (and week by week in `weekly`):
    /// just what a generator for so many sites and years would draw. Parts must be [held](Generator::holds).
    #[expect(
        clippy::too_many_arguments,
        reason = "those of a draw, and where each part goes"
    )]
    pub fn draw_parts(
        &self,
        seed: u64,
        replicate: u64,
        world: World,
        with_bycatch: bool,
        parts: &[Extent],
        out: &mut [Drawn],
        mut weekly: Option<&mut [Weekly]>,
    ) {
        for (weekly, part) in weekly.iter_mut().flat_map(|w| w.iter_mut()).zip(parts) {
            weekly.clear(part.sites * part.years * self.season.len());
        }
        let stream = replicate * 2 + u64::from(world == World::Still);
        let mut rng = Stream::new(seed, stream);
        let (sites, years) = (self.sites, self.years);
        for (out, part) in out.iter_mut().zip(parts) {
            out.clear(part.years);
        }
        let effects = self.effects(&mut rng);
        if self.tells_region {
            for (out, part) in out.iter_mut().zip(parts) {
                out.region = self.region_mean(&effects, part.years);
            }
        }
        let trapped = self.returns.trapped(&mut rng, sites);
        let mut points = Vec::new();
        let mut lost_means: Vec<Vec<f64>> = parts.iter().map(|p| vec![0.0; p.years]).collect();
        let mut room = Room::default();
        let mut week = Weekly::default();
        let mut occupied = vec![true; years];
        // What is trapped of each site-year where sites are closed, in weeks.
        let mut open = vec![0; self.closing.map_or(0, |_| sites * years)];
        let caught_upto = shares_upto(&self.season);
        let by_week = weekly.is_some() || self.closing.is_some();
        for s in 0..sites {
            if let Some(o) = &self.occupied {
                o.draw(&mut rng, s, world, &mut occupied);
            }
            // Share of the animals that earlier years' traps have left.
            let mut present = 1.0;
            for y in 0..years {
                self.points(&mut rng, s, y, &mut points);
                if !trapped.get(s * years + y).copied().unwrap_or(true) {
                    let weeks = self.season.len();
                    let weekly = weekly.as_deref_mut().unwrap_or_default();
                    not_visited((s, y), weeks, parts, out, weekly);
                    // Nothing is taken, and animals come back.
                    if let Some(d) = &self.depletion {
                        present = d.next(present, 1.0);
                    }
                    continue;
                }
                let pair = self.pair_year(&mut rng, s, y);
                rng.go_to(place::CELLS, s as u32, y as u32);
                let z = rng.normal();
                let own = effects
                    .own
                    .get(s * years + y)
                    .copied()
                    .unwrap_or(self.site_year_sd * z);
                let own = if self.pairs.is_some() {
                    self.with_pair(own, pair)
                } else {
                    own
                };
                let mut response = if occupied[y] {
                    self.response.log(s, y, world)
                } else {
                    f64::NEG_INFINITY
                };
                if let Some(own_slope) = effects.slope.get(s) {
                    response += own_slope * y as f64;
                }
                response += self.drift * y as f64;
                let relative = exp(effects.site[s] + effects.year[y] + own + response);
                let base = self.target.rate * self.exposure * relative;
                let classes = effects.weeks.get(y).unwrap_or(&self.classes);
                let mut split = Split {
                    parts: by_week.then(Vec::new),
                    ..Split::default()
                };
                // A share of losses of its own, drawn before the trap-weeks at its own place.
                let loss = self.returns.loss(&mut rng, s, y);
                if loss.is_some() {
                    rng.go_to(place::CELLS, s as u32, y as u32);
                    rng.normal();
                }
                let at = Lost {
                    share: loss,
                    base: relative,
                };
                self.split(&mut rng, &points, classes, at, &mut room, &mut split);
                let kept = match &self.depletion {
                    None => 1.0,
                    Some(d) => {
                        let hazard =
                            d.hazard * exp(self.drift * y as f64) * (split.counted + split.lost);
                        let kept = present * Depletion::kept(hazard);
                        present = d.next(present, Depletion::left(hazard));
                        kept
                    }
                };
                let expected = base * split.counted * kept;
                let mut counted = poisson(&mut rng, expected);
                let (mut trap_weeks, mut lost_mean) = (split.trap_weeks, base * split.lost * kept);
                if by_week {
                    week.clear(self.season.len());
                    rng.go_to(place::WEEKLY, s as u32, y as u32);
                    self.share_out(&mut rng, classes, &split, counted, &mut week);
                }
                if let Some(closing) = self.closing {
                    let weeks = closing.weeks_open(&week.counts);
                    open[s * years + y] = weeks;
                    Closing::close(&mut week, weeks);
                    counted = week.counts.iter().sum();
                    trap_weeks = week.effort.iter().sum::<f64>() / self.exposure;
                    lost_mean *= caught_upto[weeks];
                }
                // Late samples kill, and are not counted.
                let killed = counted;
                let mut expected = expected;
                if self.returns.is_late(&mut rng, s, y) {
                    (counted, trap_weeks, expected) = (0.0, 0.0, 0.0);
                    for list in [&mut week.counts, &mut week.effort] {
                        list.iter_mut().for_each(|v| *v = 0.0);
                    }
                }
                let holding = |part: &Extent| part.has(s, y);
                for ((part, out), lost) in parts.iter().zip(&mut *out).zip(&mut lost_means) {
                    if holding(part) {
                        lost[y] += lost_mean;
                        out.counts.push(counted);
                        out.effort.push(trap_weeks * self.exposure);
                        out.killed[y] += killed;
                        out.expected += expected;
                    }
                }
                if let Some(weekly) = weekly.as_deref_mut() {
                    for (weekly, _) in weekly.iter_mut().zip(parts).filter(|(_, p)| holding(p)) {
                        weekly.counts.extend_from_slice(&week.counts);
                        weekly.effort.extend_from_slice(&week.effort);
                    }
                }
            }
        }
        // Of the lost only the kills of a year are wanted, and Poisson counts add up.
        for (out, means) in out.iter_mut().zip(lost_means) {
            for (y, (killed, mean)) in out.killed.iter_mut().zip(means).enumerate() {
                if mean > 0.0 {
                    rng.go_to(place::LOST, y as u32, 0);
                    *killed += poisson(&mut rng, mean);
                }
            }
        }
        if let Some(community) = &self.community {
            for out in out.iter_mut() {
                out.recorded = Some(community.tally(&mut rng, out));
            }
        }
        if with_bycatch {
            for (g, group) in self.groups.iter().enumerate() {
                let killing = Killing {
                    open: &open,
                    visited: &trapped,
                };
                group.draw(&mut rng, g, self.extent(), killing, parts, out);
            }
        }
    }
}

/// A site-year that nobody traps: neither counts nor kills.
fn not_visited(
    (s, y): (usize, usize),
    weeks: usize,
    parts: &[Extent],
    out: &mut [Drawn],
    weekly: &mut [Weekly],
) {
    for (out, _) in out.iter_mut().zip(parts).filter(|(_, p)| p.has(s, y)) {
        out.counts.push(0.0);
        out.effort.push(0.0);
    }
    for (weekly, _) in weekly.iter_mut().zip(parts).filter(|(_, p)| p.has(s, y)) {
        for list in [&mut weekly.counts, &mut weekly.effort] {
            list.resize(list.len() + weeks, 0.0);
        }
    }
}
