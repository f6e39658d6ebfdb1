//! Which sites are occupied on a gradient with an edge.
//!
//! A site has its own liking by the target, e: a logistic number. It is occupied in year y when e is below (edge in y -
//! its place)/width at an upper edge, or below its opposite at a lower one: with the chance that the logistic curve gives
//! it, and as long as the edge does not go by, for good. From one year to the next the stated share of sites draws its
//! number anew.

use super::place;
use super::placing::positions;
use super::world::World;
use crate::scenario::{Checked, Plan, share_of};
use numerics::random::Stream;

/// Sites along a gradient with an edge.
#[derive(Clone, Debug)]
pub(crate) struct EdgeSites {
    /// Place of each site.
    pub positions: Vec<f64>,
    /// 1 where sites empty upwards, -1 where they empty downwards.
    pub sign: f64,
    /// Where half of the sites are occupied in the first year.
    pub first: f64,
    /// Scale of the logistic curve.
    pub width: f64,
    /// Share of sites that draw their number anew each year.
    pub redrawn: f64,
    /// Move a year in the world of change.
    speed: f64,
    years: usize,
}

impl EdgeSites {
    /// Under a plan when the edge moves by so much a decade; `None` but for the question of an edge.
    pub fn of(scenario: &Checked, plan: &Plan, per_decade: f64) -> Option<Self> {
        let edge = scenario.premises.gradient.as_ref()?.edge.as_ref()?;
        Some(Self {
            positions: positions(scenario, plan),
            sign: scenario.edge()?,
            first: edge.place.value,
            width: edge.width.value,
            redrawn: edge.redrawn_each_year.value,
            speed: per_decade / 10.0,
            years: plan.years as usize,
        })
    }

    /// Chance that site `s` is occupied in year `y`.
    pub fn chance(&self, s: usize, y: usize, world: World) -> f64 {
        let moved = if world == World::Change {
            self.speed * y as f64
        } else {
            0.0
        };
        share_of(self.sign * (self.first + moved - self.positions[s]) / self.width)
    }

    /// Share of all sites that is occupied in each year of the world of change.
    pub fn shares(&self) -> Vec<f64> {
        let sites = self.positions.len();
        let one = |y| (0..sites).map(move |s| self.chance(s, y, World::Change));
        (0..self.years)
            .map(|y| one(y).sum::<f64>() / sites as f64)
            .collect()
    }

    /// Whether site `s` is occupied in each year.
    pub fn draw(&self, rng: &mut Stream, s: usize, world: World, out: &mut Vec<bool>) {
        rng.go_to(place::OCCUPIED, s as u32, 0);
        out.clear();
        let mut own = rng.uniform();
        for y in 0..self.years {
            if y > 0 {
                let (anew, other) = (rng.uniform(), rng.uniform());
                if anew < self.redrawn {
                    own = other;
                }
            }
            out.push(own < self.chance(s, y, world));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::read;

    /// Sites are occupied with the logistic curve's chance whatever share draws anew, for good where none does, and from
    /// year to year together as often as they should where some do.
    #[test]
    fn occupied_with_the_stated_chance() {
        let s = read(include_str!("../../../../demo-data/mountain-edge.json")).unwrap();
        let s = s.check().unwrap();
        for redrawn in [0.0, 0.3, 1.0] {
            let mut edge = EdgeSites::of(&s, &s.plan, 200.0).unwrap();
            edge.redrawn = redrawn;
            // A site where half are occupied in the fifth year.
            edge.positions = vec![1050.0 + 20.0 * 4.0];
            assert!((edge.chance(0, 4, World::Change) - 0.5).abs() < 1e-12);
            assert!(edge.chance(0, 4, World::Still) < 0.22);
            let n = 20_000;
            let (mut each, mut both, mut left) = ([0.0; 10], 0.0, 0u32);
            let mut years = Vec::new();
            for number in 0..n {
                let mut rng = Stream::new(8, number);
                edge.draw(&mut rng, 0, World::Change, &mut years);
                for (sum, here) in each.iter_mut().zip(&years) {
                    *sum += f64::from(u8::from(*here)) / n as f64;
                }
                both += f64::from(u8::from(years[3] && years[5])) / n as f64;
                left += u32::from(years.windows(2).any(|w| w[0] && !w[1]));
            }
            let near = |got: f64, want: f64| {
                let se = (want * (1.0 - want) / n as f64).sqrt();
                assert!((got - want).abs() < 4.0 * se, "{redrawn}: {got} {want}");
            };
            for (y, got) in each.iter().enumerate() {
                near(*got, edge.chance(0, y, World::Change));
            }
            let at = |y| edge.chance(0, y, World::Change);
            let (a, b) = (at(3), at(5));
            let kept = (1.0 - redrawn) * (1.0 - redrawn);
            near(both, a * b + kept * (a.min(b) - a * b));
            assert_eq!(left == 0, redrawn == 0.0);
        }
    }
}
