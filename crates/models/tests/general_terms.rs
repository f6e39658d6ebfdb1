//! What must hold of any fit of the general model: terms that only it has, poor data, and designs that are refused.

mod support;

use models::glmm::general::{
    GeneralDesign, GeneralFit, GeneralFitter, GeneralStart, Grouping, ar1_loadings,
    exponential_loadings,
};
use models::glmm::{DataError, Family, Likelihood, Outcome};
use numerics::maths::exp;
use support::catches;

const SITES: usize = 7;
const YEARS: usize = 6;
const WEEKS: usize = 3;
const ROWS: usize = SITES * YEARS * WEEKS;

fn term(name: &str, level: impl Fn(usize, usize, usize) -> usize) -> Grouping {
    let level = (0..ROWS).map(|i| level(i / WEEKS / YEARS, i / WEEKS % YEARS, i % WEEKS));
    Grouping {
        name: name.to_string(),
        level: level.collect(),
        ..Grouping::default()
    }
}

fn centred_year(row: usize) -> f64 {
    (row / WEEKS % YEARS) as f64 - 2.5
}

/// Sites, slopes, correlated years, weeks in years, and visits.
fn all_terms() -> Vec<Grouping> {
    let slope = Grouping {
        weight: Some((0..ROWS).map(centred_year).collect()),
        ..term("slope", |s, _, _| s)
    };
    let along: Vec<f64> = (0..SITES * SITES)
        .map(|i| (i / SITES).abs_diff(i % SITES) as f64)
        .collect();
    let sites = Grouping {
        loadings: exponential_loadings(&along, 2.0),
        ..term("site", |s, _, _| s)
    };
    let years = Grouping {
        loadings: ar1_loadings(YEARS, 0.5),
        ..term("year", |_, y, _| y)
    };
    let weeks = term("week in year", |_, y, w| y * WEEKS + w);
    let visits = term("visit", |s, y, w| (s * YEARS + y) * WEEKS + w);
    vec![sites, slope, years, weeks, visits]
}

fn design(groupings: Vec<Grouping>) -> GeneralDesign {
    GeneralDesign {
        x: (0..ROWS).flat_map(|i| [1.0, centred_year(i)]).collect(),
        columns: 2,
        offset: vec![0.0; ROWS],
        trials: Vec::new(),
        groupings,
    }
}

fn models() -> impl Iterator<Item = (Family, Likelihood)> {
    let families = [Family::Poisson, Family::NegativeBinomial, Family::Binomial];
    let both = [Likelihood::Maximum, Likelihood::Restricted];
    families.into_iter().flat_map(move |f| both.map(|l| (f, l)))
}

fn bits(fit: &GeneralFit) -> Vec<u64> {
    let lists = [&fit.beta, &fit.covariance, &fit.sd, &fit.sd_se];
    let numbers = lists.into_iter().flatten().copied();
    let more = [
        fit.log_likelihood,
        fit.k,
        fit.ln_k_se,
        fit.evaluations as f64,
    ];
    numbers.chain(more).map(f64::to_bits).collect()
}

#[test]
fn a_fit_does_not_depend_on_the_fits_before_it() {
    let start = GeneralStart {
        beta: vec![2.0, 0.0],
        sd: vec![0.5, 0.1, 0.3, 0.2, 0.4],
        k: 2.0,
    };
    for (family, likelihood) in models() {
        let mut d = design(all_terms());
        d.trials = vec![400.0; ROWS];
        let fresh = || {
            let mut f = GeneralFitter::new(&d, family, likelihood).unwrap();
            f.learn(&catches(ROWS, 8.0, 3), &start).unwrap();
            f
        };
        let mut used = fresh();
        let (a, b) = (catches(ROWS, 6.0, 1), catches(ROWS, 50.0, 2));
        let first = used.fit(&a, Some(&start)).unwrap();
        used.fit(&b, Some(&start)).unwrap();
        let again = used.fit(&a, Some(&start)).unwrap();
        let alone = fresh().fit(&a, Some(&start)).unwrap();
        assert_eq!(bits(&first), bits(&again), "{family:?} {likelihood:?}");
        assert_eq!(bits(&first), bits(&alone), "{family:?} {likelihood:?}");
        assert!(
            first.usable(),
            "{family:?} {likelihood:?}: {:?}",
            first.outcome
        );
    }
}

#[test]
fn poor_data_end_in_a_status() {
    let mut single = vec![0.0; ROWS];
    single[40] = 1.0;
    let mut loud = catches(ROWS, 4.0, 8);
    loud[17] = 1e6;
    let mut late = catches(ROWS, 4.0, 9);
    late[..ROWS - 20].fill(0.0);
    let sets = [
        ("one catch", single),
        ("a catch of a million", loud),
        ("nothing but at the last site", late),
        ("the same everywhere", vec![3.0; ROWS]),
        ("a million everywhere", catches(ROWS, 1e6, 4)),
    ];
    for (what, counts) in &sets {
        for (family, likelihood) in models() {
            // All terms at once, one term twice, and a term with a level for all rows alike.
            let visits = all_terms().pop().unwrap();
            let one = term("one", |_, _, _| 0);
            for groupings in [all_terms(), vec![visits.clone(), visits], vec![one]] {
                let mut d = design(groupings);
                d.trials = counts.iter().map(|y| y + 1.0).collect();
                let fit = GeneralFitter::new(&d, family, likelihood)
                    .unwrap()
                    .fit(counts, None)
                    .unwrap();
                let about = format!("{what} {family:?} {likelihood:?}: {:?}", fit.outcome);
                assert!(fit.evaluations < 3000, "{about}");
                if fit.usable() {
                    let numbers = fit.beta.iter().chain(&fit.covariance).chain(&fit.sd);
                    let finite = numbers.chain([&fit.log_likelihood]).all(|v| v.is_finite());
                    assert!(finite, "{about}");
                }
            }
        }
    }
    let mut f = GeneralFitter::new(
        &design(all_terms()),
        Family::NegativeBinomial,
        Likelihood::Restricted,
    )
    .unwrap();
    let none = f.fit(&[0.0; ROWS], None).unwrap();
    assert_eq!(none.outcome, Outcome::Failed("every count is 0"));
}

/// Counts so large that they are normal on the log scale, each site with a slope of its own: the mean slope has the
/// standard error of a mean of the sites' slopes, and a degree of freedom less than sites.
#[test]
fn slopes_have_one_degree_less_than_sites() {
    let slopes = [0.11, -0.05, 0.02, 0.16, -0.12, 0.07, -0.02];
    let slope = all_terms().swap_remove(1);
    let d = design(vec![term("site", |s, _, _| s), slope]);
    let counts: Vec<f64> = (0..ROWS)
        .map(|i| {
            let s = i / WEEKS / YEARS;
            exp(11.0 + 0.2 * ((s * s) % 5) as f64 + slopes[s] * centred_year(i)).round()
        })
        .collect();
    let restricted = GeneralFitter::new(&d, Family::Poisson, Likelihood::Restricted);
    let fit = restricted.unwrap().fit(&counts, None).unwrap();
    assert_eq!(fit.outcome, Outcome::Converged);
    let n = SITES as f64;
    let mean = slopes.iter().sum::<f64>() / n;
    let variance = slopes.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / (n - 1.0);
    assert!((fit.beta[1] - mean).abs() < 1e-4, "{}", fit.beta[1]);
    assert!((fit.sd[1] - variance.sqrt()).abs() < 1e-3, "{:?}", fit.sd);
    assert!((fit.se(1) - (variance / n).sqrt()).abs() < 4e-4);
    let df = fit.satterthwaite(&[0.0, 1.0]).unwrap();
    assert!((df - (n - 1.0)).abs() < 0.02, "{df}");
    assert_eq!(
        fit.satterthwaite(&[1.0]),
        None,
        "a contrast of the wrong length"
    );
    let maximum = GeneralFitter::new(&d, Family::Poisson, Likelihood::Maximum);
    let fit = maximum.unwrap().fit(&counts, None).unwrap();
    assert_eq!(fit.satterthwaite(&[0.0, 1.0]), None);
}

/// A random slope's SD is per unit of its weight, in whatever unit that is.
#[test]
fn the_unit_of_a_slope_is_the_callers() {
    let counts = catches(ROWS, 9.0, 12);
    let mut d = design(all_terms());
    d.groupings.truncate(3);
    let fit = |d: &GeneralDesign| {
        let mut f = GeneralFitter::new(d, Family::Poisson, Likelihood::Restricted).unwrap();
        f.set_tolerance(1e-15);
        f.fit(&counts, None).unwrap()
    };
    let by_year = fit(&d);
    let weight = d.groupings[1].weight.as_mut().unwrap();
    weight.iter_mut().for_each(|w| *w *= 1000.0);
    let by_thousandth = fit(&d);
    assert!((by_year.log_likelihood - by_thousandth.log_likelihood).abs() < 1e-9);
    let close =
        |a: f64, b: f64| (a - b).abs() < 1e-5 * (a.abs() + b.abs()) || (a == 0.0 && b == 0.0);
    assert!(
        close(by_year.sd[1], 1000.0 * by_thousandth.sd[1]),
        "{:?}",
        by_year.sd
    );
    assert!(close(by_year.se(1), by_thousandth.se(1)));
}

/// Without fixed effects both likelihoods are one, and without any parameter a fit is an evaluation.
#[test]
fn a_model_of_nothing_but_offsets() {
    let counts = catches(ROWS, 4.0, 21);
    for groupings in [all_terms(), Vec::new()] {
        for family in [Family::Poisson, Family::NegativeBinomial] {
            let mut d = design(groupings.clone());
            (d.x, d.columns) = (Vec::new(), 0);
            let [a, b] = [Likelihood::Maximum, Likelihood::Restricted].map(|likelihood| {
                let mut f = GeneralFitter::new(&d, family, likelihood).unwrap();
                f.fit(&counts, None).unwrap()
            });
            assert!(a.usable(), "{family:?} {:?}", a.outcome);
            assert_eq!(bits(&a), bits(&b), "{family:?}");
            if groupings.is_empty() && family == Family::Poisson {
                // exp(0) = 1 expected in each row.
                let one = |y: &f64| -1.0 - numerics::maths::ln_gamma(y + 1.0);
                let want: f64 = counts.iter().map(one).sum();
                assert!((a.log_likelihood - want).abs() < 1e-9);
            }
        }
    }
}

#[test]
fn unsound_designs_are_refused_by_name() {
    let refused = |change: &dyn Fn(&mut GeneralDesign)| {
        let mut d = design(all_terms());
        change(&mut d);
        GeneralFitter::new(&d, Family::Poisson, Likelihood::Maximum).unwrap_err()
    };
    let says = |e: DataError, words: &str| assert!(e.to_string().contains(words), "{e}");
    assert_eq!(refused(&|d| d.offset.clear()), DataError::Empty);
    says(refused(&|d| d.x.truncate(5)), "x has 5 values");
    says(refused(&|d| d.x[4] = f64::NAN), "row 3: a covariate is NaN");
    says(
        refused(&|d| d.trials = vec![0.0; ROWS]),
        "row 1: the number of trials is 0",
    );
    says(
        refused(&|d| d.groupings[0].level.truncate(9)),
        "has 9 values",
    );
    says(
        refused(&|d| d.groupings[1].weight = Some(vec![0.0; ROWS])),
        "\"slope\": its weight is 0",
    );
    says(
        refused(&|d| d.groupings[0].level[3] = SITES),
        "\"site\": a level has no row",
    );
    let loadings = |change: &'static dyn Fn(&mut Vec<f64>)| {
        refused(&|d| change(d.groupings[2].loadings.as_mut().unwrap()))
    };
    says(loadings(&|l| l.truncate(35)), "not a square matrix");
    says(
        loadings(&|l| l[1] = 0.2),
        "\"year\": its loadings must be lower triangular",
    );
    says(loadings(&|l| l[0] = 0.0), "above 0 on the diagonal");

    let mut f =
        GeneralFitter::new(&design(all_terms()), Family::Binomial, Likelihood::Maximum).unwrap();
    says(f.fit(&[1.0], None).unwrap_err(), "counts has 1 values");
    says(
        f.fit(&[2.0; ROWS], None).unwrap_err(),
        "no more than its trials",
    );
    says(
        f.fit(&[0.5; ROWS], None).unwrap_err(),
        "a whole number of 0 or more",
    );
    says(
        f.set_offset(&[f64::INFINITY; ROWS]).unwrap_err(),
        "row 1: offset",
    );
    let start = GeneralStart {
        beta: vec![0.0],
        sd: vec![],
        k: 1.0,
    };
    assert_eq!(f.learn(&[1.0; ROWS], &start).unwrap_err(), DataError::Start);
}
