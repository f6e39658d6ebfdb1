use super::*;
use crate::occupancy::precision::{SamplingDesign, standard_error};
use numerics::random::Stream;

/// Rows of a constant psi and p.
fn constant(rows: usize, kernel: DetectionKernel) -> OccupancyFitter {
    OccupancyFitter::new(OccupancyDesign {
        x: vec![1.0; rows],
        columns: 1,
        z: vec![1.0; rows],
        detection_columns: 1,
        kernel,
    })
    .unwrap()
}

fn inverse(v: f64) -> f64 {
    1.0 / (1.0 + exp(-v))
}

/// Detections of n visits by the standard design; of the removal design with the visits made.
fn draw(rng: &mut Stream, psi: f64, p: f64, n: u32, removal: bool) -> (u32, u32) {
    let occupied = rng.uniform() < psi;
    let mut d = 0;
    for visit in 1..=n {
        if rng.uniform() < p && occupied {
            d += 1;
            if removal {
                return (d, visit);
            }
        }
    }
    (d, n)
}

fn binomial_ln(d: f64, n: f64) -> f64 {
    let term = |k: f64| if k > 0.0 { k * ln(k / n) } else { 0.0 };
    term(d) + term(n - d)
}

/// Means and Wald intervals of 1500 surveys of 200 sites with a covariate each, visited four times.
#[test]
fn recovers_the_truth() {
    let (sites, surveys) = (200, 1500);
    let truth = [0.3, 0.8, -0.2, 0.5];
    let mut design = OccupancyDesign {
        columns: 2,
        detection_columns: 2,
        ..OccupancyDesign::default()
    };
    let mut rng = Stream::new(5, 0);
    for _ in 0..sites {
        design.x.extend([1.0, rng.normal()]);
        design.z.extend([1.0, rng.normal()]);
    }
    let mut fitter = OccupancyFitter::new(design.clone()).unwrap();
    let mut covered = [0.0; 4];
    let mut sums = [0.0; 4];
    let mut variances = [0.0; 4];
    for survey in 0..surveys {
        let mut rng = Stream::new(5, 1 + survey);
        let (mut d, mut n) = (Vec::new(), Vec::new());
        for i in 0..sites {
            let psi = inverse(dot(design.x_row(i), &truth[..2]));
            let p = inverse(dot(design.z_row(i), &truth[2..]));
            let (found, visits) = draw(&mut rng, psi, p, 4, false);
            d.push(found);
            n.push(visits);
        }
        let fit = fitter.fit(&d, &n, None).unwrap();
        assert_eq!(fit.outcome, OccupancyOutcome::Converged);
        for (j, &truth) in truth.iter().enumerate() {
            let estimate = if j < 2 { fit.beta[j] } else { fit.gamma[j - 2] };
            covered[j] += f64::from(u8::from((estimate - truth).abs() < 1.959_964 * fit.se(j)));
            sums[j] += estimate - truth;
            variances[j] += fit.se(j) * fit.se(j);
        }
    }
    let of = surveys as f64;
    for j in 0..4 {
        // Three standard errors of the share, and the small sample's bias.
        assert!((covered[j] / of - 0.95).abs() < 0.02, "{j}: {covered:?}");
        let se = (variances[j] / of).sqrt();
        assert!((sums[j] / of).abs() < 0.12 * se, "{j}: {sums:?} {se}");
    }
}

/// Standard errors of psi, by the delta method, against MacKenzie & Royle (2005, J. Appl. Ecol. 42:1105-1114).
#[test]
fn standard_errors_of_both_designs() {
    for (removal, design) in [
        (false, SamplingDesign::Standard),
        (true, SamplingDesign::Removal),
    ] {
        let (psi, p, visits, sites, surveys) = (0.5, 0.5, 5, 400, 300);
        let mut fitter = constant(sites, DetectionKernel::Binomial);
        let (mut sum, mut total, mut squares) = (0.0, 0.0, 0.0);
        for survey in 0..surveys {
            let mut rng = Stream::new(6, survey);
            let (d, n): (Vec<u32>, Vec<u32>) = (0..sites)
                .map(|_| draw(&mut rng, psi, p, visits, removal))
                .unzip();
            let fit = fitter.fit(&d, &n, None).unwrap();
            assert_eq!(fit.outcome, OccupancyOutcome::Converged);
            let v = fit.psi(0);
            sum += v * (1.0 - v) * fit.se(0);
            total += v;
            squares += v * v;
        }
        let of = surveys as f64;
        let want = standard_error(psi, p, visits, sites as f64, design);
        let got = sum / of;
        assert!((got / want - 1.0).abs() < 0.02, "{design:?}: {got} {want}");
        let mean = total / of;
        let spread = (squares / of - mean * mean).sqrt();
        assert!((mean - psi).abs() < 4.0 * want / of.sqrt(), "{mean}");
        assert!(
            (spread / want - 1.0).abs() < 0.13,
            "{design:?}: {spread} {want}"
        );
    }
}

/// Where every site has the same visits, with a detection at some of them, the optimum solves: mean detections where
/// there were any = K p/p*, and psi p* = share with any (MacKenzie et al. 2002, Ecology 83:2248).
#[test]
fn solves_the_likelihood_equations() {
    let d = [0, 0, 0, 0, 2, 1, 3, 1, 0, 1];
    let fit = constant(10, DetectionKernel::Binomial)
        .fit(&d, &[4; 10], None)
        .unwrap();
    assert_eq!(fit.outcome, OccupancyOutcome::Converged);
    let (psi, p) = (fit.psi(0), fit.p(0));
    let missed = (1.0 - p) * (1.0 - p) * (1.0 - p) * (1.0 - p);
    assert!((4.0 * p / (1.0 - missed) - 8.0 / 5.0).abs() < 1e-9);
    assert!((psi * (1.0 - missed) - 0.5).abs() < 1e-9);
}

/// The same optimum from everywhere, and never below that of the start or of a binomial kernel.
#[test]
fn the_same_optimum_from_everywhere() {
    let sites = 60;
    let mut x = Vec::new();
    for i in 0..sites {
        x.extend([1.0, f64::from(u8::from(i >= sites / 2))]);
    }
    let design = |kernel| OccupancyDesign {
        x: x.clone(),
        columns: 2,
        z: x.clone(),
        detection_columns: 2,
        kernel,
    };
    let mut plain = OccupancyFitter::new(design(DetectionKernel::Binomial)).unwrap();
    let mut correlated = OccupancyFitter::new(design(DetectionKernel::BetaBinomial)).unwrap();
    let (mut at_boundary, mut above) = (0, 0);
    for survey in 0..200 {
        let mut rng = Stream::new(7, survey);
        let (psi, p) = (0.15 + 0.7 * rng.uniform(), 0.08 + 0.5 * rng.uniform());
        let removal = survey % 2 == 0;
        let (d, n): (Vec<u32>, Vec<u32>) = (0..sites)
            .map(|_| draw(&mut rng, psi, p, 4, removal))
            .unzip();
        let half = sites / 2;
        if d[..half].iter().all(|d| *d == 0) || d[half..].iter().all(|d| *d == 0) {
            continue;
        }
        let own = plain.fit(&d, &n, None).unwrap();
        assert!(own.usable(), "{survey}: {:?}", own.outcome);
        at_boundary += usize::from(own.outcome == OccupancyOutcome::AtBoundary);
        for (beta, gamma) in [
            ([0.0, 0.0], [0.0, 0.0]),
            ([2.0, -3.0], [-2.0, 1.0]),
            ([-2.0, 1.0], [2.0, 0.5]),
        ] {
            let start = OccupancyStart {
                beta: beta.to_vec(),
                gamma: gamma.to_vec(),
                rho: None,
            };
            let other = plain.fit(&d, &n, Some(&start)).unwrap();
            assert!(
                (own.log_likelihood - other.log_likelihood).abs() < 1e-7,
                "{survey}: {own:?} {other:?}"
            );
        }
        let wider = correlated.fit(&d, &n, None).unwrap();
        assert!(wider.log_likelihood >= own.log_likelihood - 1e-12);
        above += usize::from(wider.log_likelihood > own.log_likelihood + 1e-3);
    }
    assert!(at_boundary > 5 && above > 20, "{at_boundary} {above}");
}

/// Leaving the period out never gains, and its likelihood ratio has the chi-square's 5 % (one degree of freedom)
/// when there is no difference.
#[test]
fn nested_models_compare() {
    let sites = 160;
    let mut x = Vec::new();
    for i in 0..sites {
        x.extend([1.0, f64::from(u8::from(i % 2 == 0))]);
    }
    let mut with = OccupancyFitter::new(OccupancyDesign {
        x,
        columns: 2,
        z: vec![1.0; sites],
        detection_columns: 1,
        ..OccupancyDesign::default()
    })
    .unwrap();
    let mut without = constant(sites, DetectionKernel::Binomial);
    let mut beyond = 0.0;
    for survey in 0..1000 {
        let mut rng = Stream::new(8, survey);
        let (d, n): (Vec<u32>, Vec<u32>) = (0..sites)
            .map(|_| draw(&mut rng, 0.6, 0.4, 4, false))
            .unzip();
        let a = with.fit(&d, &n, None).unwrap();
        let b = without.fit(&d, &n, None).unwrap();
        let ratio = 2.0 * (a.log_likelihood - b.log_likelihood);
        assert!(ratio > -1e-9, "{ratio}");
        beyond += f64::from(u8::from(ratio > 3.841_459));
    }
    assert!((beyond / 1000.0 - 0.05_f64).abs() < 0.021, "{beyond}");
}

/// Sites that differ: p from a beta distribution of mean .4 and intra-class correlation .25.
#[test]
fn recovers_the_correlation_of_detections() {
    let (sites, visits) = (1500, 6);
    let mut fitter = constant(sites, DetectionKernel::BetaBinomial);
    let (a, c) = (1.2, 1.8);
    let (mut covered, surveys) = ([0.0; 3], 60);
    for survey in 0..surveys {
        let mut rng = Stream::new(9, survey);
        let (d, n): (Vec<u32>, Vec<u32>) = (0..sites)
            .map(|_| {
                let (g, h) = (
                    numerics::draws::gamma(&mut rng, a),
                    numerics::draws::gamma(&mut rng, c),
                );
                draw(&mut rng, 0.7, g / (g + h), visits, false)
            })
            .unzip();
        let fit = fitter.fit(&d, &n, None).unwrap();
        let rho = fit.rho.unwrap();
        let got = [fit.beta[0], fit.gamma[0], ln(rho / (1.0 - rho))];
        let want = [ln(0.7 / 0.3), ln(0.4 / 0.6), ln(0.25 / 0.75)];
        for j in 0..3 {
            covered[j] += f64::from(u8::from((got[j] - want[j]).abs() < 1.96 * fit.se(j)));
        }
    }
    // Four standard errors of a share of 60.
    for covered in covered {
        assert!(covered / surveys as f64 > 0.95 - 0.113, "{covered}");
    }
}

/// Detections more even than chance: no correlation, and the fit of the binomial kernel.
#[test]
fn without_correlation_the_binomial_fit() {
    let d = [2, 2, 2, 0, 0, 2, 2, 0, 1, 3];
    let plain = constant(10, DetectionKernel::Binomial)
        .fit(&d, &[4; 10], None)
        .unwrap();
    let fit = constant(10, DetectionKernel::BetaBinomial)
        .fit(&d, &[4; 10], None)
        .unwrap();
    assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
    assert_eq!(fit.rho, Some(0.0));
    assert_eq!(fit.log_likelihood, plain.log_likelihood);
    assert_eq!((fit.se(0), fit.se(1)), (plain.se(0), plain.se(1)));
    assert!(fit.se(2).is_nan() && fit.evaluations > plain.evaluations);
}

/// Suprema by hand.
#[test]
fn boundaries_have_the_supremum() {
    let close = |got: f64, want: f64| assert!((got - want).abs() < 1e-8, "{got} {want}");
    // Detections so evenly spread that every site seems occupied: the binomial likelihood of all visits.
    let d = [1, 0, 1, 1, 0, 1, 1, 1];
    let fit = constant(8, DetectionKernel::Binomial)
        .fit(&d, &[3; 8], None)
        .unwrap();
    assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
    close(fit.log_likelihood, binomial_ln(6.0, 24.0));
    close(fit.p(0), 0.25);
    assert!(fit.psi(0) > 0.999_99 && fit.se(0) > 100.0);
    // Found at every visit of an occupied site.
    let d = [3, 0, 3, 3, 0, 0, 0, 3];
    let fit = constant(8, DetectionKernel::Binomial)
        .fit(&d, &[3; 8], None)
        .unwrap();
    assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
    close(fit.log_likelihood, binomial_ln(4.0, 8.0));
    close(fit.psi(0), 0.5);
    assert!((fit.se(0) - 0.5f64.sqrt()).abs() < 1e-6 && fit.p(0) > 0.999_99);
    // The same under removal: found at the first visit or not at all.
    let (d, n) = ([1, 0, 1, 1, 0, 0, 0, 1], [1, 3, 1, 1, 3, 3, 3, 1]);
    let fit = constant(8, DetectionKernel::Binomial)
        .fit(&d, &n, None)
        .unwrap();
    assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
    close(fit.log_likelihood, binomial_ln(4.0, 8.0));
    // Found always and everywhere.
    let fit = constant(8, DetectionKernel::Binomial)
        .fit(&[3; 8], &[3; 8], None)
        .unwrap();
    assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
    close(fit.log_likelihood, 0.0);
    // Nothing in the second period: the first one's likelihood, with p shared or each period's own.
    let d = [2, 0, 1, 0, 3, 0, 0, 0, 0, 0, 0, 0];
    let first = constant(6, DetectionKernel::Binomial)
        .fit(&d[..6], &[4; 6], None)
        .unwrap();
    assert_eq!(first.outcome, OccupancyOutcome::Converged);
    let mut x = Vec::new();
    for i in 0..12 {
        x.extend([1.0, f64::from(u8::from(i >= 6))]);
    }
    for (z, detection_columns) in [(vec![1.0; 12], 1), (x.clone(), 2)] {
        for kernel in [DetectionKernel::Binomial, DetectionKernel::BetaBinomial] {
            let fit = OccupancyFitter::new(OccupancyDesign {
                x: x.clone(),
                columns: 2,
                z: z.clone(),
                detection_columns,
                kernel,
            })
            .unwrap()
            .fit(&d, &[4; 12], None)
            .unwrap();
            assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
            if kernel == DetectionKernel::Binomial {
                close(fit.log_likelihood, first.log_likelihood);
                assert!((fit.beta[0] - first.beta[0]).abs() < 1e-5);
                if detection_columns == 1 {
                    assert!((fit.se(0) / first.se(0) - 1.0).abs() < 1e-4);
                }
            } else {
                assert!(fit.log_likelihood > first.log_likelihood - 1e-8);
            }
            // With each period's own p, either psi or p may be what is 0.
            assert!(fit.psi(11) * fit.p(11) < 1e-5);
            assert!(fit.se(1).is_nan() || fit.se(1) > 100.0, "{fit:?}");
        }
    }
}

#[test]
fn what_cannot_be_told_is_told() {
    let mut fitter = constant(6, DetectionKernel::Binomial);
    for (d, n, reason) in [
        ([0; 6], [3; 6], "nothing was detected"),
        ([0; 6], [0; 6], "nothing was visited"),
        (
            [1, 0, 1, 0, 0, 0],
            [1; 6],
            "the visits do not tell occupancy from detection",
        ),
    ] {
        let fit = fitter.fit(&d, &n, None).unwrap();
        assert_eq!(fit.outcome, OccupancyOutcome::Failed(reason));
        assert!(!fit.usable() && fit.beta[0].is_nan() && fit.se(0).is_nan());
    }
    // One visit each: the likelihood is the share's all the same.
    let fit = fitter.fit(&[1, 0, 1, 0, 0, 0], &[1; 6], None).unwrap();
    assert!((fit.log_likelihood - binomial_ln(2.0, 6.0)).abs() < 1e-8);
    // A period without visits has no occupancy.
    let x = [1.0, 0.0, 1.0, 0.0, 1.0, 0.0, 1.0, 0.0, 1.0, 1.0, 1.0, 1.0];
    let fit = OccupancyFitter::new(OccupancyDesign {
        x: x.to_vec(),
        columns: 2,
        z: vec![1.0; 6],
        detection_columns: 1,
        ..OccupancyDesign::default()
    })
    .unwrap()
    .fit(&[2, 0, 1, 0, 0, 0], &[3, 3, 3, 3, 0, 0], None)
    .unwrap();
    assert!(!fit.usable(), "{fit:?}");
}

#[test]
fn unsound_data_are_refused() {
    let mut fitter = constant(3, DetectionKernel::BetaBinomial);
    assert_eq!(
        fitter.fit(&[1, 4, 0], &[3; 3], None),
        Err(OccupancyError::Detections {
            row: 2,
            detections: 4,
            visits: 3
        })
    );
    assert!(matches!(
        fitter.fit(&[1, 0], &[3; 3], None),
        Err(OccupancyError::Length {
            got: 2,
            want: 3,
            ..
        })
    ));
    assert!(matches!(
        fitter.fit(&[1, 0, 0], &[3; 4], None),
        Err(OccupancyError::Length { .. })
    ));
    for (beta, gamma, rho) in [
        (vec![0.0, 0.0], vec![0.0], None),
        (vec![f64::NAN], vec![0.0], None),
        (vec![0.0], vec![0.0], Some(1.0)),
    ] {
        let start = OccupancyStart { beta, gamma, rho };
        assert_eq!(
            fitter.fit(&[1, 0, 2], &[3; 3], Some(&start)),
            Err(OccupancyError::Start)
        );
    }
}

/// With covariates in both predictors the likelihood can have several optima: few of 200 rows' fits are below the
/// best of eight other starts, never is one that ended without an estimate, and the true coefficients, given as
/// start, do no worse.
#[test]
fn seldom_another_optimum() {
    let (sites, surveys) = (200, 150);
    let (mut beaten, mut by_start) = (0, 0);
    for survey in 0..surveys {
        let mut rng = Stream::new(10, survey);
        let mut design = OccupancyDesign {
            columns: 3,
            detection_columns: 2,
            ..OccupancyDesign::default()
        };
        for i in 0..sites {
            let v = rng.normal();
            design.x.extend([1.0, v, f64::from(u8::from(i % 2 == 0))]);
            design.z.extend([1.0, rng.normal()]);
        }
        let beta = vec![rng.normal(), 0.5 * rng.normal(), rng.normal()];
        let gamma = vec![0.7 * rng.normal() - 0.5, 0.4 * rng.normal()];
        let (d, n): (Vec<u32>, Vec<u32>) = (0..sites)
            .map(|i| {
                let psi = inverse(dot(design.x_row(i), &beta));
                let p = inverse(dot(design.z_row(i), &gamma));
                draw(&mut rng, psi, p, 2 + (survey % 5) as u32, survey % 2 == 0)
            })
            .unzip();
        let mut fitter = OccupancyFitter::new(design).unwrap();
        let mut best = f64::NEG_INFINITY;
        for _ in 0..8 {
            let mut far = || 2.0 * rng.normal();
            let start = OccupancyStart {
                beta: vec![far(), far(), far()],
                gamma: vec![far(), far()],
                rho: None,
            };
            let fit = fitter.fit(&d, &n, Some(&start)).unwrap();
            best = best.max(fit.log_likelihood);
        }
        let truth = OccupancyStart {
            beta,
            gamma,
            rho: None,
        };
        for (start, beaten) in [(None, &mut beaten), (Some(&truth), &mut by_start)] {
            let fit = fitter.fit(&d, &n, start).unwrap();
            assert!(fit.usable(), "{survey}: {:?}", fit.outcome);
            *beaten += usize::from(fit.log_likelihood < best - 1e-6);
        }
    }
    assert!(beaten <= 6 && by_start <= 6, "{beaten} {by_start}");
}
