//! How precise a survey's mean catch is: the chance that its interval is as narrow as wanted.
//!
//! The relative variance V of a site's catch per trap-week, given the years, is exact in its parts on the arithmetic
//! scale (moments of lognormal and gamma numbers; the counts' part as Poisson). With Q the sum of squared weights of the
//! years, m traps, W effective weeks,
//!   1 + V = e^(site^2) [(1 - Q) P + Q e^(site-year^2) (P + e^(trap^2)/(m k W) + losses)] + 1/total,
//!   P = 1 + (e^(trap^2) - 1)/m,
//! where new trap points each year leave P out of the first term, and losses thin what is counted and leave a chance
//! choice of weeks and traps (simple random sampling without replacement, Cochran 1977, Sampling Techniques, section 2.6).
//!
//! The interval's half-width is sinh(t c) with c = s/(m sqrt n), so that it is narrow when the sample's s^2/m^2 is small.
//! For normal numbers that is V chi-square/(n - 1). Of skewed ones a survey of a few sites misses the rare rich site and
//! sees less scatter than there is; therefore s^2/m^2 is taken as T chi-square(nu)/nu, where T is that of a typical sample,
//! the n normal scores made lognormal with variance V, and nu the degrees of freedom that the delta method gives the
//! logarithm of s^2/m^2 in that sample (its fourth moment), both such that normal numbers give V and n - 1. Against
//! simulation (`tests/suite/baseline.rs`) the chance is within .06 up to a chance of a half; at one of .8 it is .07 to .12 too
//! hopeful where catches are skewed, .14 with an SD of sites of 1 and k .5.

use super::space::mean_correlation;
use super::{effect_size, mean_factor};
use crate::generator::rate;
use crate::scenario::{Checked, Plan, TrapPoints};
use crate::season;
use numerics::maths::{exp, exp_m1, ln, ln_1p};
use numerics::special::{chi_square, normal, student};

/// Half the width over the estimate of an interval from e^-r to e^r times it.
pub(crate) fn half_width(reach: f64) -> f64 {
    0.5 * (exp_m1(reach) - exp_m1(-reach))
}

/// The r of a half-width.
fn reach_of(half_width: f64) -> f64 {
    ln(half_width + (1.0 + half_width * half_width).sqrt())
}

/// What hangs on the weeks, years and exposure of a plan: the rest of a site's relative variance are traps.
#[derive(Clone, Copy, Debug)]
pub(super) struct OneSite {
    /// e^(SD^2) of sites, of their own years, of trap points.
    site: f64,
    own: f64,
    points: f64,
    same_points: bool,
    /// Sum of the products of the weights of two different years, and of squared weights, with what sites' own slopes do.
    apart: f64,
    squares: f64,
    k: f64,
    loss: f64,
    weeks: f64,
    effective_weeks: f64,
    /// 1 over the expected count of one trap without losses in all years.
    inverse_count: f64,
}

impl OneSite {
    /// Under the weeks, years and exposure of a plan.
    pub fn new(scenario: &Checked, plan: &Plan) -> Self {
        let (t, d) = (&scenario.premises.target, &scenario.premises.departures);
        let square = |sd: f64| exp(sd * sd);
        let classes = season::classes(plan, t.season_peak_week.value, t.season_width_weeks.value);
        let weather = exp_m1(d.shared_week_sd.value * d.shared_week_sd.value);
        let even = season::effective_weeks(&classes);
        let slope = d.site_slope_sd.value;
        let drift = d.log_drift();
        let grown: Vec<f64> = (0..plan.years)
            .map(|y| exp(drift * f64::from(y)) * mean_factor(&[slope * f64::from(y)]))
            .collect();
        let all: f64 = grown.iter().sum();
        let alike = |y: usize, z: usize| {
            exp(slope * slope * (y * z) as f64) * grown[y] * grown[z] / (all * all)
        };
        let n = grown.len();
        let squares: f64 = (0..n).map(|y| alike(y, y)).sum();
        let pairs = |y: usize| (0..y).map(|z| alike(y, z)).sum::<f64>();
        let apart: f64 = 2.0 * (0..n).map(pairs).sum::<f64>();
        // Good and bad years weigh more and less: E[sum u^2/(sum u)^2], as of uneven traps.
        let even_weights: f64 = grown.iter().map(|g| g * g).sum::<f64>() / (all * all);
        let uneven = square(t.year_sd.value);
        let weights = uneven / (1.0 / even_weights + uneven - 1.0);
        let rest = if even_weights < 1.0 {
            (1.0 - weights) / (1.0 - even_weights)
        } else {
            0.0
        };
        let sds = [
            t.site_sd.value,
            t.site_year_sd.value,
            t.trap_sd.value,
            t.year_sd.value,
            d.shared_week_sd.value,
        ];
        let count = rate(scenario)
            * mean_factor(&sds)
            * (plan.exposure_days / 7.0)
            * season::total(&classes)
            * all;
        Self {
            site: square(t.site_sd.value),
            own: square(t.site_year_sd.value),
            points: square(t.trap_sd.value),
            same_points: plan.trap_points == TrapPoints::Same,
            apart: apart * rest,
            squares: squares * weights / even_weights,
            k: t.dispersion_k.value,
            loss: scenario.premises.trap_loss.value,
            weeks: f64::from(plan.weeks),
            effective_weeks: (even + weather) / (1.0 + weather),
            inverse_count: (1.0 + (uneven - 1.0) / f64::from(plan.years)) / count,
        }
    }

    /// Relative variance of the catch per trap-week of a site with so many traps.
    pub fn relative_variance(&self, traps: u32) -> f64 {
        let m = f64::from(traps);
        let n = m * self.weeks;
        let lost = self.loss / (1.0 - self.loss);
        let thinner = (1.0 + lost / n) / (1.0 - self.loss);
        let points = 1.0 + (self.points - 1.0) / m;
        let within = self.weeks / self.effective_weeks * self.points - 1.0;
        let counted = points
            + self.points * thinner / (m * self.k * self.effective_weeks)
            + within * lost / n;
        let between = if self.same_points { points } else { 1.0 };
        let years = self.apart * between + self.squares * self.own * counted;
        self.site * years - 1.0 + self.inverse_count * thinner / m
    }

    /// Relative covariance of two sites whose effects have this correlation.
    fn covariance(&self, correlation: f64) -> f64 {
        let power = |e: f64| exp(correlation * ln(e));
        power(self.site) * (self.apart + self.squares * power(self.own)) - 1.0
    }
}

/// What a typical sample of some sites shows of their scatter.
#[derive(Clone, Debug)]
pub(super) struct Typical {
    sites: f64,
    /// Student's t of the interval.
    t: f64,
    /// By the SD of the logarithm in steps: log of T/V, and nu.
    rows: Vec<(f64, f64)>,
}

/// Step and number of steps of the SD of the logarithm; beyond the last there is no telling.
const STEP: f64 = 0.1;
const STEPS: usize = 40;

impl Typical {
    /// For so many sites, at the scenario's confidence.
    pub fn new(scenario: &Checked, sites: u32) -> Self {
        let n = f64::from(sites);
        let scores: Vec<f64> = (0..sites)
            .map(|i| normal::quantile((f64::from(i) + 0.5) / n))
            .collect();
        let square = scores.iter().map(|z| z * z).sum::<f64>();
        let sd = (square / (n - 1.0)).sqrt();
        let fourth: f64 = scores
            .iter()
            .map(|z| {
                let gap = z * z * n / square - 1.0;
                gap * gap
            })
            .sum();
        let row = |step: usize| {
            if step == 0 {
                return (0.0, n - 1.0);
            }
            let log_sd = STEP * step as f64;
            let catches: Vec<f64> = scores.iter().map(|z| exp(log_sd * z / sd)).collect();
            let mean = catches.iter().sum::<f64>() / n;
            let squares = catches.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>();
            let influence: f64 = catches
                .iter()
                .map(|x| {
                    let d = x - mean;
                    let i = d * d * n / squares - 1.0 - 2.0 * d / mean;
                    i * i
                })
                .sum();
            let seen = squares / (n - 1.0) / mean / mean;
            let nu = if sites > 2 {
                (n - 1.0) * fourth / influence
            } else {
                1.0
            };
            (ln(seen / exp_m1(log_sd * log_sd)), nu)
        };
        Self {
            sites: n,
            t: -student::quantile(0.5 * scenario.question.significance, n - 1.0),
            rows: (0..=STEPS).map(row).collect(),
        }
    }

    /// T and nu at a relative variance.
    fn at(&self, variance: f64) -> (f64, f64) {
        let place = (ln_1p(variance).sqrt() / STEP).min(STEPS as f64);
        let low = (place.floor() as usize).min(STEPS - 1);
        let share = place - low as f64;
        let (a, b) = (self.rows[low], self.rows[low + 1]);
        let between = |x: f64, y: f64| x + share * (y - x);
        (variance * exp(between(a.0, b.0)), between(a.1, b.1))
    }

    /// The chance of a half-width of at most this.
    pub fn chance(&self, variance: f64, half_width: f64) -> f64 {
        let (seen, nu) = self.at(variance);
        let c = reach_of(half_width) / self.t;
        chi_square::cdf(nu * self.sites * c * c / seen, nu)
    }

    /// The half-width that is reached with this chance.
    fn reached(&self, variance: f64, chance: f64) -> f64 {
        let (seen, nu) = self.at(variance);
        let c = (seen * chi_square::quantile(chance, nu) / nu / self.sites).sqrt();
        half_width(self.t * c)
    }

    /// What plans are ranked by: -ln of the chance of too wide an interval; where there is hardly a chance, a little more
    /// the narrower it is.
    pub fn delta(&self, variance: f64, wanted: f64) -> f64 {
        let chance = self.chance(variance, wanted);
        let little = 1e-290 * self.sites / (1.0 + variance);
        -ln_1p(-chance.min(1.0 - f64::EPSILON)) + little
    }
}

/// A site's relative variance as it shows between sites, and what two sites have in common of it, when sites have the
/// [mean correlation](mean_correlation) `alike`.
fn parts(one: &OneSite, sites: u32, traps: u32, alike: f64) -> (f64, f64) {
    let n = f64::from(sites);
    // Of two different sites.
    let correlation = (n * alike - 1.0) / (n - 1.0);
    let common = if correlation > 1e-12 {
        one.covariance(correlation)
    } else {
        0.0
    };
    (one.relative_variance(traps) - common, common)
}

/// A site's relative variance as it shows between sites that have the mean correlation `alike`.
pub(super) fn seen_variance(one: &OneSite, sites: u32, traps: u32, alike: f64) -> f64 {
    parts(one, sites, traps, alike).0
}

/// The preview of a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Precision {
    /// Chance that the interval is as narrow as wanted.
    pub chance: f64,
    /// Half-width over the mean that is reached with the wanted power.
    pub reached: f64,
    /// Standard error of the mean over the mean.
    pub se: f64,
    /// What plans are ranked by.
    pub delta: f64,
    /// Share of intervals that miss the truth, but for what skewed catches add.
    pub misses: f64,
}

/// Of a plan.
pub(super) fn precision(scenario: &Checked, plan: &Plan) -> Precision {
    let one = OneSite::new(scenario, plan);
    let alike = mean_correlation(scenario, plan);
    let (seen, common) = parts(&one, plan.sites, plan.traps_per_site, alike);
    let of_mean = seen / f64::from(plan.sites) + common;
    let typical = Typical::new(scenario, plan.sites);
    let inflation = (of_mean * f64::from(plan.sites) / seen).sqrt();
    let width = effect_size(scenario);
    Precision {
        chance: typical.chance(seen, width),
        reached: typical.reached(seen, scenario.question.wanted_power),
        se: of_mean.sqrt(),
        delta: typical.delta(seen, width),
        misses: if inflation > 1.0 {
            student::two_sided(typical.t / inflation, f64::from(plan.sites) - 1.0)
        } else {
            scenario.question.significance
        },
    }
}
