//! Which trap-weeks are lost.

use crate::season::WeekClass;
use numerics::random::Stream;

/// The loss of the trap-weeks of a site-year, each with the same probability.
#[derive(Clone, Debug)]
pub(super) struct Losses {
    p: f64,
    total: u32,
    /// Probability that none is lost.
    none: f64,
}

/// Work space for the losses of a site-year, and how many were lost.
#[derive(Default)]
pub(super) struct Room {
    /// A mark for each trap-week; false between draws.
    marks: Vec<bool>,
    places: Vec<u32>,
    /// Lost by trap and class of weeks: `trap * classes + class`; all 0 when nothing was lost.
    lost: Vec<u32>,
    any: bool,
}

impl Room {
    /// Trap-weeks lost at place `trap * classes + class` of the last draw.
    #[inline]
    pub fn lost(&self, place: usize) -> u32 {
        if self.any { self.lost[place] } else { 0 }
    }
}

impl Losses {
    pub fn new(p: f64, total: u32) -> Self {
        let none = (0..total).fold(1.0, |mass, _| mass * (1.0 - p));
        Self { p, total, none }
    }

    /// Draws how many trap-weeks each trap lost of each of `classes`: first how many in all, then which ones, each as
    /// likely.
    pub fn draw(&self, rng: &mut Stream, classes: &[WeekClass], room: &mut Room) {
        if self.p == 0.0 {
            return;
        }
        let n = if self.none < TINY {
            binomial(rng, self.total, self.p)
        } else {
            by_inversion(rng, self.total, self.p, self.none)
        };
        room.any = n > 0;
        if n == 0 {
            return;
        }
        room.marks.resize(self.total as usize, false);
        room.places.clear();
        while (room.places.len() as u32) < n {
            let one = (rng.uniform() * f64::from(self.total)) as u32;
            if !std::mem::replace(&mut room.marks[one as usize], true) {
                room.places.push(one);
            }
        }
        let weeks: u32 = classes.iter().map(|c| c.weeks).sum();
        room.lost.clear();
        room.lost
            .resize((self.total / weeks) as usize * classes.len(), 0);
        for &one in &room.places {
            room.marks[one as usize] = false;
            let (trap, mut week) = ((one / weeks) as usize, one % weeks);
            let mut class = 0;
            while week >= classes[class].weeks {
                week -= classes[class].weeks;
                class += 1;
            }
            room.lost[trap * classes.len() + class] += 1;
        }
    }
}

/// Below this the distribution function cannot be summed from its mass at 0.
const TINY: f64 = 1e-290;

/// A binomial number of successes in `n` trials by inversion of the distribution function: one uniform.
pub(super) fn binomial(rng: &mut Stream, n: u32, p: f64) -> u32 {
    let none = (0..n).fold(1.0, |mass, _| mass * (1.0 - p));
    if none < TINY {
        // Too many trials for the mass at 0: by halves, which are independent.
        return binomial(rng, n / 2, p) + binomial(rng, n - n / 2, p);
    }
    by_inversion(rng, n, p, none)
}

fn by_inversion(rng: &mut Stream, n: u32, p: f64, none: f64) -> u32 {
    let u = rng.uniform();
    let odds = p / (1.0 - p);
    let (mut mass, mut below) = (none, none);
    let mut count = 0;
    while u > below && count < n {
        count += 1;
        mass *= f64::from(n - count + 1) / f64::from(count) * odds;
        below += mass;
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pins the draws: a change here changes the result of every saved scenario with lost traps.
    #[test]
    fn binomial_value_stability() {
        let mut rng = Stream::new(2026, 7);
        rng.go_to(1, 2, 3);
        let of = [(1, 0.1), (24, 0.3), (24, 0.07), (5300, 0.4), (60, 0.95)];
        let drawn = of.map(|(n, p)| [0; 4].map(|_| binomial(&mut rng, n, p)));
        let pinned = [
            [1, 1, 0, 0],
            [10, 5, 7, 7],
            [4, 0, 2, 1],
            [2116, 2105, 2113, 2159],
            [58, 55, 53, 59],
        ];
        assert_eq!(drawn, pinned);
    }

    #[test]
    fn binomial_moments() {
        for (i, (n, p)) in [(1u32, 0.1), (24, 0.3), (5300, 0.4)]
            .into_iter()
            .enumerate()
        {
            let mut rng = Stream::new(3, i as u64);
            let m = 20_000;
            let draws: Vec<f64> = (0..m)
                .map(|_| f64::from(binomial(&mut rng, n, p)))
                .collect();
            let mean = draws.iter().sum::<f64>() / f64::from(m);
            let var = draws.iter().map(|d| (d - mean) * (d - mean)).sum::<f64>() / f64::from(m);
            let (want, spread) = (f64::from(n) * p, f64::from(n) * p * (1.0 - p));
            assert!((mean - want).abs() < 4.0 * (spread / f64::from(m)).sqrt());
            assert!((var / spread - 1.0).abs() < 0.05, "{n} {p}: {var} {spread}");
        }
    }

    /// Every trap-week is lost as often as it should be, and two of them together too: three traps, a class of one
    /// week and one of two.
    #[test]
    fn each_trap_week_is_lost_independently() {
        let class = |weeks| WeekClass { weight: 1.0, weeks };
        let classes = [class(1), class(2)];
        let losses = Losses::new(0.3, 9);
        let mut rng = Stream::new(4, 0);
        let mut room = Room::default();
        let (n, mut lost, mut two) = (60_000, [0.0; 6], 0.0);
        for _ in 0..n {
            losses.draw(&mut rng, &classes, &mut room);
            for (place, lost) in lost.iter_mut().enumerate() {
                *lost += f64::from(room.lost(place));
            }
            two += f64::from(u8::from(room.lost(0) > 0 && room.lost(5) == 2));
        }
        let near = |got: f64, weeks: f64, p: f64| {
            let n = f64::from(n) * weeks;
            assert!(
                (got - n * p).abs() < 4.5 * (n * p * (1.0 - p)).sqrt(),
                "{got}"
            );
        };
        for (place, &lost) in lost.iter().enumerate() {
            near(lost, 1.0 + (place % 2) as f64, 0.3);
        }
        near(two, 1.0, 0.3 * 0.3 * 0.3);
        assert!(room.marks.iter().all(|m| !m));
    }
}
