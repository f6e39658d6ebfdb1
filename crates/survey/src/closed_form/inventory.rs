//! The share of a community that a survey records, and how surely it is the wanted one.
//!
//! Among n individuals the species i with the share p_i is missed with chance q_i = (1 - p_i)^n. What recording it counts
//! for is w_i (p_i for coverage, 1/S for species), so that the share recorded has the mean sum w_i (1 - q_i) and nearly the
//! variance sum w_i^2 q_i (1 - q_i) - n (sum w_i p_i q_i)^2 (Holst 1979, J. Multivar. Anal. 9:549-557, from memory; the
//! last term is what a fixed n takes off, nil for samples). The share given n is taken as normal but for its skewness, by
//! Edgeworth's first term (Feller 1971, An Introduction to Probability Theory II, XVI.4, from memory; the skewness is that
//! of samples), and n as lognormal with the mean and variance of the total catch, averaged over by Gauss-Hermite quadrature. Of a community told by incidences alone n is the
//! number of samples and p_i the chance to be in one.
//!
//! The total's variance: two trap-weeks drawn from the survey have what they share of sites, years, trap points and weeks in
//! common, E of the product of their means over the square of the mean being exp(sum of the shared variances), times (1 +
//! 1/k)/(1 - loss) for one with itself. Left out: sites' own slopes.

use super::{expected_toll, mean_correlation};
use crate::inventory::Pilot;
use crate::scenario::{Checked, Effect, Plan, Recorded};
use crate::season;
use numerics::maths::{exp, ln_1p, pow};
use numerics::quadrature::normal_points;
use numerics::root::bracketed;
use numerics::special::normal;

const POINTS: usize = 15;

/// The community believed in, its equal species put together.
pub(super) struct Believed {
    /// How many species, what recording one counts for, and its share or chance.
    groups: Vec<(f64, f64, f64)>,
    /// One species' part of the share, of which there are only whole ones; 0 for coverage.
    step: f64,
    /// Trap-weeks of a sample; `None` where individuals are counted.
    sample: Option<f64>,
}

impl Believed {
    /// Of the scenario; empty for other questions.
    pub fn new(scenario: &Checked) -> Self {
        let empty = Self {
            groups: Vec::new(),
            step: 0.0,
            sample: None,
        };
        let (Effect::Inventory(asked), Some(community)) =
            (&scenario.question.effect, &scenario.premises.community)
        else {
            return empty;
        };
        let Ok(pilot) = Pilot::of(community) else {
            return empty;
        };
        let mut species = pilot.species(asked.of);
        let step = match asked.of {
            Recorded::Coverage => 0.0,
            Recorded::Species => 1.0 / species.len() as f64,
        };
        species.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut groups: Vec<(f64, f64, f64)> = Vec::new();
        for (p, weight) in species {
            match groups.last_mut() {
                Some((n, _, of)) if *of == p => *n += 1.0,
                _ => groups.push((1.0, weight, p)),
            }
        }
        Self {
            groups,
            step,
            sample: pilot.trap_weeks_per_sample(),
        }
    }

    /// The share recorded among n: mean, SD and skewness of what is missed.
    fn among(&self, n: f64) -> (f64, f64, f64) {
        let (mut missed, mut variance, mut third, mut taken) = (0.0, 0.0, 0.0, 0.0);
        for &(species, weight, p) in &self.groups {
            // None is missed of a species that is in every sample, but for none taken.
            let q = if n > 0.0 { exp(n * ln_1p(-p)) } else { 1.0 };
            missed += species * weight * q;
            let square = species * weight * weight * q * (1.0 - q);
            variance += square;
            third += weight * square * (1.0 - 2.0 * q);
            taken += species * weight * p * q;
        }
        if self.sample.is_none() {
            variance -= n * taken * taken;
        }
        // All but certain is certain: its cube would be no number.
        let sd = variance.max(0.0).sqrt();
        let sd = if sd > 1e-12 { sd } else { 0.0 };
        let skewness = if sd > 0.0 {
            third / (sd * sd * sd)
        } else {
            0.0
        };
        (1.0 - missed, sd, skewness)
    }
}

/// The share that a plan records: for each state of the total its weight, the share's mean and SD, and the skewness of
/// what is missed.
pub(super) struct Share {
    states: Vec<(f64, f64, f64, f64)>,
    step: f64,
}

impl Share {
    /// Under a plan.
    pub fn new(scenario: &Checked, plan: &Plan, believed: &Believed) -> Self {
        let loss = scenario.premises.trap_loss.value;
        let (mean, square) = match believed.sample {
            None => {
                let mean = expected_toll(scenario, plan).target * (1.0 - loss);
                (mean, relative_variance(scenario, plan) + 1.0 / mean)
            }
            Some(trap_weeks) => {
                let set = f64::from(plan.sites)
                    * f64::from(plan.traps_per_site)
                    * f64::from(plan.weeks)
                    * f64::from(plan.years);
                // Only whole samples count: on average half a one is left over where losses make the number vary.
                let samples = set * plan.exposure_days / 7.0 * (1.0 - loss) / trap_weeks;
                let over = if loss > 0.0 && trap_weeks * 7.0 > plan.exposure_days {
                    0.5
                } else {
                    samples - (samples + 1e-9).floor()
                };
                ((samples - over).max(0.0), loss / ((1.0 - loss) * set))
            }
        };
        let sd = ln_1p(square).sqrt();
        let points = if sd > 0.0 && sd.is_finite() {
            normal_points(POINTS)
        } else {
            &[(0.0, 1.0)]
        };
        let states = points
            .iter()
            .map(|&(z, weight)| {
                let n = if sd.is_finite() {
                    mean * exp(sd * z - 0.5 * sd * sd)
                } else {
                    mean
                };
                let (share, sd, skewness) = believed.among(n);
                (weight, share, sd, skewness)
            })
            .collect();
        Self {
            states,
            step: believed.step,
        }
    }

    /// Chance that the share is not reached, and that it is.
    fn chances(&self, wanted: f64) -> (f64, f64) {
        // Whole species: those that are needed, and half a step for the normal law's want of them.
        let wanted = if self.step > 0.0 {
            (((wanted - 1e-9) / self.step).ceil() - 0.5) * self.step
        } else {
            wanted
        };
        let (mut misses, mut reaches) = (0.0, 0.0);
        for &(weight, share, sd, skewness) in &self.states {
            let z = if sd > 0.0 {
                (share - wanted) / sd
            } else if share >= wanted {
                f64::INFINITY
            } else {
                f64::NEG_INFINITY
            };
            // Edgeworth's first term.
            let skewed = if z.is_finite() {
                skewness / 6.0 * (z * z - 1.0) * normal::pdf(z)
            } else {
                0.0
            };
            misses += weight * (normal::cdf(-z) + skewed).clamp(0.0, 1.0);
            reaches += weight * (normal::cdf(z) - skewed).clamp(0.0, 1.0);
        }
        (misses, reaches)
    }

    /// Chance that the share is reached.
    pub fn power(&self, wanted: f64) -> f64 {
        self.chances(wanted).1
    }

    /// What plans are ranked by: -ln of the chance that the share is not reached. Of plans that cannot reach it, next to
    /// nothing, in the order of what they record.
    pub fn delta(&self, wanted: f64) -> f64 {
        let (misses, reaches) = self.chances(wanted);
        let delta = if reaches < 0.5 {
            -ln_1p(-reaches)
        } else {
            -numerics::maths::ln(misses.max(f64::MIN_POSITIVE))
        };
        let mean: f64 = self.states.iter().map(|(w, share, ..)| w * share).sum();
        delta.max(1e-300 * mean.max(1e-6))
    }

    /// The share that is reached with this chance.
    pub fn reached_with(&self, chance: f64) -> f64 {
        if self.step > 0.0 {
            let species = (1.0 / self.step).round() as u64;
            let (mut low, mut high) = (0, species + 1);
            while low + 1 < high {
                let middle = low + (high - low) / 2;
                if self.power(middle as f64 * self.step) >= chance {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            return low as f64 * self.step;
        }
        let over = |share: f64| self.power(share) - chance;
        if over(0.0) <= 0.0 {
            return 0.0;
        }
        if over(1.0) >= 0.0 {
            return 1.0;
        }
        bracketed(over, 0.0, 1.0, 1e-9)
    }
}

/// Variance of the total's mean over the square of its mean, the Poisson law of counts left out.
fn relative_variance(scenario: &Checked, plan: &Plan) -> f64 {
    let (t, d) = (&scenario.premises.target, &scenario.premises.departures);
    let square = |v: f64| v * v;
    let weights = season::weights(plan, t.season_peak_week.value, t.season_width_weeks.value);
    let sum: f64 = weights.iter().sum();
    // Chances that two trap-weeks, drawn by their means, are from one site, trap, week.
    let same_week = weights.iter().map(|w| square(w / sum)).sum::<f64>();
    let (sites, traps, years) = (
        f64::from(plan.sites),
        f64::from(plan.traps_per_site),
        plan.years,
    );
    // What the sites have in common beyond themselves, as one correlation.
    let others = if sites > 1.0 {
        (mean_correlation(scenario, plan) * sites - 1.0) / (sites - 1.0)
    } else {
        0.0
    };
    let counted = 1.0 - scenario.premises.trap_loss.value;
    let clumps = (1.0 + 1.0 / t.dispersion_k.value) / counted - 1.0;
    let mut second = 0.0;
    for lag in 0..years {
        let pairs = f64::from(years - lag) * if lag == 0 { 1.0 } else { 2.0 };
        let same_year = lag == 0;
        let shared = square(t.year_sd.value) * pow(d.year_autocorrelation.value, f64::from(lag));
        let own = if same_year {
            square(t.site_year_sd.value)
        } else {
            0.0
        };
        let weather = if same_year {
            same_week * exp(square(d.shared_week_sd.value)) + 1.0 - same_week
        } else {
            1.0
        };
        let site = square(t.site_sd.value) + own;
        let keeps_points = same_year || plan.trap_points.is_same();
        let point = if keeps_points {
            exp(square(t.trap_sd.value))
        } else {
            1.0
        };
        // One trap: its weeks, one with itself with its clumps.
        let one_trap = point
            * if same_year {
                weather + same_week * exp(square(d.shared_week_sd.value)) * clumps
            } else {
                1.0
            };
        let one_site = (one_trap + (traps - 1.0) * weather) / traps;
        let of_sites =
            (exp(site) * one_site + (sites - 1.0) * exp(others * site) * weather) / sites;
        second += pairs * exp(shared) * of_sites;
    }
    second / square(f64::from(years)) - 1.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A species that is in every sample is missed of no samples alone.
    #[test]
    fn nothing_is_recorded_of_nothing() {
        let believed = Believed {
            groups: vec![(2.0, 0.25, 1.0), (1.0, 0.5, 0.3)],
            step: 0.0,
            sample: Some(1.0),
        };
        assert_eq!(believed.among(0.0), (0.0, 0.0, 0.0));
        let (share, sd, _) = believed.among(1.0);
        assert!((share - 0.65).abs() < 1e-15 && (sd - 0.5 * 0.21f64.sqrt()).abs() < 1e-15);
    }
}
