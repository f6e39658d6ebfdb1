//! How likely it is to catch any of the target at an occupied site: from the law of the catch.
//!
//! Given the effects of site, year and trap point, a trap-week is empty with chance (1 + mu/k)^-k (negative binomial),
//! or lost with the share of losses; the effects are averaged over by Gauss-Hermite quadrature. Weather shared in a week
//! is taken as if it were the site's own year.

use super::mean_factor;
use crate::generator::rate;
use crate::scenario::{Checked, Plan};
use crate::season;
use numerics::maths::{exp, ln, ln_1p, pow};
use numerics::quadrature::lognormal_points;

/// Points of quadrature over the effects of a site in a year.
const SITE_POINTS: usize = 21;
/// Points over the effect of a trap's point.
const TRAP_POINTS: usize = 9;

/// Chances at an occupied site in one year.
#[derive(Clone, Debug)]
pub(crate) struct Detection {
    /// For 0 to all weeks: chance that nothing is caught in the first so many.
    pub none_upto: Vec<f64>,
    /// For each week: chance that something is caught.
    pub each: Vec<f64>,
    /// For each week: the expected catch where nothing was caught before it, over the whole expected catch of a year.
    pub catch_before: Vec<f64>,
    /// For each week: its expected catch, over that of a year.
    pub catch: Vec<f64>,
    /// For each week: its expected catch where nothing was caught in the first one, over that of a year.
    pub catch_without_first: Vec<f64>,
}

impl Detection {
    /// Under a plan, at the catch of the first year.
    pub fn new(scenario: &Checked, plan: &Plan) -> Self {
        Self::scaled(scenario, plan, 1.0)
    }

    /// The same at so many times that catch.
    pub fn scaled(scenario: &Checked, plan: &Plan, factor: f64) -> Self {
        let t = &scenario.premises.target;
        let d = &scenario.premises.departures;
        let square = |v: f64| v * v;
        let site_sd = (square(t.site_sd.value)
            + square(t.year_sd.value)
            + square(t.site_year_sd.value)
            + square(d.shared_week_sd.value))
        .sqrt();
        let (k, loss) = (t.dispersion_k.value, scenario.premises.trap_loss.value);
        let (peak, width) = (t.season_peak_week.value, t.season_width_weeks.value);
        let season = season::weights(plan, peak, width);
        let weeks = season.len();
        let traps = f64::from(plan.traps_per_site);
        let base = factor * rate(scenario) * plan.exposure_days / 7.0;
        let total = season.iter().sum::<f64>() * mean_factor(&[site_sd, t.trap_sd.value]);
        let points = lognormal_points(t.trap_sd.value, TRAP_POINTS);
        let mut out = Self {
            none_upto: vec![0.0; weeks + 1],
            each: vec![0.0; weeks],
            catch_before: vec![0.0; weeks],
            catch: vec![0.0; weeks],
            catch_without_first: vec![0.0; weeks],
        };
        for (site, weight) in lognormal_points(site_sd, SITE_POINTS) {
            // One trap's chances, averaged over its point: none so far, none this week; and its effect where none so far.
            let (mut none, mut this) = (vec![0.0; weeks + 1], vec![0.0; weeks]);
            let (mut effect, mut effect_first) = (vec![0.0; weeks], 0.0);
            for &(point, w) in &points {
                let mut so_far = 1.0;
                none[0] += w;
                for (i, season) in season.iter().enumerate() {
                    let mean = base * season * site * point;
                    let empty = loss + (1.0 - loss) * exp(-k * ln_1p(mean / k));
                    this[i] += w * empty;
                    effect[i] += w * point * so_far;
                    so_far *= empty;
                    none[i + 1] += w * so_far;
                    if i == 0 {
                        effect_first += w * point * empty;
                    }
                }
            }
            let others = |one: f64| pow(one, traps - 1.0);
            for i in 0..weeks {
                let share = weight * site * season[i] / total;
                out.none_upto[i] += weight * pow(none[i], traps);
                out.each[i] += weight * (1.0 - pow(this[i], traps));
                out.catch[i] += share * points.iter().map(|(p, w)| p * w).sum::<f64>();
                out.catch_before[i] += share * effect[i] * others(none[i]);
                out.catch_without_first[i] += share * effect_first * others(this[0]);
            }
            out.none_upto[weeks] += weight * pow(none[weeks], traps);
        }
        out
    }

    /// Chance that an occupied site's year shows it.
    pub fn of_a_year(&self) -> f64 {
        1.0 - self.none_upto.last().copied().unwrap_or(1.0)
    }

    /// Chance that one visit shows it, the mean over weeks.
    pub fn of_a_visit(&self) -> f64 {
        self.each.iter().sum::<f64>() / self.each.len() as f64
    }

    /// The chance a visit that, the same in all weeks and sites, would show as many sites in a year.
    pub fn even(&self) -> f64 {
        let weeks = self.each.len() as f64;
        1.0 - exp(ln(1.0 - self.of_a_year().min(1.0 - 1e-12)) / weeks)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::generator::{Drawn, Generator, Weekly, World};
    use crate::scenario::read;

    /// Without any spread: one trap-week is empty with (1 + mu/k)^-k, and losses leave it empty too.
    #[test]
    fn plain_chances() {
        let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
        let t = &mut s.premises.target;
        for sd in [
            &mut t.site_sd,
            &mut t.year_sd,
            &mut t.site_year_sd,
            &mut t.trap_sd,
        ] {
            (sd.value, sd.low, sd.high) = (0.0, None, None);
        }
        let d = Detection::new(&s.clone().check().unwrap(), &s.plan);
        let plan = &s.plan;
        let t = &s.premises.target;
        let week = |w: u32| {
            let d = (f64::from(plan.first_week + w) - t.season_peak_week.value)
                / t.season_width_weeks.value;
            let mean = t.catch_per_trap_week.value * plan.exposure_days / 7.0 * exp(-0.5 * d * d);
            let loss = s.premises.trap_loss.value;
            let empty =
                loss + (1.0 - loss) * pow(1.0 + mean / t.dispersion_k.value, -t.dispersion_k.value);
            pow(empty, f64::from(plan.traps_per_site))
        };
        let mut none = 1.0;
        for w in 0..plan.weeks {
            assert!((d.each[w as usize] - (1.0 - week(w))).abs() < 1e-12);
            none *= week(w);
            assert!((d.none_upto[w as usize + 1] - none).abs() < 1e-12);
        }
        assert!((d.catch.iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    /// With all spreads: against simulated surveys of a thin catch.
    #[test]
    fn chances_as_simulated() {
        let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
        s.premises.target.catch_per_trap_week =
            crate::scenario::Premise::new(0.15, crate::scenario::Source::Invented);
        s.plan.sites = 200;
        s.plan.years = 3;
        s.plan.traps_per_site = 2;
        s.limits.sites = 200;
        s.question.effect = crate::scenario::Effect::Decline(crate::scenario::Decline {
            change_percent: 0.1,
            over_years: 100.0,
        });
        let s = s.check().unwrap();
        let d = Detection::new(&s, &s.plan);
        let g = Generator::new(&s, &s.plan);
        let (mut drawn, mut weekly) = (Drawn::default(), Weekly::default());
        let weeks = s.plan.weeks as usize;
        let (mut none, mut first, mut before, mut rows) = (0.0, 0.0, vec![0.0; weeks], 0.0);
        let mut caught = 0.0;
        for number in 0..60 {
            g.draw_weekly(4, number, World::Still, false, &mut drawn, &mut weekly);
            for week in weekly.counts.chunks_exact(weeks) {
                rows += 1.0;
                none += f64::from(u8::from(week.iter().all(|&c| c == 0.0)));
                first += f64::from(u8::from(week[0] > 0.0));
                caught += week.iter().sum::<f64>();
                let open = week.iter().position(|&c| c > 0.0).unwrap_or(weeks - 1);
                for (b, c) in before.iter_mut().zip(week).take(open + 1) {
                    *b += c;
                }
            }
        }
        let near = |got: f64, want: f64, what: &str| {
            assert!((got - want).abs() < 0.015, "{what}: {got} {want}");
        };
        near(none / rows, 1.0 - d.of_a_year(), "none in a year");
        near(first / rows, d.each[0], "first week");
        for w in 0..weeks {
            near(before[w] / caught, d.catch_before[w], "catch before");
        }
    }
}
