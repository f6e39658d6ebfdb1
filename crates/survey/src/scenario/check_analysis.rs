//! What in an analysis does not go together.

use super::analysis::{Known, Likelihood, Rows, Test};
use super::check::{Fault, MOST_SITE_YEARS};
use super::{Analysis, Detection, EdgeBy, Effect, Scenario};

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
    if s.edge().is_some() {
        return of_edge(s, faults);
    }
    if !s.question.effect.counts() {
        return without_counts(s, faults);
    }
    if a.test == Test::Satterthwaite && a.likelihood != Likelihood::Restricted {
        shape(
            "analysis.test",
            "satterthwaite needs restricted likelihood: set analysis.likelihood to restricted",
        );
    }
    if a.detection != Detection::EachYear {
        shape(
            "analysis.detection",
            "how detection varies belongs to the occupancy question: leave it at each_year",
        );
    }
    if a.edge != EdgeBy::Presence {
        shape(
            "analysis.edge",
            "what an edge is seen by belongs to the question of an edge: leave it at presence",
        );
    }
    if a.test == Test::LikelihoodRatio && a.likelihood != Likelihood::Maximum {
        shape(
            "analysis.test",
            "a likelihood_ratio test of the change needs maximum likelihood: set analysis.likelihood to maximum",
        );
    }
    if a.test == Test::AnnualIndex && !s.question.effect.is_trend() {
        shape(
            "analysis.test",
            "annual_index answers the questions decline and no_worse alone: choose another test",
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

/// The question of an edge: what is caught counts as yes or no alone.
fn of_edge(s: &Scenario, faults: &mut Vec<Fault>) {
    let (a, usual) = (&s.analysis, Analysis::default());
    let mut shape = |path: &str, problem: &str| {
        faults.push(Fault::Shape {
            path: path.into(),
            problem: problem.into(),
        });
    };
    for (path, changed, problem) in [
        (
            "analysis.counts",
            a.counts != usual.counts,
            "an edge is not seen by counts: leave it at negative_binomial",
        ),
        (
            "analysis.rows",
            a.rows != usual.rows,
            "an edge is seen by site-years, or by edge detection: leave it at site_years",
        ),
        (
            "analysis.knows",
            a.knows != usual.knows,
            "the analysis of an edge can be told of losses alone: leave it at that",
        ),
    ] {
        if changed {
            shape(path, problem);
        }
    }
    if a.edge == EdgeBy::Detection {
        if a.likelihood != usual.likelihood {
            shape(
                "analysis.likelihood",
                "an edge by detection has no mixed model, so that no likelihood is chosen: set it to restricted or leave it out",
            );
        }
        if !matches!(a.test, Test::Calibrated | Test::Z | Test::LikelihoodRatio) {
            shape(
                "analysis.test",
                "an edge by detection is tested by calibrated, z or likelihood_ratio: choose one of them",
            );
        }
        return;
    }
    if a.detection != usual.detection {
        shape(
            "analysis.detection",
            "how detection varies belongs to an edge by detection: leave it at each_year",
        );
    }
    match a.test {
        Test::Satterthwaite if a.likelihood != Likelihood::Restricted => shape(
            "analysis.test",
            "satterthwaite needs restricted likelihood: set analysis.likelihood to restricted",
        ),
        Test::LikelihoodRatio if a.likelihood != Likelihood::Maximum => shape(
            "analysis.test",
            "a likelihood_ratio test of the change needs maximum likelihood: set analysis.likelihood to maximum",
        ),
        Test::AnnualIndex => shape(
            "analysis.test",
            "annual_index answers the questions decline and no_worse alone: choose another test",
        ),
        _ => {}
    }
}

/// Questions that are not answered by a mixed model of the counts leave its settings as they are.
fn without_counts(s: &Scenario, faults: &mut Vec<Fault>) {
    let (a, usual) = (&s.analysis, Analysis::default());
    let key = s.question.effect.key();
    let mut shape = |path: &str, problem: String| {
        faults.push(Fault::Shape {
            path: path.into(),
            problem,
        });
    };
    for (path, changed, at) in [
        (
            "analysis.counts",
            a.counts != usual.counts,
            "negative_binomial",
        ),
        (
            "analysis.likelihood",
            a.likelihood != usual.likelihood,
            "restricted",
        ),
        ("analysis.rows", a.rows != usual.rows, "site_years"),
        ("analysis.knows", a.knows != usual.knows, "losses alone"),
        ("analysis.edge", a.edge != usual.edge, "presence"),
    ] {
        if changed {
            shape(
                path,
                format!("the question {key} has no mixed model of counts: leave it at {at}"),
            );
        }
    }
    if matches!(s.question.effect, Effect::Occupancy(_)) {
        if !matches!(a.test, Test::Calibrated | Test::Z | Test::LikelihoodRatio) {
            shape(
                "analysis.test",
                "occupancy is tested by calibrated, z or likelihood_ratio: choose one of them"
                    .into(),
            );
        }
        return;
    }
    if a.test != usual.test {
        shape(
            "analysis.test",
            format!("the question {key} has no test to choose: leave it at calibrated"),
        );
    }
    if a.detection != usual.detection {
        shape(
            "analysis.detection",
            "how detection varies belongs to the occupancy question: leave it at each_year".into(),
        );
    }
}
