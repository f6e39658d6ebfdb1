//! Variance of the optimum's shift a decade.

use super::kept::scatter;
use super::removal::thinner;
use super::space::neighbours;
use super::{Variances, serial};
use crate::evaluate::Covariates;
use crate::generator::positions;
use crate::scenario::{Checked, Departures, Plan, TrapPoints};
use models::estimator::estimator;
use models::information;
use models::wald::ratio_minus_half;
use numerics::maths::exp;

/// Variance of the shift in gradient units a decade, at the expected counts, when the true shift is `effect`.
///
/// Departures are not in the analysis' covariance: the estimate is then still the linear form it was, and its variance
/// that form's in the true covariance.
pub fn variances(scenario: &Checked, plan: &Plan, effect: f64) -> Variances {
    let never = Variances::same(f64::INFINITY);
    let (Some(g), Some(_)) = (scenario.moving(plan.years), &plan.transect) else {
        return never;
    };
    let t = &scenario.premises.target;
    let d = &scenario.premises.departures;
    let scatter = scatter(scenario, plan);
    let square = |v: f64| v * v;
    let mut common = square(t.site_year_sd.value) + scatter.dispersion;
    let mut site = square(t.site_sd.value);
    if plan.trap_points == TrapPoints::Same {
        site += square(t.trap_sd.value) / f64::from(plan.traps_per_site);
    } else {
        common += scatter.points;
    }
    let speed = effect / 10.0;
    let covariates = Covariates::new(scenario, plan);
    let years = plan.years as usize;
    // Sites' own changes look to the analysis like scatter of sites, by the middle year, and of site-years, sum(t^2)
    // over T - 1 of their variance.
    let t_years = f64::from(plan.years);
    let slopes = square(d.site_slope_sd.value);
    let between = slopes * square(0.5 * (t_years - 1.0));
    let within = slopes * t_years * (t_years + 1.0) / 12.0;
    let drift = d.log_drift();
    let fewer = thinner(scenario, plan);
    let weights = |more: f64| {
        let mut weights = Vec::with_capacity(plan.sites as usize * years);
        for x in positions(scenario, plan) {
            for y in 0..years {
                let d = (x - g.first - speed * y as f64) / g.width;
                // The response e^(-d^2/2) thins the catch away from the optimum, the traps' drift over the years.
                let response = exp(drift * y as f64 - 0.5 * d * d);
                let response = fewer.as_ref().map_or(response, |f| response / f[y]);
                weights.push(if response > 1e-200 {
                    scatter.seen / (common + more + scatter.inverse_mean / response)
                } else {
                    0.0
                });
            }
        }
        weights
    };
    let site_sd = site.sqrt();
    let year_sd = (square(t.year_sd.value) + scatter.weeks).sqrt();
    let columns = covariates.columns;
    let (x, plain) = (&covariates.x, weights(0.0));
    let Some(c) = information::covariance(&plain, x, columns, years, site_sd, year_sd) else {
        return never;
    };
    // True coefficients: b_xx = -scale^2 / (2 tolerance^2), and the shift a year in scale units is -b_xt/(2 b_xx).
    let b_xx = -0.5 * square(covariates.scale / g.width);
    let b_xt = -2.0 * b_xx * speed / covariates.scale;
    let variance = |tt: f64, xx: f64, xt: f64| {
        let (_, se) = ratio_minus_half(b_xt, b_xx, tt, xx, xt);
        square(10.0 * covariates.scale * se)
    };
    let of = |c: &[f64]| variance(c[4 * columns + 4], c[2 * columns + 2], c[2 * columns + 4]);
    if d.is_empty() {
        return Variances::same(of(&c));
    }
    let seen = weights(within);
    let site_sd = (site + between).sqrt();
    let (Some(believed), Some(h)) = (
        information::covariance(&seen, x, columns, years, site_sd, year_sd),
        estimator(&seen, x, columns, years, site_sd, year_sd),
    ) else {
        return never;
    };
    let rows = seen.len();
    let form = |j: usize| Form::of(&h[j * rows..(j + 1) * rows], years);
    let (xx, xt) = (form(2), form(4));
    let more = |a: &Form, b: &Form| {
        let sites: f64 = a.site.iter().zip(&b.site).map(|(a, b)| a * b).sum();
        departing(scenario, plan, d, a, b) - own_scatter(&plain, &seen, a, b) - between * sites
    };
    Variances {
        truth: variance(
            believed[4 * columns + 4] + more(&xt, &xt),
            believed[2 * columns + 2] + more(&xx, &xx),
            believed[2 * columns + 4] + more(&xx, &xt),
        ),
        believed: of(&believed),
        floor: 0.0,
    }
}

/// A coefficient as a linear form in the site-years, and its sums.
struct Form<'a> {
    rows: &'a [f64],
    /// Of each site over its years.
    site: Vec<f64>,
    /// Of each site over its years, times the year from 0.
    slope: Vec<f64>,
    /// Of each year over its sites.
    year: Vec<f64>,
}

impl<'a> Form<'a> {
    fn of(rows: &'a [f64], years: usize) -> Self {
        let mut year = vec![0.0; years];
        let (mut site, mut slope) = (Vec::new(), Vec::new());
        for own in rows.chunks_exact(years) {
            site.push(own.iter().sum());
            slope.push(own.iter().enumerate().map(|(y, h)| y as f64 * h).sum());
            year.iter_mut().zip(own).for_each(|(sum, h)| *sum += h);
        }
        Self {
            rows,
            site,
            slope,
            year,
        }
    }
}

/// The scatter the analysis takes site-years to have beyond what they have.
fn own_scatter(plain: &[f64], seen: &[f64], a: &Form, b: &Form) -> f64 {
    let forms = a.rows.iter().zip(b.rows);
    let weights = plain.iter().zip(seen);
    forms
        .zip(weights)
        .filter(|(_, (w, _))| **w > 0.0)
        .map(|((a, b), (w, v))| a * b * (1.0 / v - 1.0 / w))
        .sum()
}

/// What departures add to the covariance of two coefficients.
fn departing(scenario: &Checked, plan: &Plan, d: &Departures, a: &Form, b: &Form) -> f64 {
    let t = &scenario.premises.target;
    let years = a.year.len();
    let square = |v: f64| v * v;
    // Correlated years.
    let mut sum = square(t.year_sd.value)
        * serial::off_diagonal(d.year_autocorrelation.value, &a.year, &b.year);
    // Sites' own changes, and what correlation adds to sites and to their own years.
    let slopes = square(d.site_slope_sd.value);
    sum += slopes
        * a.slope
            .iter()
            .zip(&b.slope)
            .map(|(a, b)| a * b)
            .sum::<f64>();
    let length = d.correlation_length_km.value;
    if length <= 0.0 {
        return sum;
    }
    let r = neighbours(d.region_km2.value.sqrt(), plan.sites, 1, length);
    let (site, own) = (square(t.site_sd.value), square(t.site_year_sd.value));
    sum += site * serial::off_diagonal(r, &a.site, &b.site);
    sum += slopes * serial::off_diagonal(r, &a.slope, &b.slope);
    let column = |form: &Form, y: usize| -> Vec<f64> {
        form.rows.iter().skip(y).step_by(years).copied().collect()
    };
    for y in 0..years {
        sum += own * serial::off_diagonal(r, &column(a, y), &column(b, y));
    }
    sum
}
