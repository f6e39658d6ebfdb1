use super::*;
use crate::sampling::fixed_number;
use crate::sampling::probability_ratio::{Counts, Decision, Hypotheses, ProbabilityRatio};
use crate::sampling::stop_lines::{Green, Kuno};
use numerics::draws;
use numerics::random::Stream;

fn ratio_test(counts: Counts, low: f64, high: f64, error: f64) -> ProbabilityRatio {
    ProbabilityRatio::new(Hypotheses {
        counts,
        low,
        high,
        alpha: error,
        beta: error,
    })
    .unwrap()
}

fn course(most: u64, at_end: AtEnd) -> Course {
    Course {
        fewest: 1,
        most,
        at_end,
    }
}

const GREEN: Green = Green {
    relative_error: 0.25,
    a: 2.5,
    b: 1.4,
};

/// Negative binomial counts that have the power law's variance at this mean.
fn on_the_power_law(mean: f64) -> CountLaw {
    let variance = GREEN.spread().variance(mean);
    CountLaw::NegativeBinomial {
        mean,
        k: mean * mean / (variance - mean),
    }
}

fn close(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got} {want}");
}

/// Every one of the 2^12 sequences of infested and clean units, decided unit by unit.
#[test]
fn all_sequences_of_a_dozen_units() {
    let n = 12u64;
    for (p, at_end) in [
        (0.3, AtEnd::LowUpTo(3.0)),
        (0.55, AtEnd::Undecided),
        (0.05, AtEnd::LowUpTo(4.0)),
    ] {
        let test = ratio_test(Counts::Binomial, 0.2, 0.6, 0.2);
        let mut want = vec![[0.0; 5]; n as usize + 1];
        for sequence in 0..1u64 << n {
            let mut total = 0;
            // The chance of the whole sequence; those that end alike add up to that of the common beginning.
            let chance: f64 = (0..n)
                .map(|i| if sequence >> i & 1 == 1 { p } else { 1.0 - p })
                .product();
            for i in 1..=n {
                total += sequence >> (i - 1) & 1;
                let end = match (test.decide(i, total), at_end) {
                    (Decision::Low, _) => 0,
                    (Decision::High, _) => 1,
                    (Decision::GoOn, _) if i < n => continue,
                    (Decision::GoOn, AtEnd::Undecided) => 2,
                    (Decision::GoOn, AtEnd::LowUpTo(cut)) => usize::from(total as f64 > cut),
                };
                let row = &mut want[i as usize];
                row[end] += chance;
                row[3] += chance * total as f64;
                row[4] += chance * (total * total) as f64;
                break;
            }
        }
        let ends = walk(CountLaw::Binomial { units: 1, p }, &test, course(n, at_end)).unwrap();
        assert_eq!(ends.stops.len() as u64, n);
        for stop in &ends.stops {
            let row = want[stop.samples as usize];
            for (got, want) in [stop.low, stop.high, stop.undecided, stop.total, stop.square]
                .into_iter()
                .zip(row)
            {
                close(got, want, 1e-13);
            }
        }
    }
}

/// Where a line falls with n, a total that is below it now was always below it: P(N > n) = P(total of n < line).
#[test]
fn falling_lines_in_closed_form() {
    let kuno = Kuno {
        relative_error: 0.25,
        alpha: 0.5,
        beta: 1.2,
    };
    for law in [
        on_the_power_law(1.0),
        on_the_power_law(5.0),
        CountLaw::NegativeBinomial { mean: 3.0, k: 2.0 },
        CountLaw::Poisson { mean: 0.8 },
    ] {
        for lines in [&GREEN as &dyn Line, &kuno] {
            let ends = lines.ends(law, course(400, AtEnd::Undecided));
            close(ends.low(), 0.0, 0.0);
            let mut goes_on = 1.0;
            for stop in &ends.stops {
                goes_on -= stop.chance();
                let line = lines.at(stop.samples);
                let total = law.total(stop.samples);
                let want: f64 = (0..)
                    .take_while(|&t| (t as f64) < line)
                    .map(|t| total.chance(t))
                    .sum();
                let undecided = if stop.samples == 400 {
                    stop.undecided
                } else {
                    0.0
                };
                close(goes_on + undecided, want, 1e-12);
            }
        }
    }
}

/// A line as an object.
trait Line {
    fn ends(&self, law: CountLaw, course: Course) -> Ends;
    fn at(&self, samples: u64) -> f64;
}

impl<L: StopLines> Line for L {
    fn ends(&self, law: CountLaw, course: Course) -> Ends {
        walk(law, self, course).unwrap()
    }

    fn at(&self, samples: u64) -> f64 {
        at_least(self.upper(samples))
    }
}

/// Wald's (1947, Sequential Analysis, appendix) identities E T = m E N and E (T - m N)^2 = s2 E N, which hold for every
/// rule to stop.
#[test]
fn walds_identities() {
    let nb = |mean, k| CountLaw::NegativeBinomial { mean, k };
    let waters = ratio_test(Counts::NegativeBinomial { k: 0.8 }, 10.0, 20.0, 0.1);
    let poisson = ratio_test(Counts::Poisson, 1.0, 2.0, 0.1);
    let units = ratio_test(Counts::Binomial, 0.01, 0.1, 0.05);
    let cases: [(&dyn Line, CountLaw); 9] = [
        (&waters, nb(10.0, 0.8)),
        (&waters, nb(14.0, 0.8)),
        (&waters, CountLaw::Poisson { mean: 14.0 }),
        (&poisson, CountLaw::Poisson { mean: 0.1 }),
        (&poisson, nb(2.0, 3.0)),
        (&units, CountLaw::Binomial { units: 1, p: 0.04 }),
        (&units, CountLaw::Binomial { units: 5, p: 0.01 }),
        (&GREEN, on_the_power_law(0.5)),
        (&GREEN, on_the_power_law(20.0)),
    ];
    for (lines, law) in cases {
        for most in [3, 60, 2000] {
            for at_end in [AtEnd::Undecided, AtEnd::LowUpTo(30.0)] {
                let ends = lines.ends(law, course(most, at_end));
                close(ends.low() + ends.high() + ends.undecided(), 1.0, 1e-11);
                let n = ends.mean_samples();
                close(ends.mean_total() / (law.mean() * n), 1.0, 1e-10);
                let square: f64 = ends
                    .stops
                    .iter()
                    .map(|s| {
                        let m = law.mean() * s.samples as f64;
                        s.square - 2.0 * m * s.total + m * m * s.chance()
                    })
                    .sum();
                close(square / (law.variance() * n), 1.0, 1e-9);
            }
        }
    }
}

/// Wald's bounds for walks without a largest number: errors at most alpha/(1 - beta) and beta/(1 - alpha). His
/// approximations come near where one sample moves the total little (means near each other), and not where the
/// counts are clumped.
#[test]
fn walds_bounds_and_approximations() {
    for (counts, low, high, k, near) in [
        (Counts::Poisson, 1.0, 1.1, f64::INFINITY, 0.01),
        (Counts::Poisson, 1.0, 2.0, f64::INFINITY, 0.06),
        (Counts::NegativeBinomial { k: 0.8 }, 10.0, 20.0, 0.8, 0.06),
    ] {
        let test = ratio_test(counts, low, high, 0.1);
        for (mean, at_most) in [(low, 0.1 / 0.9), (high, 0.1 / 0.9), (test.slope, 1.0)] {
            let law = CountLaw::NegativeBinomial { mean, k };
            let ends = walk(law, &test, course(20_000, AtEnd::Undecided)).unwrap();
            assert!(ends.undecided() < 1e-6, "{mean}: {}", ends.undecided());
            let wrong = if mean == low { ends.high() } else { ends.low() };
            assert!(wrong < at_most, "{mean}: {wrong}");
            let wald = test.at_mean(mean);
            close(ends.low(), wald.low, near);
            // Overshoot makes walks longer than on a line they end exactly at.
            let longer = ends.mean_samples() / wald.samples;
            assert!(longer > 1.0 && longer < 1.6, "{mean}: {longer}");
        }
    }
}

/// Walks drawn one by one: Waters' test with at most 25 samples and a rule at the end, and Green's line with at least
/// 5.
#[test]
fn as_simulated() {
    let replicates = 40_000;
    let test = ratio_test(Counts::NegativeBinomial { k: 0.8 }, 10.0, 20.0, 0.1);
    let waters = course(25, AtEnd::LowUpTo(347.0));
    let green = Course {
        fewest: 5,
        most: 60,
        at_end: AtEnd::Undecided,
    };
    let cases: [(&dyn Line, CountLaw, Course); 3] = [
        (
            &test,
            CountLaw::NegativeBinomial { mean: 10.0, k: 0.8 },
            waters,
        ),
        (
            &test,
            CountLaw::NegativeBinomial { mean: 16.0, k: 0.8 },
            waters,
        ),
        (&GREEN, on_the_power_law(2.0), green),
    ];
    for (case, (lines, law, course)) in cases.into_iter().enumerate() {
        let CountLaw::NegativeBinomial { mean, k } = law else {
            unreachable!()
        };
        let mut rng = Stream::new(23, case as u64);
        let (mut low, mut samples, mut estimate, mut square) = (0.0, 0.0, 0.0, 0.0);
        for _ in 0..replicates {
            let mut total = 0.0;
            let mut n = 0u64;
            let is_low = loop {
                let density = mean / k * draws::gamma(&mut rng, k);
                total += draws::poisson(&mut rng, density);
                n += 1;
                if n < course.fewest {
                    continue;
                }
                if case < 2 && test.decide(n, total as u64) == Decision::Low {
                    break true;
                }
                if total >= lines.at(n) {
                    break false;
                }
                if n == course.most {
                    break matches!(course.at_end, AtEnd::LowUpTo(cut) if total <= cut);
                }
            };
            low += f64::from(u8::from(is_low));
            samples += n as f64;
            estimate += total / n as f64;
            square += total / n as f64 * (total / n as f64);
        }
        let of = |sum: f64| sum / f64::from(replicates);
        let ends = lines.ends(law, course);
        let root = f64::from(replicates).sqrt();
        let p = ends.low();
        close(of(low), p, 4.0 * (p * (1.0 - p)).sqrt() / root);
        close(
            of(samples),
            ends.mean_samples(),
            4.0 * ends.sd_samples() / root,
        );
        close(
            of(estimate),
            ends.mean_estimate(),
            4.0 * ends.sd_estimate() / root,
        );
        let sd = (of(square) - of(estimate) * of(estimate)).sqrt();
        assert!((sd / ends.sd_estimate() - 1.0).abs() < 0.05, "{sd}");
    }
}

/// Green's line reaches about the precision it promises, with a small upward bias from stopping at high totals; the
/// number of samples lies about the fixed number for the mean.
#[test]
fn precision_of_greens_line() {
    for mean in [0.5, 2.0, 10.0] {
        let law = on_the_power_law(mean);
        let ends = walk(law, &GREEN, course(2000, AtEnd::Undecided)).unwrap();
        assert!(ends.undecided() < 1e-12);
        assert!(
            ends.relative_bias() > 0.0 && ends.relative_bias() < 0.12,
            "{}",
            ends.relative_bias()
        );
        assert!(
            (ends.relative_error() / 0.25 - 1.0).abs() < 0.25,
            "{}",
            ends.relative_error()
        );
        let n = GREEN.samples_at(mean);
        assert!(
            (ends.mean_samples() / n - 1.0).abs() < 0.15,
            "{} {n}",
            ends.mean_samples()
        );
        let (few, many) = (ends.samples_quantile(0.05), ends.samples_quantile(0.95));
        assert!((few as f64) < n && (many as f64) > n);
        let by = |most: u64| -> f64 {
            ends.stops
                .iter()
                .filter(|s| s.samples <= most)
                .map(Stop::chance)
                .sum()
        };
        assert!(by(many) >= 0.95 && by(many - 1) < 0.95);
    }
}

/// A course with one look is the fixed number of samples: the estimate has the mean's own standard error.
#[test]
fn one_look_is_a_fixed_number() {
    for law in [
        CountLaw::NegativeBinomial { mean: 3.0, k: 0.5 },
        CountLaw::Poisson { mean: 1e4 },
        CountLaw::Binomial { units: 4, p: 0.2 },
    ] {
        let once = Course {
            fewest: 30,
            most: 30,
            at_end: AtEnd::Undecided,
        };
        let ends = walk(law, &GREEN, once).unwrap();
        close(ends.mean_samples(), 30.0, 1e-9);
        close(ends.sd_samples(), 0.0, 1e-9);
        close(ends.relative_bias(), 0.0, 1e-12);
        let spread = crate::sampling::Spread::Normal {
            variance: law.variance(),
        };
        let want = fixed_number::relative_error(spread, law.mean(), 30.0);
        close(ends.relative_error() / want, 1.0, 1e-7);
    }
}

#[test]
fn very_small_and_very_large_means() {
    // A level line at 25 animals, 1e-7 of them a sample: nothing is met in a thousand samples.
    let level = Green {
        relative_error: 0.2,
        a: 1.0,
        b: 1.0,
    };
    let rare = walk(
        CountLaw::Poisson { mean: 1e-7 },
        &level,
        course(1000, AtEnd::Undecided),
    )
    .unwrap();
    close(rare.undecided(), 1.0, 1e-12);
    close(rare.mean_total() / 1e-4, 1.0, 1e-9);
    // And a million of them: the first sample is enough.
    let dense = walk(
        CountLaw::Poisson { mean: 1e6 },
        &level,
        course(1000, AtEnd::Undecided),
    )
    .unwrap();
    assert_eq!(dense.stops.len(), 1);
    close(dense.high(), 1.0, 1e-15);
    close(dense.relative_error() / 1e-3, 1.0, 1e-6);
    // No animals at all: the lower line is met when the slope has climbed the intercept.
    let test = ratio_test(Counts::Poisson, 1.0, 2.0, 0.1);
    let none = walk(
        CountLaw::Poisson { mean: 0.0 },
        &test,
        course(10, AtEnd::Undecided),
    )
    .unwrap();
    close(none.low(), 1.0, 0.0);
    close(none.mean_samples(), 3.0, 0.0);
    // Means of tens of thousands, near each other.
    let test = ratio_test(Counts::Poisson, 40_000.0, 40_200.0, 0.05);
    let ends = walk(
        CountLaw::Poisson { mean: 40_000.0 },
        &test,
        course(60, AtEnd::Undecided),
    )
    .unwrap();
    close(ends.mean_total() / (4e4 * ends.mean_samples()), 1.0, 1e-9);
    assert!(ends.high() < 0.05 / 0.95 && ends.low() > 0.9);
}

#[test]
fn refusals() {
    let law = CountLaw::Poisson { mean: 1.0 };
    let test = ratio_test(Counts::Poisson, 1.0, 2.0, 0.1);
    let end = AtEnd::Undecided;
    let bad = CountLaw::Poisson { mean: f64::NAN };
    assert_eq!(walk(bad, &test, course(9, end)), Err(WalkError::Law));
    assert_eq!(
        walk(law, &test, course(0, end)),
        Err(WalkError::NoLook { first: 1, most: 0 })
    );
    assert_eq!(
        walk(law, &test, course(1_000_001, end)),
        Err(WalkError::TooManySamples(1_000_001))
    );
    let kuno = Kuno {
        relative_error: 0.1,
        alpha: 0.5,
        beta: 1.2,
    };
    assert_eq!(
        walk(law, &kuno, course(20, end)),
        Err(WalkError::NoLook {
            first: 21,
            most: 20
        })
    );
    let no_line = Green { b: 2.0, ..GREEN };
    assert_eq!(
        walk(law, &no_line, course(5, end)),
        Err(WalkError::NoUpperLine { samples: 1 })
    );
    let wide = CountLaw::NegativeBinomial { mean: 1e9, k: 0.5 };
    assert!(matches!(
        walk(wide, &test, course(5, end)),
        Err(WalkError::TooManyTotals(_))
    ));
    // Lines some 5e5 apart and counts that reach as far.
    let apart = ratio_test(Counts::NegativeBinomial { k: 0.5 }, 1e4, 1.5e4, 0.01);
    let law = CountLaw::NegativeBinomial {
        mean: 1.2e4,
        k: 0.5,
    };
    assert_eq!(
        walk(law, &apart, course(100, end)),
        Err(WalkError::TooManyProducts(MOST_PRODUCTS))
    );
    let law = CountLaw::Poisson { mean: 1.5 };
    assert!(walk_within(law, &test, course(100, end), 100_000).is_ok());
    assert_eq!(
        walk_within(law, &test, course(100, end), 100),
        Err(WalkError::TooManyProducts(100))
    );
}

/// The count of products is that of the loops.
#[test]
fn products_counted() {
    for (a, b, size) in [
        (1, 1, 1),
        (5, 3, 7),
        (5, 3, 4),
        (3, 9, 4),
        (3, 9, 20),
        (4, 4, 0),
    ] {
        let mut want = 0;
        for i in 0..a {
            for j in 0..b {
                want += u64::from(i + j < size);
            }
        }
        assert_eq!(pairs_below(a, b, size), want, "{a} {b} {size}");
    }
}
