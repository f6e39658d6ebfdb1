//! Variance of the yearly slope.

use super::Variances;
use super::kept::{Scatter, scatter};
use super::removal::thinner;
use super::serial::{LeastSquares, least_squares, spread_of_years};
use super::space::mean_correlation;
use crate::scenario::{Checked, Known, Plan};
use numerics::maths::exp;

/// Variance of the slope a year on the log scale when the true slope is `slope`.
///
/// Departures add to it: sites' own slopes var B / sites (Larsen et al. 2001, BioScience 51:1069; Urquhart, Paulsen &
/// Larsen 1998, Ecol. Appl. 8:246), which the analysis' standard error does not see because they are not scatter
/// about the line; correlated years by the exact variance of least squares, where the standard error comes from the
/// expected scatter about the line; correlated sites by the variance of their mean; shared weeks and new trap points
/// as scatter of years and of site-years.
pub fn variances(scenario: &Checked, plan: &Plan, slope: f64) -> Variances {
    let years = Years::new(scenario, plan, slope);
    let alike = mean_correlation(scenario, plan);
    let scatter = scatter(scenario, plan);
    variances_from(scenario, f64::from(plan.sites), &years, &scatter, alike)
}

/// What hangs on the years alone.
pub(super) struct Years {
    n: f64,
    /// The mean over years of 1/mean as the catch changes.
    thin: f64,
    /// Correlated years, where they are.
    serial: Option<LeastSquares>,
}

impl Years {
    pub fn new(scenario: &Checked, plan: &Plan, slope: f64) -> Self {
        let d = &scenario.premises.departures;
        let n = f64::from(plan.years);
        let trend = slope + d.log_drift();
        let fewer = thinner(scenario, plan);
        let of_year = |y: u32| {
            let thin = exp(-trend * f64::from(y));
            fewer.as_ref().map_or(thin, |f| thin * f[y as usize])
        };
        let thin = (0..plan.years).map(of_year).sum::<f64>() / n;
        Self {
            n,
            thin,
            serial: (!d.is_empty())
                .then(|| least_squares(plan.years as usize, d.year_autocorrelation.value)),
        }
    }
}

/// The same from the scatter, which does not hang on the sites, and the sites' mean correlation, which hangs on them
/// alone.
pub(super) fn variances_from(
    scenario: &Checked,
    n: f64,
    over: &Years,
    scatter: &Scatter,
    alike: f64,
) -> Variances {
    let t = &scenario.premises.target;
    let d = &scenario.premises.departures;
    let (years, thin) = (over.n, over.thin);
    let square = |v: f64| v * v;
    let own = square(t.site_year_sd.value);
    let per_site = own + scatter.points + scatter.inverse_mean * thin + scatter.dispersion;
    let sites = n * scatter.seen;
    let year = square(t.year_sd.value);
    let plain = slope_variance(year + scatter.weeks, per_site, sites, years);
    let stt = spread_of_years(years);
    let right = |variance: f64| Variances {
        floor: per_site / sites / stt,
        ..Variances::same(variance)
    };
    let Some(serial) = &over.serial else {
        return right(plain);
    };
    let plain = plain + own * (alike - 1.0 / n) / stt;
    let slopes = square(d.site_slope_sd.value);
    // What the analysis takes for scatter between years cannot fall below that of sites by themselves, to which their
    // own slopes add sum(t^2)/(T - 1) = T (T + 1)/12 of their variance.
    let apart = slopes * (1.0 - alike) * n / (n - 1.0) * years * (years + 1.0) / 12.0;
    let truth = plain + year * (serial.slope_variance - 1.0 / stt) + slopes * alike;
    let told = |k| scenario.analysis.knows.contains(&k);
    let serially = told(Known::YearAutocorrelation) || d.year_autocorrelation.value == 0.0;
    if serially && (told(Known::SiteSlopes) || slopes == 0.0) {
        // Told of all that its standard error would else miss (weighting by what it knows gains next to nothing).
        return right(truth);
    }
    let floor = (per_site + apart) / sites / stt;
    Variances {
        truth,
        believed: (plain + year * (serial.residual - 1.0) / stt).max(floor),
        floor,
    }
}

/// var(slope) = [s2_year + v/S] / (T (T^2 - 1)/12): the same S sites in each of T years.
pub fn slope_variance(year_variance: f64, site_variance: f64, sites: f64, years: f64) -> f64 {
    (year_variance + site_variance / sites) / (years * (years * years - 1.0) / 12.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::special::{noncentral_t, normal, student};

    /// Variance components .02 year, .05 site by year, .1 residual, 20 sites revisited each year, one visit: Larsen
    /// et al. 2001 (BioScience 51:1069), Larsen et al. 2004 (CJFAS 61:283), computed from the stated formula.
    #[test]
    fn always_revisited_sites() {
        let v = |sites, visits, years| slope_variance(0.02, 0.05 + 0.1 / visits, sites, years);
        for (years, want) in [
            (5.0, 0.002_75),
            (10.0, 0.000_333_333_3),
            (20.0, 0.000_041_353_4),
        ] {
            assert!((v(20.0, 1.0, years) / want - 1.0).abs() < 2e-6, "{years}");
        }
        assert!((v(10.0, 2.0, 6.0) / 0.001_714_285_7 - 1.0).abs() < 1e-6);
        // T = 12, slope ln .97, normal test, two-sided .05: variance, SE, power.
        let v12 = v(20.0, 1.0, 12.0);
        assert!(
            (v12 / 0.000_192_307_7 - 1.0).abs() < 1e-6
                && (v12.sqrt() / 0.013_867_50 - 1.0).abs() < 1e-6
        );
        let delta = -numerics::maths::ln(0.97) / v12.sqrt();
        let power = noncentral_t::power(normal::quantile(0.975), f64::INFINITY, delta, true);
        assert!((power - 0.593_486).abs() < 1e-6, "{power}");
        // The floor that more sites cannot lower.
        assert!((slope_variance(0.02, 0.15, 1e12, 12.0) / 0.000_139_860_1 - 1.0).abs() < 1e-6);
    }

    /// The year floor: smallest decline a year that unlimited traps find with power .8, two-sided .05, T - 2 df;
    /// printed to a tenth of a per cent. The table adds two t quantiles, t(.975) + t(.8), for the noncentrality; the
    /// noncentral t itself asks for a little more when years are few, never less.
    #[test]
    fn years_set_a_floor() {
        for (sd, row) in [
            (0.1, [12.3, 5.0, 3.5, 1.8, 1.1]),
            (0.2, [23.1, 9.8, 6.8, 3.6, 2.3]),
            (0.3, [32.6, 14.4, 10.0, 5.3, 3.4]),
            (0.5, [48.2, 22.8, 16.1, 8.7, 5.6]),
        ] {
            for (years, want) in [5.0, 8.0, 10.0, 15.0, 20.0].into_iter().zip(row) {
                let df = years - 2.0;
                let c = student::quantile(0.975, df);
                let se = slope_variance(sd * sd, 0.0, 1.0, years).sqrt();
                let percent = |delta: f64| -100.0 * numerics::maths::exp_m1(-delta * se);
                let table = percent(c + student::quantile(0.8, df));
                assert!(
                    (table - want).abs() < 0.0501,
                    "{sd} {years}: {table} {want}"
                );
                let short = |d: f64| noncentral_t::power(c, df, d, true) - 0.8;
                let exact = percent(numerics::root::bracketed(short, 0.0, 50.0, 1e-12));
                assert!(
                    exact > 0.999 * table && exact < 1.03 * table,
                    "{sd} {years}: {exact} {table}"
                );
            }
        }
    }
}
