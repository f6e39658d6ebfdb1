//! A search that stops early, and Newton's last step: what it says of the fixed effects is what a search to the end says.

use models::glmm::{Design, Family, Fit, Fitter, Layout, Likelihood, MISSING, Model, Start, Terms};
use numerics::draws::{gamma, poisson};
use numerics::maths::{exp, ln};
use numerics::random::Stream;

const YEARS: usize = 10;
/// The tolerance of simulated surveys.
const EARLY: f64 = 1e-3;

fn design(sites: usize) -> Design {
    let mut d = Design {
        columns: 2,
        ..Design::default()
    };
    for (s, y) in (0..sites).flat_map(|s| (0..YEARS).map(move |y| (s, y))) {
        d.site.push(s);
        d.year.push(y);
        d.x.extend([1.0, y as f64 - 0.5 * (YEARS as f64 - 1.0)]);
        d.offset.push(0.0);
    }
    d
}

fn survey(rng: &mut Stream, sites: usize, at: &Start) -> Vec<f64> {
    let year: Vec<f64> = (0..YEARS).map(|_| at.year_sd * rng.normal()).collect();
    let mut counts = Vec::new();
    for _ in 0..sites {
        let site = at.site_sd * rng.normal();
        for (y, year) in year.iter().enumerate() {
            let t = y as f64 - 0.5 * (YEARS as f64 - 1.0);
            let mean = exp(at.beta[0] + at.beta[1] * t + site + year);
            let many = gamma(rng, at.k) / at.k;
            counts.push(poisson(rng, mean * many));
        }
    }
    counts
}

fn fitter(sites: usize, likelihood: Likelihood) -> Fitter {
    let model = Model {
        family: Family::NegativeBinomial,
        terms: Terms {
            site: true,
            year: true,
            site_year: false,
        },
        likelihood,
    };
    Fitter::new(Layout::new(&design(sites)).unwrap(), model)
}

/// A fitter that stops early and one that does not, both having learned from the same counts.
fn early_and_full(sites: usize, learning: &[f64], start: &Start) -> [Fitter; 2] {
    [EARLY, 1e-11].map(|tolerance| {
        let mut fitter = fitter(sites, Likelihood::Restricted);
        fitter.set_tolerance(tolerance);
        fitter.learn(learning, start).unwrap();
        fitter
    })
}

fn t(fit: &Fit) -> f64 {
    fit.beta[1] / fit.se(1)
}

/// Many catches and few, years alike and not, few sites and many.
#[test]
fn restricted_fits_say_the_same() {
    let mut off = Vec::new();
    for (case, (sites, level, year_sd)) in [
        (5, 3.0, 0.3),
        (15, 1.0, 0.05),
        (30, 3.5, 0.1),
        (60, 0.0, 0.2),
    ]
    .into_iter()
    .enumerate()
    {
        let at = Start {
            beta: vec![level, -0.03],
            site_sd: 0.6,
            year_sd,
            site_year_sd: 0.0,
            k: 6.0,
        };
        let mut rng = Stream::new(5, case as u64);
        let learning = survey(&mut rng, sites, &at);
        let [mut early, mut full] = early_and_full(sites, &learning, &at);
        let (mut few, mut many) = (0, 0);
        for _ in 0..150 {
            let counts = survey(&mut rng, sites, &at);
            let a = early.fit(&counts, Some(&at)).unwrap();
            let b = full.fit(&counts, Some(&at)).unwrap();
            assert!(
                a.usable() && b.usable(),
                "{case} {:?} {:?}",
                a.outcome,
                b.outcome
            );
            assert!((a.log_likelihood - b.log_likelihood).abs() < 2e-3, "{case}");
            few += a.evaluations;
            many += b.evaluations;
            off.push((t(&a) - t(&b)).abs());
        }
        assert!(few < many, "{case}: {few} {many}");
    }
    off.sort_by(f64::total_cmp);
    let n = off.len();
    assert!(off[n / 2] < 2e-4, "{}", off[n / 2]);
    assert!(off[n * 99 / 100] < 0.02, "{}", off[n * 99 / 100]);
    assert!(off[n - 1] < 0.1, "{}", off[n - 1]);
}

/// Catches so rare that the likelihood is nearly level in log k, and years so alike that their SD is often 0: no more
/// fits fail than of searches to the end, and an SD of 0 is found to be 0, on which Satterthwaite's degrees of freedom
/// hang.
#[test]
fn level_likelihoods_are_searched_to_the_end() {
    let n = 150;
    let mut failed = [0, 0];
    for (case, (sites, mean, k, year_sd)) in [
        (100, 0.03, 40.0, 0.2),
        (60, 0.1, 100.0, 0.2),
        (20, 0.1, 1e4, 0.2),
        (20, 3.0, 6.0, 0.02),
        (8, 20.0, 3.0, 0.0),
    ]
    .into_iter()
    .enumerate()
    {
        let at = Start {
            beta: vec![ln(mean), -0.03],
            site_sd: 0.6,
            year_sd,
            site_year_sd: 0.0,
            k,
        };
        let start = Start {
            year_sd: at.year_sd.max(0.05),
            ..at.clone()
        };
        let mut rng = Stream::new(8, case as u64);
        let learning = survey(&mut rng, sites, &at);
        let [mut early, mut full] = early_and_full(sites, &learning, &start);
        for _ in 0..n {
            let counts = survey(&mut rng, sites, &at);
            let a = early.fit(&counts, Some(&start)).unwrap();
            let b = full.fit(&counts, Some(&start)).unwrap();
            failed[0] += i32::from(!a.usable());
            failed[1] += i32::from(!b.usable());
            if a.usable() && b.usable() {
                assert!((t(&a) - t(&b)).abs() < 0.1, "{case}: {a:?} {b:?}");
                assert_eq!(a.sd.year == 0.0, b.sd.year == 0.0, "{case}: {a:?} {b:?}");
            }
        }
    }
    assert!(failed[0] <= failed[1] + 5, "{failed:?}");
}

/// Counts that leave a likelihood level in log k, at the end of which straight lines made a variance negative.
#[test]
fn no_usable_fit_has_a_negative_variance() {
    let mut d = Design {
        columns: 2,
        ..Design::default()
    };
    for y in 0..4 {
        d.site.push(0);
        d.year.push(y);
        d.x.extend([1.0, y as f64]);
        d.offset.push(0.0);
    }
    let model = Model {
        family: Family::NegativeBinomial,
        terms: Terms {
            site: true,
            year: true,
            site_year: false,
        },
        likelihood: Likelihood::Restricted,
    };
    for (k, count) in [(0.01, 1e9), (5.0, 1e9), (0.01, 1e3), (5.0, 1e3)] {
        let mut f = Fitter::new(Layout::new(&d).unwrap(), model);
        f.set_tolerance(EARLY);
        let at = Start {
            beta: vec![0.0, 0.0],
            site_sd: 0.0,
            year_sd: 0.0,
            site_year_sd: 0.0,
            k,
        };
        f.learn(&[0.0, 4.0, 8.0, 1.0], &at).unwrap();
        f.set_offset(&[0.0, MISSING, 0.0, MISSING]).unwrap();
        let fit = f.fit(&[count, 0.0, count, 0.0], Some(&at)).unwrap();
        assert!(!fit.usable() || fit.se(1) > 0.0, "{fit:?}");
    }
}

/// A start learned from other counts changes nothing but the way there.
#[test]
fn learning_does_not_move_the_optimum() {
    let sites = 12;
    let at = Start {
        beta: vec![2.0, 0.02],
        site_sd: 0.5,
        year_sd: 0.2,
        site_year_sd: 0.0,
        k: 3.0,
    };
    for likelihood in [Likelihood::Maximum, Likelihood::Restricted] {
        let mut rng = Stream::new(6, 0);
        let mut learned = fitter(sites, likelihood);
        learned.learn(&survey(&mut rng, sites, &at), &at).unwrap();
        let mut plain = fitter(sites, likelihood);
        for _ in 0..40 {
            let counts = survey(&mut rng, sites, &at);
            let a = learned.fit(&counts, Some(&at)).unwrap();
            let b = plain.fit(&counts, None).unwrap();
            assert!(
                (a.log_likelihood - b.log_likelihood).abs() < 1e-8,
                "{a:?} {b:?}"
            );
            assert!((t(&a) - t(&b)).abs() < 1e-4, "{a:?} {b:?}");
        }
    }
}
