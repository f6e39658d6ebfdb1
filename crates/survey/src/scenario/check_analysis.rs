//! What in an analysis does not go together.

use super::analysis::{Known, Likelihood, Rows, Test};
use super::check::{Fault, MOST_SITE_YEARS};
use super::{Effect, Scenario};

/// Most site-years of an analysis that is told of the sites' correlation: it then handles all sites as one block.
pub const MOST_CORRELATED_TOLD: u64 = 1000;

/// Adds the faults of the analysis.
pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    let a = &s.analysis;
    let mut shape = |path: &str, problem: &str| {
        faults.push(Fault::Shape {
            path: path.into(),
            problem: problem.into(),
        });
    };
    if a.test == Test::Satterthwaite && a.likelihood != Likelihood::Restricted {
        shape(
            "analysis.test",
            "satterthwaite needs restricted likelihood: set analysis.likelihood to restricted",
        );
    }
    if a.test == Test::LikelihoodRatio && a.likelihood != Likelihood::Maximum {
        shape(
            "analysis.test",
            "a likelihood_ratio test of the change needs maximum likelihood: set analysis.likelihood to maximum",
        );
    }
    if a.test == Test::AnnualIndex && !matches!(s.question.effect, Effect::Decline(_)) {
        shape(
            "analysis.test",
            "annual_index answers the decline question alone: choose another test",
        );
    }
    if a.test == Test::AnnualIndex && a.rows != Rows::SiteYears {
        shape(
            "analysis.rows",
            "annual_index is made of site-year totals: set analysis.rows to site_years",
        );
    }
    if a.knows.contains(&Known::SharedWeeks) && a.rows != Rows::Weeks {
        shape(
            "analysis.knows",
            "shared_weeks can be told apart in rows of weeks only: set analysis.rows to weeks",
        );
    }
    let (plan, limits) = (&s.plan, &s.limits);
    let sizes = [
        ("rows of weeks", plan.sites, plan.weeks),
        ("rows of weeks at its limits", limits.sites, limits.weeks),
    ];
    for (what, sites, weeks) in sizes {
        let rows = u64::from(sites) * u64::from(plan.years) * u64::from(weeks);
        if a.rows == Rows::Weeks && rows > MOST_SITE_YEARS {
            faults.push(Fault::Size {
                size: rows,
                what,
                most: MOST_SITE_YEARS,
                lower: "sites, weeks or years, or set analysis.rows to site_years",
            });
        }
    }
    let sizes = [
        ("site-years whose correlation is told", plan.sites),
        (
            "site-years whose correlation is told at its limits",
            limits.sites,
        ),
    ];
    for (what, sites) in sizes {
        let sites = u64::from(sites) * u64::from(plan.years);
        if a.knows.contains(&Known::SiteCorrelation) && sites > MOST_CORRELATED_TOLD {
            faults.push(Fault::Size {
                size: sites,
                what,
                most: MOST_CORRELATED_TOLD,
                lower: "sites or years, or take site_correlation out of analysis.knows",
            });
        }
    }
}
