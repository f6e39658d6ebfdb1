//! Variance of a change of occupancy.
//!
//! A year's share of occupied sites is estimated with the variance f/S, where f is that of MacKenzie & Royle 2005 (J.
//! Appl. Ecol. 42:1105) for S sites with K visits each and one chance of detection a visit. A difference of two years has
//! the sum of theirs (Guillera-Arroita & Lahoz-Monfort 2012, Methods Ecol. Evol. 3:860), which is what the analysis
//! believes; where the same sites are visited again, twice the covariance of their being occupied comes off. A trend of the
//! log odds is the weighted regression of the years' log odds, by the delta method.
//!
//! The chance a visit is the one that, the same everywhere, would show as many occupied sites in a year. A visit all of
//! whose traps are lost shows nothing, and is in that chance, not in the number of sites. The analysis knows which visits
//! were lost and does a little better: with three to twelve visits the variance is too large by at most 3 % where a
//! twentieth of them is lost, and 20 % where a fifth is (against expected information averaged over the visits left).

use super::Variances;
use super::detection::Detection;
use super::panels::{applies, visited_in_both};
use super::scale::in_a_row;
use crate::generator::Course;
use crate::scenario::{Checked, Plan, Scheme};
use models::occupancy::precision::{SamplingDesign, variance_factor};

/// The scheme as the formulas know it.
pub fn design(scheme: Scheme) -> SamplingDesign {
    match scheme {
        Scheme::Standard => SamplingDesign::Standard,
        Scheme::Removal => SamplingDesign::Removal,
        Scheme::Conditional => SamplingDesign::Conditional,
    }
}

/// The variances when the change has this value on the estimate's scale.
pub fn variances(scenario: &Checked, plan: &Plan, value: f64) -> Variances {
    let never = Variances::same(f64::INFINITY);
    let (Some(course), Some(visits)) = (Course::of(scenario, plan, value), &plan.visits) else {
        return never;
    };
    if plan.weeks < 2 {
        return never;
    }
    let d = Detection::new(scenario, plan);
    let p = d.even();
    if !(p > 0.0 && p < 1.0) {
        // Nothing is ever caught.
        return never;
    }
    // Of site-years; lost visits are in the chance a visit.
    let made = 1.0 - scenario.premises.late_share.value;
    let sites = f64::from(plan.sites) * made;
    let design = design(visits.scheme);
    let each: Vec<f64> = course
        .shares
        .iter()
        .map(|&psi| variance_factor(psi, p, plan.weeks, design) / sites)
        .collect();
    if in_a_row(scenario) {
        return trend(scenario, plan, &course, &each, made);
    }
    let believed = each.iter().sum::<f64>();
    Variances {
        truth: believed - 2.0 * course.covariance(0, 1) / sites,
        believed,
        floor: 0.0,
    }
}

/// Of the slope of the log odds on the years, from the variance of each year's share with all sites. Years without
/// trapping say nothing; two years have the covariance of the sites that both are expected to visit.
fn trend(scenario: &Checked, plan: &Plan, course: &Course, each: &[f64], made: f64) -> Variances {
    let years = each.len();
    let all = f64::from(plan.sites);
    let pattern = applies(scenario, plan);
    let both = if pattern {
        visited_in_both(scenario, plan)
    } else {
        vec![all; years * years]
    };
    // What the covariance of one site's states in two years is divided by for that of the years' shares.
    let common = |y: usize, z: usize| {
        if pattern {
            let [a, b, ab] = [(y, y), (z, z), (y, z)].map(|(y, z)| both[y * years + z]);
            a * b / ab * made
        } else {
            all * made
        }
    };
    let slope_of_odds: Vec<f64> = course
        .shares
        .iter()
        .map(|p| 1.0 / (p * (1.0 - p)))
        .collect();
    let weights: Vec<f64> = each
        .iter()
        .zip(&slope_of_odds)
        .enumerate()
        .map(|(y, (v, s))| both[y * years + y] / all / (v * s * s))
        .collect();
    let total: f64 = weights.iter().sum();
    let at = |y: usize| y as f64;
    let mean = (0..years).map(|y| weights[y] * at(y)).sum::<f64>() / total;
    let square = |v: f64| v * v;
    let spread: f64 = (0..years).map(|y| weights[y] * square(at(y) - mean)).sum();
    let believed = 1.0 / spread;
    // The estimate as a linear form of the years' shares.
    let form: Vec<f64> = (0..years)
        .map(|y| weights[y] * (at(y) - mean) / spread * slope_of_odds[y])
        .collect();
    let pairs = (0..years).flat_map(|y| (y + 1..years).map(move |z| (y, z)));
    let shared: f64 = pairs
        .filter(|&(y, z)| both[y * years + z] > 0.0)
        .map(|(y, z)| 2.0 * form[y] * form[z] * course.covariance(y, z) / common(y, z))
        .sum();
    Variances {
        truth: believed + shared,
        believed,
        floor: 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::{Premise, Source, read};
    use models::occupancy::information::expected_information;
    use numerics::maths::pow;

    /// Lost visits, one trap a visit: the variance a year is hardly above that of expected information averaged over how
    /// many visits are left (MacKenzie & Royle 2005, J. Appl. Ecol. 42:1105, for each number of them), and never below.
    #[test]
    fn lost_visits_are_counted_once() {
        let invented = |v: f64| Premise::new(v, Source::Invented);
        for loss in [0.0, 0.1, 0.3] {
            let mut s = read(include_str!(
                "../../../../demo-data/mountain-occupancy.json"
            ))
            .unwrap();
            let t = &mut s.premises.target;
            for sd in [
                &mut t.site_sd,
                &mut t.year_sd,
                &mut t.site_year_sd,
                &mut t.trap_sd,
            ] {
                *sd = invented(0.0);
            }
            // Weeks that are about alike.
            t.season_width_weeks = invented(60.0);
            s.premises.trap_loss = invented(loss);
            s.plan.traps_per_site = 1;
            s.plan.weeks = 6;
            s.plan.visits.as_mut().unwrap().scheme = Scheme::Standard;
            let plan = s.plan.clone();
            let s = s.check().unwrap();
            let change = crate::closed_form::truth(&s);
            let got = variances(&s, &plan, change).believed * f64::from(plan.sites);
            let p = Detection::new(&s, &plan).even() / (1.0 - loss);
            let mut want = 0.0;
            for psi in Course::of(&s, &plan, change).unwrap().shares {
                let (mut sum, mut orders) = ([0.0; 3], 1.0);
                for n in 1..=plan.weeks {
                    orders *= f64::from(plan.weeks - n + 1) / f64::from(n);
                    let left = f64::from(plan.weeks - n);
                    let chance = orders * pow(1.0 - loss, f64::from(n)) * pow(loss, left);
                    let [a, b, _, c] = expected_information(psi, p, n, SamplingDesign::Standard);
                    sum[0] += chance * a;
                    sum[1] += chance * b;
                    sum[2] += chance * c;
                }
                want += sum[2] / (sum[0] * sum[2] - sum[1] * sum[1]);
            }
            let over = got / want - 1.0;
            assert!(over > -1e-3 && over < 0.01 + 0.4 * loss, "{loss}: {over}");
            assert!(loss > 0.0 || over < 1e-3, "{over}");
        }
    }
}
