//! Satterthwaite's degrees of freedom where they are known: counts so large that they are normal on the log scale.

use models::glmm::{Design, Family, Fit, Fitter, Layout, Likelihood, Model, Outcome, Terms};
use numerics::maths::exp;

const SITES: usize = 6;
const YEARS: usize = 9;

/// Poisson counts of mean about exp(level) with year effects of SD about .2 and no other scatter.
fn fit(level: f64, likelihood: Likelihood) -> Fit {
    let year = [0.1, -0.3, 0.22, 0.05, -0.15, 0.31, -0.04, -0.2, 0.12];
    let mut d = Design {
        columns: 2,
        ..Design::default()
    };
    let mut counts = Vec::new();
    for s in 0..SITES {
        for (y, u) in year.iter().enumerate() {
            d.site.push(s);
            d.year.push(y);
            d.x.extend([1.0, y as f64 - 4.0]);
            d.offset.push(0.0);
            counts.push(exp(level + 0.3 * s as f64 + u - 0.03 * y as f64).round());
        }
    }
    let terms = Terms {
        site: true,
        year: true,
        site_year: false,
    };
    let model = Model {
        family: Family::Poisson,
        terms,
        likelihood,
    };
    let mut fitter = Fitter::new(Layout::new(&d).unwrap(), model);
    fitter.fit(&counts, None).unwrap()
}

/// The slope is seen between years alone: years - 2 degrees of freedom; and its error is that of the regression of
/// the year effects on the years. Counts of millions are no harder than counts of hundreds.
#[test]
fn a_trend_has_two_less_than_the_years() {
    for level in [5.0, 8.0, 10.0, 12.0, 13.5] {
        let fit = fit(level, Likelihood::Restricted);
        assert_eq!(fit.outcome, Outcome::Converged, "{level}");
        let conditional = fit.conditional.as_ref().unwrap();
        let df = conditional.degrees_of_freedom(&[0.0, 1.0]).unwrap();
        assert!((df - (YEARS as f64 - 2.0)).abs() < 0.01, "{level}: {df}");
        // Residual SD of the year effects above over sqrt(Sxx = 60), and what the counts add to it.
        assert!(
            (fit.se(1) - 0.027_77).abs() < 3e-4,
            "{level}: {}",
            fit.se(1)
        );
    }
}

#[test]
fn maximum_likelihood_offers_none() {
    assert!(fit(8.0, Likelihood::Maximum).conditional.is_none());
}
