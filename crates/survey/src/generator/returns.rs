//! Who and what does not come back: sites that drop out, samples that are late, losses that cluster.

use super::place;
use crate::scenario::{Checked, Plan};
use numerics::draws::gamma;
use numerics::maths::pow;
use numerics::random::Stream;

/// A share of losses is never drawn closer to 1 than this, so that its odds are finite.
const CLOSEST: f64 = 1e-9;

/// What comes back of a plan.
#[derive(Clone, Debug)]
pub(super) struct Returns {
    years: usize,
    /// Whether each site-year (`s * years + y`) is visited; empty when all are.
    visited: Vec<bool>,
    /// Share of sites that are still there a year later.
    stays: f64,
    /// Share of site-years whose samples are late.
    late: f64,
    /// Shapes of the beta law of a site-year's share of losses; `None` when all have the same share.
    clustered: Option<(f64, f64)>,
}

impl Returns {
    pub fn of(scenario: &Checked, plan: &Plan) -> Self {
        let p = &scenario.premises;
        let (loss, alike) = (p.trap_loss.value, p.departures.loss_clustering.value);
        let rest = (1.0 - alike) / alike;
        Self {
            years: plan.years as usize,
            visited: plan.visits_made(),
            stays: 1.0 - p.attrition.value,
            late: p.late_share.value,
            clustered: (loss > 0.0 && alike > 0.0).then_some((loss * rest, (1.0 - loss) * rest)),
        }
    }

    /// Every site is visited every year.
    pub fn all_visited(&self) -> bool {
        self.visited.is_empty()
    }

    /// Whether each site-year of `sites` sites is trapped in this survey; empty when all are. A site is there as long as
    /// its uniform number is below the chance to be there still, counted from its first year.
    pub fn trapped(&self, rng: &mut Stream, sites: usize) -> Vec<bool> {
        if self.stays >= 1.0 {
            return self.visited.clone();
        }
        let mut out = vec![true; sites * self.years];
        for (s, out) in out.chunks_exact_mut(self.years).enumerate() {
            if !self.visited.is_empty() {
                out.copy_from_slice(&self.visited[s * self.years..(s + 1) * self.years]);
            }
            rng.go_to(place::DROP_OUT, s as u32, 0);
            let own = rng.uniform();
            let first = out.iter().position(|v| *v).unwrap_or(0);
            for (y, out) in out.iter_mut().enumerate().skip(first + 1) {
                *out &= own < pow(self.stays, (y - first) as f64);
            }
        }
        out
    }

    /// Whether the samples of a site-year are late.
    pub fn is_late(&self, rng: &mut Stream, s: usize, y: usize) -> bool {
        if self.late == 0.0 {
            return false;
        }
        rng.go_to(place::LATE, s as u32, y as u32);
        rng.uniform() < self.late
    }

    /// Share of a site-year's trap-weeks that are lost on average; `None` when it is that of all.
    pub fn loss(&self, rng: &mut Stream, s: usize, y: usize) -> Option<f64> {
        let (a, b) = self.clustered?;
        rng.go_to(place::LOSS_SHARE, s as u32, y as u32);
        let (lost, kept) = (gamma(rng, a), gamma(rng, b));
        let share = if lost + kept > 0.0 {
            lost / (lost + kept)
        } else {
            // Both fell below the smallest number: then all or none is lost, with the shares of their shapes.
            f64::from(u8::from(rng.uniform() * (a + b) < a))
        };
        Some(share.clamp(f64::MIN_POSITIVE, 1.0 - CLOSEST))
    }
}
