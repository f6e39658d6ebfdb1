//! Which sites are occupied in which year.
//!
//! A site goes from occupied to empty and back by a chain with the stated shares of occupied sites: of the occupied
//! ones the share e is left from year to year, of the empty ones the share c is taken, psi' = psi (1 - e) + (1 - psi)
//! c. e is the premise, or as much more as a fall needs, or as much less as there are empty sites to be taken.

use super::edge::EdgeSites;
use super::place;
use super::world::World;
use crate::closed_form::truth;
use crate::scenario::{Checked, Effect, Plan, Seasons, log_odds, share_of};
use numerics::random::Stream;

/// By what sites are occupied.
#[derive(Clone, Debug)]
pub(crate) enum Occupied {
    /// Chances from year to year, the same at all sites.
    Chains {
        /// In the world of change.
        change: Chain,
        /// In the other.
        still: Chain,
    },
    /// Where they stand from an edge.
    Edge(EdgeSites),
}

/// One world's chances.
#[derive(Clone, Debug)]
pub(crate) struct Chain {
    first: f64,
    /// For each further year of trapping: the chance that an occupied site still is, and that an empty one is taken.
    next: Vec<(f64, f64)>,
}

/// The chances of one year to the next that lead from the share `a` to `b`.
fn step(a: f64, b: f64, left: f64) -> (f64, f64) {
    // Not so few that more are occupied than can be, not so many that there are not enough empty ones to be taken.
    let fewest = ((a - b) / a).max(0.0);
    let most = ((1.0 - b) / a).min(1.0);
    let left = left.max(fewest).min(most);
    (
        1.0 - left,
        ((b - a * (1.0 - left)) / (1.0 - a)).clamp(0.0, 1.0),
    )
}

impl Chain {
    fn new(first: f64, slope: f64, left: f64, gaps: &[u32]) -> Self {
        let share = |year: u32| share_of(log_odds(first) + slope * f64::from(year));
        let mut year = 0;
        let next = gaps
            .iter()
            .map(|&gap| {
                // An occupied and an empty site, followed through the years without trapping.
                let (mut stays, mut taken) = (1.0, 0.0);
                for _ in 0..gap {
                    let (stay, take) = step(share(year), share(year + 1), left);
                    stays = stays * stay + (1.0 - stays) * take;
                    taken = taken * stay + (1.0 - taken) * take;
                    year += 1;
                }
                (stays, taken)
            })
            .collect();
        Self { first, next }
    }
}

impl Chain {
    /// The chances when the change has this value on the estimate's scale: slope a year of the log odds, or the last
    /// year's share less the first's. `None` where there is no such change, or without the question.
    fn of(scenario: &Checked, plan: &Plan, value: f64) -> Option<Self> {
        let Effect::Occupancy(o) = &scenario.question.effect else {
            return None;
        };
        let (p, visits) = (scenario.premises.occupancy.as_ref()?, plan.visits.as_ref()?);
        let (first, left) = (p.occupied.value, p.left_each_year.value);
        let (gaps, slope) = match visits.seasons {
            Seasons::EveryYear => (vec![1; plan.years as usize - 1], value),
            Seasons::FirstAndLast => {
                // A fraction of a year is taken for a whole one, the change as it is.
                let gap = (o.over_years.round() as u32).max(1);
                let last = first + value;
                if last <= 0.0 || last >= 1.0 {
                    return None;
                }
                let slope = (log_odds(last) - log_odds(first)) / f64::from(gap);
                (vec![gap], slope)
            }
        };
        Some(Self::new(first, slope, left, &gaps))
    }
}

/// Shares of occupied sites over the years of trapping when the change has some value.
#[derive(Clone, Debug)]
pub(crate) struct Course {
    /// Share in each year.
    pub shares: Vec<f64>,
    /// For each year but the last: the chance that an occupied site is so in the next, and that an empty one is.
    pub next: Vec<(f64, f64)>,
}

impl Course {
    /// When the change has this value on the estimate's scale; `None` where there is no such change, or without the
    /// question.
    pub fn of(scenario: &Checked, plan: &Plan, value: f64) -> Option<Self> {
        let chain = Chain::of(scenario, plan, value)?;
        let mut share = chain.first;
        let mut shares = vec![share];
        for (stay, take) in &chain.next {
            share = share * stay + (1.0 - share) * take;
            shares.push(share);
        }
        Some(Self {
            shares,
            next: chain.next,
        })
    }

    /// Covariance of a site's being occupied in two years.
    pub fn covariance(&self, y: usize, later: usize) -> f64 {
        let (a, mut here) = (self.shares[y], 1.0);
        for (stay, take) in &self.next[y..later] {
            here = here * stay + (1.0 - here) * take;
        }
        a * (here - self.shares[later])
    }
}

impl Occupied {
    /// Of the questions of occupancy and of an edge under a plan; `None` for any other.
    pub fn of(scenario: &Checked, plan: &Plan) -> Option<Self> {
        if let Some(edge) = EdgeSites::of(scenario, plan, truth(scenario)) {
            return Some(Self::Edge(edge));
        }
        Some(Self::Chains {
            change: Chain::of(scenario, plan, truth(scenario))?,
            still: Chain::of(scenario, plan, 0.0)?,
        })
    }

    /// Whether where a site stands hangs on how many there are.
    pub fn is_placed(&self) -> bool {
        matches!(self, Self::Edge(_))
    }

    /// Whether site `s` is occupied in each year of trapping.
    pub fn draw(&self, rng: &mut Stream, s: usize, world: World, out: &mut Vec<bool>) {
        let chain = match (self, world) {
            (Self::Edge(edge), _) => return edge.draw(rng, s, world, out),
            (Self::Chains { change, .. }, World::Change) => change,
            (Self::Chains { still, .. }, World::Still) => still,
        };
        rng.go_to(place::OCCUPIED, s as u32, 0);
        out.clear();
        let mut here = rng.uniform() < chain.first;
        out.push(here);
        for &(stay, take) in &chain.next {
            here = rng.uniform() < if here { stay } else { take };
            out.push(here);
        }
    }
}

/// Expected share of occupied sites in each year of trapping in the world of change; `None` without the question.
pub(crate) fn shares(scenario: &Checked, plan: &Plan) -> Option<Vec<f64>> {
    if let Some(edge) = EdgeSites::of(scenario, plan, truth(scenario)) {
        return Some(edge.shares());
    }
    Course::of(scenario, plan, truth(scenario)).map(|c| c.shares)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whatever turnover is stated, the shares are those asked for; and where all years are independent, an occupied
    /// and an empty site have the same chance.
    #[test]
    fn steps_keep_the_shares() {
        for a in [0.05, 0.3, 0.6, 0.95] {
            for b in [0.04, 0.3, 0.5, 0.97] {
                for left in [0.0, 0.1, 0.4, 0.9, 1.0] {
                    let (stay, take) = step(a, b, left);
                    assert!((0.0..=1.0).contains(&stay) && (0.0..=1.0).contains(&take));
                    let next = a * stay + (1.0 - a) * take;
                    assert!((next - b).abs() < 1e-12, "{a} {b} {left}: {next}");
                }
                let (stay, take) = step(a, b, 1.0 - b);
                assert!((stay - b).abs() < 1e-12 && (take - b).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn shares_lead_to_the_end_over_a_gap() {
        let slope = (log_odds(0.3) - log_odds(0.6)) / 10.0;
        let chain = Chain::new(0.6, slope, 0.1, &[10]);
        let (stay, take) = chain.next[0];
        assert!((0.6 * stay + 0.4 * take - 0.3).abs() < 1e-12);
        // Sites that were occupied still are more often than others.
        assert!(stay > take + 0.05);
    }
}
