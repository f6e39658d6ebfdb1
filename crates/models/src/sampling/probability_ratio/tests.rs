use super::*;

fn test(counts: Counts, low: f64, high: f64, alpha: f64, beta: f64) -> ProbabilityRatio {
    ProbabilityRatio::new(Hypotheses {
        counts,
        low,
        high,
        alpha,
        beta,
    })
    .unwrap()
}

fn nb(k: f64) -> Counts {
    Counts::NegativeBinomial { k }
}

fn close(got: f64, want: f64, tolerance: f64) {
    assert!((got / want - 1.0).abs() < tolerance, "{got} {want}");
}

/// Waters (1955), from the formulas by scipy 1.17: m0, m1, k, errors; slope, intercept.
#[test]
fn negative_binomial_lines() {
    for (low, high, k, error, slope, intercept) in [
        (10.0, 20.0, 0.8, 0.1, 13.892_976, 58.219_541),
        (1.0, 2.0, 1.5, 0.1, 1.415_037, 6.160_300),
        (5.0, 10.0, 1.5, 0.05, 6.980_433, 24.016_176),
        (2.0, 4.0, 2.0, 0.1, 2.818_842, 7.637_683),
    ] {
        let t = test(nb(k), low, high, error, error);
        close(t.slope, slope, 1e-6);
        close(t.upper, intercept, 1e-6);
        close(t.lower, -intercept, 1e-6);
    }
}

/// Wald (1947), from the formulas by scipy 1.17; for the binomial the NIST/SEMATECH e-Handbook of Statistical
/// Methods, 6.2.6, prints -.939 + .0397 n and 1.205 + .0397 n.
#[test]
fn poisson_and_binomial_lines() {
    for (t, slope, lower, upper) in [
        (
            test(Counts::Binomial, 0.01, 0.10, 0.05, 0.10),
            0.039_747_432_2,
            -0.938_861_602_6,
            1.205_378_646_3,
        ),
        (
            test(Counts::Poisson, 1.0, 2.0, 0.1, 0.1),
            std::f64::consts::LOG2_E,
            -3.169_925_001_4,
            3.169_925_001_4,
        ),
        (
            test(Counts::Poisson, 2.0, 5.0, 0.05, 0.1),
            3.274_070_003_8,
            -2.456_962_315_9,
            3.154_426_490_8,
        ),
    ] {
        close(t.slope, slope, 1e-9);
        close(t.lower, lower, 1e-9);
        close(t.upper, upper, 1e-9);
    }
    let t = test(Counts::Binomial, 0.01, 0.10, 0.05, 0.10);
    assert_eq!(
        format!("{:.3} {:.4} {:.3}", t.lower, t.slope, t.upper),
        "-0.939 0.0397 1.205"
    );
}

/// The first row above: mean, L and average sample number by scipy 1.17, at h = 1.5, 1, .5, -.5, -1.
#[test]
fn approximations_of_the_first_row() {
    let t = test(nb(0.8), 10.0, 20.0, 0.1, 0.1);
    for (h, mean, low, samples) in [
        (1.5, 8.596_379, 0.964_285_7, 10.206_743),
        (1.0, 10.0, 0.9, 11.964_017),
        (0.5, 11.734_724, 0.75, 13.487_662),
        (-0.5, 16.595_406, 0.25, 10.771_702),
        (-1.0, 20.0, 0.1, 7.626_568),
    ] {
        close(t.mean_at(h), mean, 1e-6);
        for got in [t.at_h(h), t.at_mean(t.mean_at(h))] {
            close(got.low, low, 1e-6);
            close(got.samples, samples, 1e-6);
        }
        close(t.h_at(t.mean_at(h)), h, 1e-12);
    }
}

const ALL: [(Counts, f64, f64); 11] = [
    (Counts::Poisson, 1.0, 1.0 + 1e-6),
    (Counts::NegativeBinomial { k: 2.0 }, 5.0, 5.0 + 1e-6),
    (Counts::Poisson, 1.0, 2.0),
    (Counts::Poisson, 1e-200, 1e-199),
    (Counts::Poisson, 1e12, 1.1e12),
    (Counts::NegativeBinomial { k: 0.8 }, 10.0, 20.0),
    (Counts::NegativeBinomial { k: 0.8 }, 1e-100, 1e-50),
    (Counts::NegativeBinomial { k: 0.01 }, 1e100, 1e101),
    (Counts::NegativeBinomial { k: 1e9 }, 3.0, 5.0),
    (Counts::Binomial, 0.01, 0.1),
    (Counts::Binomial, 1e-9, 1e-8),
];

/// At the two means the chances are the accepted errors, whatever the size of the means.
#[test]
fn accepted_errors_at_the_two_means() {
    for (counts, low, high) in ALL {
        let t = test(counts, low, high, 0.02, 0.2);
        assert!(t.slope > low && t.slope < high, "{counts:?} {t:?}");
        close(t.h_at(low), 1.0, 1e-7);
        close(t.h_at(high), -1.0, 1e-7);
        close(t.at_mean(low).low, 0.98, 1e-7);
        close(t.at_mean(high).low, 0.2, 1e-6);
        assert!(t.at_mean(low).samples > 0.0 && t.at_mean(high).samples > 0.0);
    }
}

/// L falls with the mean from 1 to 0, and h solves its equation; at a mean of 0 every sample adds -d slope.
#[test]
fn over_all_means() {
    for (counts, low, high) in ALL {
        let t = test(counts, low, high, 0.05, 0.1);
        let mut last = 1.0 + 1e-12;
        for j in -60..=60 {
            let h = 0.25 * f64::from(j);
            let mean = t.mean_at(h);
            if j != 0 && (1e-300..1e300).contains(&mean) && mean < 0.999_999 * most(counts) {
                close(t.h_at(mean), h, 1e-5);
            }
            let l = t.at_mean(t.mean_at(-h)).low;
            assert!(l <= last && l >= 0.0, "{counts:?} {h}: {l} {last}");
            last = l;
        }
        let none = t.at_mean(0.0);
        close(none.low, 1.0, 1e-15);
        close(none.samples, -t.lower / t.slope, 1e-12);
    }
    let t = test(Counts::Binomial, 0.01, 0.1, 0.05, 0.1);
    let all = t.at_mean(1.0);
    assert_eq!(all.low, 0.0);
    close(all.samples, t.upper / (1.0 - t.slope), 1e-12);
    let many = test(Counts::Poisson, 1.0, 2.0, 0.05, 0.1).at_mean(1e300);
    assert!(many.low == 0.0 && many.samples > 0.0 && many.samples < 1e-290);
}

fn most(counts: Counts) -> f64 {
    if counts == Counts::Binomial {
        1.0
    } else {
        f64::MAX
    }
}

/// The limit h -> 0 joins its neighbours on both sides, and the small forms join the others.
#[test]
fn about_the_slope() {
    for (counts, low, high) in ALL {
        let t = test(counts, low, high, 0.05, 0.1);
        let at = t.at_mean(t.slope);
        close(at.low, t.a / (t.a - t.b), 1e-14);
        for h in [1e-3, 1e-5, -1e-5, -1e-3] {
            // L = A/(A - B) (1 - B h/2 + ...); the sample number has a like slope.
            let near = t.at_h(h);
            close(
                near.low,
                at.low * (1.0 - 0.5 * t.b * h),
                20.0 * h * h + 1e-9,
            );
            close(near.samples, at.samples, 10.0 * h.abs() * (1.0 + t.animal));
        }
        for edge in [0.5, -0.5] {
            for h in [edge / (t.a - t.b), edge / t.animal] {
                let (below, above) = (t.at_h(h * 0.999_999), t.at_h(h * 1.000_001));
                if above.low > 1e-9 && (1e-100..1e100).contains(&above.samples) {
                    close(below.low, above.low, 1e-4);
                    close(below.samples, above.samples, 1e-4);
                }
            }
            let h = edge / (t.a - t.b);
            let low = |h| t.log_ratio_at_end(h, t.low_at(h));
            close(low(h * 0.999_999_9), low(h * 1.000_000_1), 1e-5);
        }
    }
}

/// The NIST example's plan: accept without any of 24 units, reject with 2 infested among the first 10.
#[test]
fn decisions() {
    let t = test(Counts::Binomial, 0.01, 0.10, 0.05, 0.10);
    assert_eq!(t.decide(23, 0), Decision::GoOn);
    assert_eq!(t.decide(24, 0), Decision::Low);
    assert_eq!(t.decide(2, 2), Decision::High);
    assert_eq!(t.decide(10, 1), Decision::GoOn);
    assert_eq!(t.decide(10, 2), Decision::High);
}

#[test]
fn out_of_bounds() {
    let good = Hypotheses {
        counts: Counts::Poisson,
        low: 1.0,
        high: 2.0,
        alpha: 0.1,
        beta: 0.1,
    };
    assert!(ProbabilityRatio::new(good).is_some());
    for bad in [
        Hypotheses { low: 0.0, ..good },
        Hypotheses { low: 2.0, ..good },
        Hypotheses {
            high: f64::NAN,
            ..good
        },
        Hypotheses {
            high: f64::INFINITY,
            ..good
        },
        Hypotheses { alpha: 0.0, ..good },
        Hypotheses { beta: 0.95, ..good },
        Hypotheses {
            counts: Counts::Binomial,
            low: 0.5,
            high: 1.0,
            ..good
        },
        Hypotheses {
            counts: nb(0.0),
            ..good
        },
        Hypotheses {
            counts: nb(f64::NAN),
            ..good
        },
    ] {
        assert!(ProbabilityRatio::new(bad).is_none(), "{bad:?}");
    }
    let t = ProbabilityRatio::new(good).unwrap();
    assert!(t.at_mean(-1.0).low.is_nan() && t.at_mean(f64::NAN).samples.is_nan());
}
