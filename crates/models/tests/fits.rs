//! What must hold of any fit: it hangs on its own input alone, and poor data end in a status, not in a panic.

mod support;

use models::glmm::{Design, Family, Fit, Fitter, Layout, Likelihood, Model, Outcome, Start, Terms};
use numerics::draws::poisson;
use numerics::maths::exp;
use numerics::random::Stream;
use support::catches;

/// Sites by years with `rows` counts in each, an intercept and a trend; `week` adds a covariate within the cell.
fn design(sites: usize, years: usize, rows: usize, week: bool) -> Design {
    let mut d = Design {
        columns: if week { 3 } else { 2 },
        ..Design::default()
    };
    for s in 0..sites {
        for y in 0..years {
            for r in 0..rows {
                d.site.push(s);
                d.year.push(y);
                d.x.extend([1.0, y as f64 - 0.5 * (years as f64 - 1.0)]);
                if week {
                    d.x.push(r as f64 - 0.5 * (rows as f64 - 1.0));
                }
                d.offset.push(0.0);
            }
        }
    }
    d
}

fn start(columns: usize) -> Start {
    let mut beta = vec![0.0; columns];
    beta[0] = 2.0;
    Start {
        beta,
        site_sd: 0.8,
        year_sd: 0.2,
        site_year_sd: 0.3,
        k: 2.0,
    }
}

fn models() -> Vec<Model> {
    let mut all = Vec::new();
    for family in [Family::Poisson, Family::NegativeBinomial, Family::Binomial] {
        for likelihood in [Likelihood::Maximum, Likelihood::Restricted] {
            for (site, year, site_year) in [
                (true, true, false),
                (true, true, true),
                (true, false, false),
                (false, true, true),
                (false, false, false),
            ] {
                all.push(Model {
                    family,
                    terms: Terms {
                        site,
                        year,
                        site_year,
                    },
                    likelihood,
                });
            }
        }
    }
    all
}

fn bits(fit: &Fit) -> Vec<u64> {
    let mut v = fit.beta.clone();
    v.extend(&fit.covariance);
    v.extend([fit.log_likelihood, fit.k, fit.ln_k_se]);
    v.extend([fit.sd.site, fit.sd.year, fit.sd.site_year]);
    v.extend([fit.sd_se.site, fit.sd_se.year, fit.sd_se.site_year]);
    v.push(fit.evaluations as f64);
    v.iter().map(|v| v.to_bits()).collect()
}

#[test]
fn a_fit_does_not_depend_on_the_fits_before_it() {
    let d = design(8, 6, 2, true);
    let n = d.site.len();
    let (a, b, typical) = (catches(n, 6.0, 1), catches(n, 90.0, 2), catches(n, 8.0, 3));
    let start = start(3);
    for model in models()
        .into_iter()
        .filter(|m| m.family != Family::Binomial)
    {
        let fresh = || {
            let mut f = Fitter::new(Layout::new(&d).unwrap(), model);
            f.learn(&typical, &start).unwrap();
            f
        };
        let mut used = fresh();
        let first = used.fit(&a, Some(&start)).unwrap();
        used.fit(&b, Some(&start)).unwrap();
        let again = used.fit(&a, Some(&start)).unwrap();
        let alone = fresh().fit(&a, Some(&start)).unwrap();
        assert_eq!(first.outcome, again.outcome, "{model:?}");
        assert_eq!(bits(&first), bits(&again), "{model:?}");
        assert_eq!(bits(&first), bits(&alone), "{model:?}");
        assert!(first.usable(), "{model:?}: {:?}", first.outcome);
    }
}

/// Fits by every model, from plain values and from a start with a learned metric.
fn survives(d: &Design, counts: &[f64], what: &str) -> Vec<Fit> {
    let mut fits = Vec::new();
    for model in models() {
        let mut d = d.clone();
        if model.family == Family::Binomial {
            d.trials = counts.iter().map(|y| y + 1.0).collect();
        }
        let start = start(d.columns);
        for learned in [false, true] {
            let mut f = Fitter::new(Layout::new(&d).unwrap(), model);
            let start = learned.then_some(&start);
            if let Some(start) = start {
                f.learn(counts, start).unwrap();
            }
            let fit = f.fit(counts, start).unwrap();
            assert!(
                fit.evaluations < 2000,
                "{what} {model:?}: {}",
                fit.evaluations
            );
            if fit.usable() {
                let numbers = fit.beta.iter().chain(&fit.covariance);
                assert!(numbers.clone().all(|v| v.is_finite()), "{what} {model:?}");
                assert!(fit.log_likelihood.is_finite(), "{what} {model:?}");
            }
            fits.push(fit);
        }
    }
    fits
}

#[test]
fn poor_data_end_in_a_status() {
    let d = design(6, 5, 1, false);
    let n = d.site.len();
    let zeros = survives(&d, &vec![0.0; n], "all zeros");
    assert!(
        zeros
            .iter()
            .all(|f| f.outcome == Outcome::Failed("every count is 0"))
    );

    let one = design(1, 8, 1, false);
    survives(&one, &catches(8, 9.0, 5), "one site");
    let two = design(12, 2, 1, false);
    survives(&two, &catches(24, 9.0, 6), "two years");

    let mut silent = catches(n, 9.0, 7);
    silent[5..10].fill(0.0);
    survives(&d, &silent, "a site of zeros");
    let mut loud = catches(n, 9.0, 8);
    loud[13] = 1e6;
    survives(&d, &loud, "one catch of a million");
    let mut rare = vec![0.0; n];
    (rare[3], rare[17]) = (1.0, 1.0);
    survives(&d, &rare, "two catches in all");
    let mut single = vec![0.0; n];
    single[11] = 1.0;
    survives(&d, &single, "one catch in all");

    let weeks = design(4, 3, 3, true);
    let mut weekly = catches(36, 2.0, 9);
    weekly[0] = 1e6;
    survives(&weekly_without_last(&weeks), &weekly[..35], "ragged weeks");
}

fn weekly_without_last(d: &Design) -> Design {
    let mut d = d.clone();
    d.site.pop();
    d.year.pop();
    d.offset.pop();
    d.x.truncate(d.x.len() - d.columns);
    d
}

/// Offsets far apart: tiny means beside large ones, and rows taken out.
#[test]
fn tiny_means_and_missing_rows() {
    let mut d = design(6, 5, 1, false);
    for i in (0..30).step_by(3) {
        d.offset[i] = -12.0;
    }
    let mut counts = catches(30, 9.0, 10);
    for i in (0..30).step_by(3) {
        counts[i] = 0.0;
    }
    survives(&d, &counts, "tiny means");
    for i in (0..30).step_by(3) {
        d.offset[i] = models::glmm::MISSING;
    }
    survives(&d, &counts, "missing rows");
}

/// A count beyond its trials is refused with its row, whatever order the rows stand in.
#[test]
fn more_than_the_trials_is_refused() {
    let mut d = design(3, 4, 1, false);
    d.site.reverse();
    d.trials = vec![5.0; 12];
    d.trials[2] = 3.0;
    let terms = Terms {
        site: true,
        year: true,
        site_year: false,
    };
    let model = Model {
        family: Family::Binomial,
        terms,
        likelihood: Likelihood::Maximum,
    };
    let mut fitter = Fitter::new(Layout::new(&d).unwrap(), model);
    let error = fitter.fit(&[4.0; 12], None).unwrap_err().to_string();
    assert_eq!(
        error,
        "row 3: the count is 4, it must be no more than its trials"
    );
}

/// Poisson counts often look as if they had a dispersion of 20 or so. A search that begins at the truth, where the
/// likelihood is level, finds that as well as one that begins near it.
#[test]
fn a_start_at_a_large_dispersion_finds_the_same() {
    let d = design(10, 5, 1, false);
    let terms = Terms {
        site: true,
        year: true,
        site_year: false,
    };
    let mut inside = 0;
    for likelihood in [Likelihood::Maximum, Likelihood::Restricted] {
        let model = Model {
            family: Family::NegativeBinomial,
            terms,
            likelihood,
        };
        for seed in 0..60 {
            let mut rng = Stream::new(seed, 0);
            let site: Vec<f64> = (0..10).map(|_| exp(2.5 + 0.8 * rng.normal())).collect();
            let counts: Vec<f64> = (0..50).map(|i| poisson(&mut rng, site[i / 5])).collect();
            let from = |k: f64| {
                let mut fitter = Fitter::new(Layout::new(&d).unwrap(), model);
                fitter.set_tolerance(1e-7);
                let start = Start {
                    k,
                    ..start(d.columns)
                };
                fitter.learn(&counts, &start).unwrap();
                fitter.fit(&counts, Some(&start)).unwrap()
            };
            let (near, far) = (from(10.0), from(1e5));
            let off = (near.log_likelihood - far.log_likelihood).abs();
            assert!(off < 1e-5, "{likelihood:?} {seed}: {near:?} {far:?}");
            inside += usize::from(near.outcome != Outcome::AtBound);
        }
    }
    assert!((20..100).contains(&inside), "{inside}");
}
