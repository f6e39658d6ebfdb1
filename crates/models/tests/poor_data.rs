//! Poor data, in both engines: each fit ends in a named outcome, and in the right numbers where those are known.

mod support;

use models::glmm::general::{GeneralDesign, GeneralFitter, Grouping};
use models::glmm::{Design, Family, Fitter, K_RANGE, Layout, Likelihood, Model, Outcome, Terms};
use numerics::maths::{ln, ln_gamma};
use support::catches;

const ML: Likelihood = Likelihood::Maximum;
const REML: Likelihood = Likelihood::Restricted;
const CONFOUNDED: Outcome = Outcome::Failed("a random term cannot be told from the other terms");
const SEPARATED: Outcome =
    Outcome::Failed("a fixed effect grew out of all bounds: it separates the counts");
const INDEFINITE: Outcome = Outcome::Failed("the information matrix is not positive definite");

/// What is asked of both engines' fits.
struct Ending {
    engine: &'static str,
    outcome: Outcome,
    log_likelihood: f64,
    beta: Vec<f64>,
    se: Vec<f64>,
    sd: Vec<f64>,
    k: f64,
}

fn terms(site: bool, year: bool, site_year: bool) -> Terms {
    Terms {
        site,
        year,
        site_year,
    }
}

/// Fits by both engines; what is usable must be finite.
fn both(
    d: &Design,
    counts: &[f64],
    family: Family,
    terms: Terms,
    likelihood: Likelihood,
) -> [Ending; 2] {
    let model = Model {
        family,
        terms,
        likelihood,
    };
    let fast = Fitter::new(Layout::new(d).unwrap(), model)
        .fit(counts, None)
        .unwrap();
    let term = |name: &str, level: Vec<usize>| Grouping {
        name: name.to_string(),
        level,
        ..Grouping::default()
    };
    let cells = d.site.iter().zip(&d.year).map(|(s, y)| s * 1000 + y);
    let all = [
        (terms.site, term("site", d.site.clone())),
        (terms.year, term("year", d.year.clone())),
        (terms.site_year, term("site-year", cells.collect())),
    ];
    let design = GeneralDesign {
        x: d.x.clone(),
        columns: d.columns,
        offset: d.offset.clone(),
        trials: d.trials.clone(),
        groupings: all
            .into_iter()
            .filter(|(on, _)| *on)
            .map(|(_, g)| g)
            .collect(),
    };
    let mut fitter = GeneralFitter::new(&design, family, likelihood).unwrap();
    let general = fitter.fit(counts, None).unwrap();
    let p = d.columns;
    let on = [terms.site, terms.year, terms.site_year];
    let sds = [fast.sd.site, fast.sd.year, fast.sd.site_year];
    let endings = [
        Ending {
            engine: "fast",
            outcome: fast.outcome,
            log_likelihood: fast.log_likelihood,
            se: (0..p).map(|j| fast.se(j)).collect(),
            beta: fast.beta.clone(),
            sd: (0..3).filter(|&t| on[t]).map(|t| sds[t]).collect(),
            k: fast.k,
        },
        Ending {
            engine: "general",
            outcome: general.outcome,
            log_likelihood: general.log_likelihood,
            se: (0..p).map(|j| general.se(j)).collect(),
            beta: general.beta.clone(),
            sd: general.sd.clone(),
            k: general.k,
        },
    ];
    assert!(fast.evaluations.max(general.evaluations) < 2000);
    for e in &endings {
        if !matches!(e.outcome, Outcome::Failed(_)) {
            let numbers = e.beta.iter().chain(&e.se).chain(&e.sd);
            let finite = numbers.chain([&e.log_likelihood]).all(|v| v.is_finite());
            assert!(finite, "{} {family:?} {terms:?} {likelihood:?}", e.engine);
        }
    }
    endings
}

/// Sites by years with `rows` counts in each: an intercept, and with `trend` the years.
fn design(sites: usize, years: usize, rows: usize, trend: bool) -> Design {
    let mut d = Design {
        columns: 1 + usize::from(trend),
        ..Design::default()
    };
    for i in 0..sites * years * rows {
        d.site.push(i / rows / years);
        d.year.push(i / rows % years);
        d.offset.push(0.0);
        d.x.push(1.0);
        if trend {
            d.x.push((i / rows % years) as f64 - 0.5 * (years as f64 - 1.0));
        }
    }
    d
}

#[track_caller]
fn near(what: &str, got: f64, want: f64, tolerance: f64) {
    assert!(
        (got - want).abs() < tolerance,
        "{what}: {got} against {want}"
    );
}

#[track_caller]
fn all_end(fits: &[Ending; 2], outcome: Outcome) {
    for e in fits {
        assert_eq!(e.outcome, outcome, "{}", e.engine);
    }
}

const COUNTS: [Family; 2] = [Family::Poisson, Family::NegativeBinomial];

#[test]
fn nothing_caught() {
    let d = design(5, 4, 1, true);
    for family in [Family::Poisson, Family::NegativeBinomial, Family::Binomial] {
        for likelihood in [ML, REML] {
            let fits = both(&d, &[0.0; 20], family, terms(true, true, true), likelihood);
            all_end(&fits, Outcome::Failed("every count is 0"));
        }
    }
}

/// A single site has no variance between sites: by maximum likelihood its SD is 0 and the fit that without the term;
/// by restricted likelihood nothing tells it from the intercept.
#[test]
fn one_site() {
    let d = design(1, 8, 1, true);
    let y = catches(8, 9.0, 5);
    for family in COUNTS {
        let with = both(&d, &y, family, terms(true, true, false), ML);
        let without = both(&d, &y, family, terms(false, true, false), ML);
        all_end(&with, Outcome::Singular);
        for (a, b) in with.iter().zip(&without) {
            assert_eq!(a.sd[0], 0.0);
            near("log likelihood", a.log_likelihood, b.log_likelihood, 1e-7);
            near("trend", a.beta[1], b.beta[1], 1e-4);
            near("its error", a.se[1], b.se[1], 1e-4);
        }
        all_end(
            &both(&d, &y, family, terms(true, true, false), REML),
            CONFOUNDED,
        );
    }
}

/// Two years' effects lie along a trend through them, and one year's along the intercept.
#[test]
fn two_years_and_one() {
    let two = design(12, 2, 1, true);
    let one = design(12, 1, 2, false);
    let y = catches(24, 9.0, 6);
    for family in COUNTS {
        for d in [&two, &one] {
            let with = both(d, &y, family, terms(true, true, false), ML);
            let without = both(d, &y, family, terms(true, false, false), ML);
            all_end(&with, Outcome::Singular);
            for (a, b) in with.iter().zip(&without) {
                assert_eq!(a.sd[1], 0.0);
                near("log likelihood", a.log_likelihood, b.log_likelihood, 1e-7);
            }
            all_end(
                &both(d, &y, family, terms(true, true, false), REML),
                CONFOUNDED,
            );
        }
    }
    // In one year a site and its site-year are the same.
    let fits = both(&one, &y, Family::Poisson, terms(true, false, true), ML);
    all_end(&fits, CONFOUNDED);
}

#[test]
fn a_covariate_that_is_another_intercept() {
    let mut d = design(12, 6, 1, true);
    d.x.chunks_exact_mut(2).for_each(|x| x[1] = 2.0);
    let y = catches(72, 5.0, 3);
    for family in COUNTS {
        all_end(
            &both(&d, &y, family, terms(true, true, false), ML),
            INDEFINITE,
        );
        let fits = both(&d, &y, family, terms(true, true, false), REML);
        all_end(
            &fits,
            Outcome::Failed("the likelihood is not defined at the start"),
        );
    }
}

#[test]
fn a_silent_site_and_a_loud_catch() {
    let d = design(6, 5, 1, true);
    let mut silent = catches(30, 9.0, 7);
    silent[5..10].fill(0.0);
    for likelihood in [ML, REML] {
        let fits = both(
            &d,
            &silent,
            Family::Poisson,
            terms(true, true, false),
            likelihood,
        );
        all_end(&fits, Outcome::Converged);
        near(
            "both engines",
            fits[0].log_likelihood,
            fits[1].log_likelihood,
            1e-9,
        );
    }
    let mut loud = catches(30, 9.0, 8);
    loud[13] = 1e6;
    for likelihood in [ML, REML] {
        let family = Family::NegativeBinomial;
        let fits = both(&d, &loud, family, terms(true, true, false), likelihood);
        all_end(&fits, Outcome::Singular);
        let fits = both(&d, &loud, family, terms(true, true, true), likelihood);
        all_end(&fits, Outcome::AtBound);
    }
}

/// A covariate at which every count is 0 has an effect without end, and so has an intercept when every trial succeeds.
#[test]
fn separated_counts() {
    let mut d = design(6, 5, 2, true);
    d.columns = 3;
    d.x = (0..60)
        .flat_map(|i| [1.0, (i / 2 % 5) as f64 - 2.0, f64::from(i % 2)])
        .collect();
    let half = |values: Vec<f64>| -> Vec<f64> {
        values
            .iter()
            .enumerate()
            .map(|(i, v)| v * f64::from(u8::from(i % 2 == 0)))
            .collect()
    };
    for likelihood in [ML, REML] {
        for (site, year, cell) in [
            (true, true, false),
            (true, true, true),
            (false, false, false),
        ] {
            let terms = terms(site, year, cell);
            for family in COUNTS {
                let y = half(catches(60, 9.0, 9));
                all_end(&both(&d, &y, family, terms, likelihood), SEPARATED);
            }
            d.trials = vec![5.0; 60];
            let y = half((0..60).map(|i| f64::from(i % 6)).collect());
            all_end(
                &both(&d, &y, Family::Binomial, terms, likelihood),
                SEPARATED,
            );
            // Every trial failed here and succeeded there: no information is left at all.
            for y in [half(vec![5.0; 60]), vec![5.0; 60]] {
                for e in both(&d, &y, Family::Binomial, terms, likelihood) {
                    let known = e.outcome == SEPARATED
                        || e.outcome == INDEFINITE
                        || e.outcome == CONFOUNDED;
                    assert!(known, "{} {:?}", e.engine, e.outcome);
                }
            }
            d.trials.clear();
        }
    }
}

/// Without random terms the Poisson mean is the total over the effort, its logarithm has variance 1/total.
#[test]
fn huge_counts_and_tiny_means() {
    let d = design(6, 5, 1, false);
    let huge: Vec<f64> = catches(30, 9.0, 11).iter().map(|v| 1e6 + 3e4 * v).collect();
    let mut thin = design(20, 10, 5, false);
    thin.offset = vec![ln(1e-3); 1000];
    let mut rare = vec![0.0; 1000];
    for i in [13, 270, 555, 720, 901, 902] {
        rare[i] = 1.0;
    }
    for (d, y) in [(&d, &huge), (&thin, &rare)] {
        let total: f64 = y.iter().sum();
        let effort: f64 = d.offset.iter().map(|&o| numerics::maths::exp(o)).sum();
        let rate = ln(total / effort);
        let own = |(y, o): (&f64, &f64)| y * (rate + o) - ln_gamma(y + 1.0);
        let want = y.iter().zip(&d.offset).map(own).sum::<f64>() - total;
        for e in both(d, y, Family::Poisson, terms(false, false, false), ML) {
            assert_eq!(e.outcome, Outcome::Converged, "{}", e.engine);
            near("rate", e.beta[0], rate, 1e-5 / total.sqrt());
            near("its error", e.se[0] * total.sqrt(), 1.0, 1e-4);
            near("log likelihood", e.log_likelihood / want, 1.0, 1e-11);
        }
        for family in COUNTS {
            for likelihood in [ML, REML] {
                let fits = both(d, y, family, terms(true, true, false), likelihood);
                assert_eq!(
                    fits[0].outcome, fits[1].outcome,
                    "{family:?} {likelihood:?} {rate}"
                );
                let [a, b] = [fits[0].log_likelihood, fits[1].log_likelihood];
                near("both engines", a / b, 1.0, 1e-8);
            }
        }
    }
}

/// Counts less scattered than Poisson's: k has no upper end, and the rest of the fit is Poisson's (but for
/// mean^2/2k a count in the log likelihood).
#[test]
fn a_dispersion_without_upper_end() {
    let d = design(12, 6, 1, true);
    let y: Vec<f64> = (0..72).map(|i| 20.0 + f64::from((i * 7) % 5)).collect();
    for likelihood in [ML, REML] {
        let terms = terms(true, true, false);
        let plain = both(&d, &y, Family::Poisson, terms, likelihood);
        let nb = both(&d, &y, Family::NegativeBinomial, terms, likelihood);
        all_end(&plain, Outcome::Singular);
        all_end(&nb, Outcome::AtBound);
        for (a, b) in nb.iter().zip(&plain) {
            near("k", a.k / K_RANGE.1, 1.0, 1e-9);
            near(
                "log likelihood",
                a.log_likelihood,
                b.log_likelihood,
                72.0 * 22.0 * 22.0 / 2e6,
            );
            for j in 0..2 {
                near("estimate", a.beta[j], b.beta[j], 1e-6);
                near("its error", a.se[j], b.se[j], 1e-5);
            }
        }
    }
}

/// One catch of a million in 2000: k runs to its lower end, and the mean is the counts' whatever k is.
#[test]
fn a_dispersion_without_lower_end() {
    let d = design(40, 10, 5, false);
    let mut y = vec![0.0; 2000];
    y[777] = 1e6;
    for likelihood in [ML, REML] {
        let none = terms(false, false, false);
        for e in both(&d, &y, Family::NegativeBinomial, none, likelihood) {
            assert_eq!(e.outcome, Outcome::AtBound, "{}", e.engine);
            near("k", e.k / K_RANGE.0, 1.0, 1e-9);
            near("mean", e.beta[0], ln(500.0), 1e-3);
            // Observed information of the mean: n k mu (k + ybar) / (k + mu)^2.
            let (k, mu) = (e.k, 500.0);
            let information = 2000.0 * k * mu * (k + mu) / ((k + mu) * (k + mu));
            near("its error", e.se[0] * information.sqrt(), 1.0, 1e-2);
        }
    }
}
