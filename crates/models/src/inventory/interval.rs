//! Intervals of the curves of species and coverage, by the bootstrap from a completed assemblage.
//!
//! Chao et al. (2014), Ecol. Monogr. 84:45-67, appendix; Chao & Jost (2015), Methods Ecol. Evol. 6:873-882: inventories of
//! the same size are drawn from a [`super::Completed`] assemblage, each makes its own curves, and the interval is the estimate -+ z
//! times the standard deviation over the draws. It holds the luck of what was caught; not what richness as a lower bound
//! misses (see [`super::curve::reach`]).

use super::completed::Complete;
use super::frequencies::Frequencies;
use super::{coverage, curve, place, richness};
use numerics::random::Stream;
use numerics::special::normal;

/// A value with what the bootstrap says of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The inventory's own value.
    pub value: f64,
    /// Standard deviation over the redrawn inventories; NaN with fewer than two.
    pub se: f64,
    /// Interval, low and high, held to what is possible: not below 0, and coverage not above 1.
    pub interval: (f64, f64),
}

/// Species and coverage expected at one size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Individuals (samples).
    pub size: f64,
    /// How far it lies from what was seen.
    pub reach: curve::Reach,
    /// Species.
    pub species: Estimate,
    /// Coverage.
    pub coverage: Estimate,
}

/// Inventories redrawn; (inventory, seed, replicates) determine them.
#[derive(Clone, Debug)]
pub struct Bootstrap {
    own: Frequencies,
    redrawn: Vec<Frequencies>,
}

impl Bootstrap {
    /// Draws as many inventories as `replicates`; 200 tell a standard error to about 5 %. Time goes with replicates times
    /// species, those reckoned unseen among them.
    pub fn new(inventory: &impl Complete, seed: u64, replicates: u32) -> Self {
        let completed = inventory.completed();
        let redrawn = (0..replicates)
            .map(|r| {
                let mut stream = Stream::new(seed, u64::from(r));
                stream.go_to(place::BOOTSTRAP, 0, 0);
                inventory.redraw(&completed, &mut stream)
            })
            .collect();
        Self {
            own: inventory.frequencies().clone(),
            redrawn,
        }
    }

    /// Any quantity of an inventory, with its interval at `level` (such as 0.95), held to `bounds`.
    pub fn estimate(
        &self,
        quantity: impl Fn(&Frequencies) -> f64,
        level: f64,
        bounds: (f64, f64),
    ) -> Estimate {
        let value = quantity(&self.own);
        let n = self.redrawn.len() as f64;
        let values: Vec<f64> = self.redrawn.iter().map(&quantity).collect();
        let mean = values.iter().sum::<f64>() / n;
        let squares: f64 = values.iter().map(|v| (v - mean) * (v - mean)).sum();
        let se = if n < 2.0 {
            f64::NAN
        } else {
            (squares / (n - 1.0)).sqrt()
        };
        let half = normal::quantile(0.5 + 0.5 * level) * se;
        let held = |x: f64| {
            if x.is_nan() {
                x
            } else {
                x.max(bounds.0).min(bounds.1)
            }
        };
        Estimate {
            value,
            se,
            interval: (held(value - half), held(value + half)),
        }
    }

    /// Both curves at each of these sizes, in their order.
    pub fn curve(&self, sizes: &[f64], level: f64) -> Vec<Point> {
        sizes
            .iter()
            .map(|&size| Point {
                size,
                reach: curve::reach(&self.own, size),
                species: self.estimate(|f| curve::species(f, size), level, (0.0, f64::INFINITY)),
                coverage: self.estimate(|f| coverage::at(f, size), level, (0.0, 1.0)),
            })
            .collect()
    }

    /// Chao1 (Chao2) by the bootstrap, beside the closed form of [`richness::estimated`].
    pub fn richness(&self, level: f64) -> Estimate {
        let all = |f: &Frequencies| f.species() + richness::unseen(f);
        self.estimate(all, level, (0.0, f64::INFINITY))
    }
}

#[cfg(test)]
mod tests {
    use super::super::frequencies::{Abundances, Incidences, data};
    use super::super::simulate::Community;
    use super::*;

    #[test]
    fn data_seed_and_replicates_determine_it() {
        let a = data::toy();
        let sizes = [5.0, 25.0, 50.0];
        let one = Bootstrap::new(&a, 3, 60).curve(&sizes, 0.95);
        assert_eq!(one, Bootstrap::new(&a, 3, 60).curve(&sizes, 0.95));
        assert_ne!(one, Bootstrap::new(&a, 4, 60).curve(&sizes, 0.95));
        // Fewer replicates are the first of many.
        let (few, many) = (Bootstrap::new(&a, 3, 7), Bootstrap::new(&a, 3, 60));
        assert_eq!(few.redrawn[..], many.redrawn[..7]);
    }

    /// The bootstrap's standard error of Chao1 is near the closed form of Chao (1987), a sixth below it, where species seen
    /// twice are not few (beetles of Colwell et al. 2012, J. Plant Ecol. 5:3-21: f2 of 17 and 10).
    #[test]
    fn near_the_closed_form() {
        for a in [data::beetles_second_growth(), data::beetles_old_growth()] {
            let closed = richness::estimated(a.frequencies()).se;
            let boot = Bootstrap::new(&a, 1, 2000).richness(0.95).se;
            assert!((boot / closed - 1.0).abs() < 0.2, "{closed} {boot}");
        }
    }

    #[test]
    fn intervals_are_about_the_curve_and_possible() {
        let i = Incidences::new(12, &[12, 9, 5, 5, 3, 2, 2, 1, 1, 1, 1]).unwrap();
        let b = Bootstrap::new(&i, 9, 300);
        let sizes = [1.0, 6.0, 12.0, 18.0, 24.0, 60.0];
        let points = b.curve(&sizes, 0.95);
        for (p, size) in points.iter().zip(sizes) {
            assert_eq!(p.size, size);
            assert_eq!(p.species.value, curve::species(i.frequencies(), size));
            assert_eq!(p.coverage.value, coverage::at(i.frequencies(), size));
            for (e, most) in [(p.species, f64::INFINITY), (p.coverage, 1.0)] {
                assert!(e.se > 0.0);
                assert!(e.interval.0 >= 0.0 && e.interval.0 < e.value);
                assert!(e.interval.1 > e.value && e.interval.1 <= most);
            }
        }
        assert!(points[4].species.se > points[2].species.se);
        assert_eq!(points[5].reach, curve::Reach::Beyond);
        let single = Bootstrap::new(&i, 9, 1).curve(&[6.0], 0.95);
        assert!(single[0].species.se.is_nan() && single[0].species.interval.0.is_nan());
    }

    /// Of 200 inventories from one community, the standard deviation of Chao1 against both standard errors' means: the
    /// closed form falls a tenth short of it, the bootstrap some more.
    #[test]
    fn both_standard_errors_are_near_the_truth() {
        let community = Community::log_normal(300, 1.5).unwrap();
        let (mut closed, mut boot, mut chao1) = (0.0, 0.0, Vec::new());
        let inventories = 200;
        for r in 0..inventories {
            let mut stream = Stream::new(77, r);
            let a = Abundances::new(&community.individuals(&mut stream, 900)).unwrap();
            let e = richness::estimated(a.frequencies());
            chao1.push(e.estimated);
            closed += e.se;
            boot += Bootstrap::new(&a, r, 100).richness(0.95).se;
        }
        let n = inventories as f64;
        let mean = chao1.iter().sum::<f64>() / n;
        let squares: f64 = chao1.iter().map(|c| (c - mean) * (c - mean)).sum();
        let sd = (squares / (n - 1.0)).sqrt();
        for se in [closed / n, boot / n] {
            assert!((se / sd - 1.0).abs() < 0.2, "{se} {sd}");
        }
    }

    /// One individual, or species all seen alike: nothing is made up.
    #[test]
    fn little_data() {
        let one = Abundances::new(&[1]).unwrap();
        let p = Bootstrap::new(&one, 1, 20).curve(&[1.0, 2.0], 0.95);
        assert_eq!((p[0].species.value, p[0].coverage.value), (1.0, 0.0));
        assert!(p[1].species.value.is_nan());
    }

    /// Of 300 inventories from one community, the intervals of expected species and coverage at half and at one and a
    /// half the size hold the true expectation in 95 of 100, give or take the normal approximation.
    #[test]
    fn intervals_hold_the_truth() {
        let community = Community::log_normal(80, 1.2).unwrap();
        let n = 400;
        let truth = |m: f64| {
            community.shares().iter().fold((0.0, 0.0), |(s, c), &p| {
                let missed = numerics::maths::pow(1.0 - p, m);
                (s + 1.0 - missed, c + p * (1.0 - missed))
            })
        };
        let sizes = [200.0, 400.0, 600.0];
        let mut hits = [[0.0; 2]; 3];
        let inventories = 300;
        for r in 0..inventories {
            let mut stream = Stream::new(77, r);
            let a = Abundances::new(&community.individuals(&mut stream, n)).unwrap();
            let points = Bootstrap::new(&a, r, 100).curve(&sizes, 0.95);
            for (hit, p) in hits.iter_mut().zip(&points) {
                let (s, c) = truth(p.size);
                for (hit, (e, t)) in hit.iter_mut().zip([(p.species, s), (p.coverage, c)]) {
                    *hit += f64::from(u8::from(e.interval.0 <= t && t <= e.interval.1));
                }
            }
        }
        for (hit, size) in hits.iter().zip(sizes) {
            for h in hit {
                let share = h / inventories as f64;
                assert!((0.9..=0.995).contains(&share), "{size}: {share}");
            }
        }
    }
}
