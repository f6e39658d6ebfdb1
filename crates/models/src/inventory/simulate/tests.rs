use super::*;
use numerics::special::normal;

fn ways() -> [Sampling; 5] {
    [
        Sampling::Individuals(300),
        Sampling::Catch {
            rate: 15.0,
            effort: 20.0,
            clumping: None,
        },
        Sampling::Catch {
            rate: 15.0,
            effort: 20.0,
            clumping: Some(0.7),
        },
        Sampling::Samples {
            samples: 20,
            rate: 15.0,
            clumping: None,
        },
        Sampling::Samples {
            samples: 20,
            rate: 15.0,
            clumping: Some(0.7),
        },
    ]
}

#[test]
fn communities() {
    let even = Community::log_normal(40, 0.0).unwrap();
    assert!(even.shares().iter().all(|p| (p - 0.025).abs() < 1e-15));
    let c = Community::log_normal(201, 1.5).unwrap();
    assert!((c.shares().iter().sum::<f64>() - 1.0).abs() < 1e-12);
    assert!(c.shares().windows(2).all(|w| w[0] > w[1]));
    // The middle species is the median, and one at a quantile q is exp(1.5 q) from it.
    let ratio = c.shares()[0] / c.shares()[100];
    assert!((ratio / exp(-1.5 * normal::quantile(0.5 / 201.0)) - 1.0).abs() < 1e-12);
    let g = Community::geometric(5, 0.5).unwrap();
    for (p, want) in g.shares().iter().zip([16.0, 8.0, 4.0, 2.0, 1.0]) {
        assert!((p - want / 31.0).abs() < 1e-15);
    }
    let w = Community::from_weights(&[3.0, 0.0, 1.0]).unwrap();
    assert_eq!((w.shares(), w.species()), (&[0.75, 0.0, 0.25][..], 2));
}

#[test]
fn errors_say_what_is_wrong() {
    assert_eq!(
        Community::from_weights(&[0.0]),
        Err(SimulationError::NoSpecies)
    );
    assert_eq!(
        Community::log_normal(0, 1.0),
        Err(SimulationError::NoSpecies)
    );
    for bad in [f64::NAN, -1.0, f64::INFINITY] {
        let e = Community::from_weights(&[1.0, bad]).unwrap_err();
        assert!(e.to_string().contains("species 1"), "{e}");
    }
    assert!(Community::log_normal(5, f64::NAN).is_err());
    assert!(Community::geometric(5, 0.0).is_err() && Community::geometric(5, 1.1).is_err());
    let c = Community::geometric(5, 0.5).unwrap();
    for (rate, effort, clumping, what) in [
        (0.0, 1.0, None, "trap-week"),
        (1.0, f64::NAN, None, "effort"),
        (1e300, 1e300, None, "whole effort"),
        (1.0, 1.0, Some(0.0), "dispersion"),
    ] {
        let e = Simulator::new(
            &c,
            Sampling::Catch {
                rate,
                effort,
                clumping,
            },
        );
        assert!(e.unwrap_err().to_string().contains(what));
    }
    assert!(Simulator::new(&c, Sampling::Individuals(0)).is_err());
}

/// Mean coverage and species of many inventories are those of the closed forms, however sampled; the estimate of
/// coverage is right in the mean where individuals are caught apart from each other (Chao & Jost 2012, Ecology
/// 93:2533-2547), and by samples even where they are not.
#[test]
fn means_by_closed_form() {
    let c = Community::log_normal(120, 1.3).unwrap();
    for (i, sampling) in ways().into_iter().enumerate() {
        let s = Simulator::new(&c, sampling).unwrap();
        let n = 4000;
        let outcomes: Vec<Outcome> = (0..n).map(|r| s.outcome(5, r)).collect();
        let mean = |of: &dyn Fn(&Outcome) -> f64| {
            let m = outcomes.iter().map(of).sum::<f64>() / n as f64;
            let v = outcomes
                .iter()
                .map(|o| (of(o) - m) * (of(o) - m))
                .sum::<f64>();
            (m, v.sqrt() / n as f64)
        };
        let (m, se) = mean(&|o| o.coverage);
        let want = s.expected_coverage();
        assert!((m - want).abs() < 4.0 * se, "{i}: {m} {want} {se}");
        let (m, se) = mean(&|o| o.species);
        let want = s.expected_species();
        assert!((m - want).abs() < 4.0 * se, "{i}: {m} {want} {se}");
        let (bias, se) = mean(&|o| o.estimated_coverage - o.coverage);
        if i == 2 {
            // Individuals that come in clumps feign coverage.
            assert!(bias > 0.1, "{bias} {se}");
        } else {
            assert!(bias.abs() < 4.0 * se + 0.002, "{i}: {bias} {se}");
        }
        for o in &outcomes {
            assert!((o.species_share - o.species / 120.0).abs() < 1e-15);
        }
    }
}

/// Fixed effort gives a Poisson total, clumped catches a wider one: total variance is the sum of mu + mu^2/k.
#[test]
fn variance_of_the_catch() {
    let c = Community::geometric(12, 0.7).unwrap();
    for clumping in [None, Some(0.7)] {
        let sampling = Sampling::Catch {
            rate: 10.0,
            effort: 8.0,
            clumping,
        };
        let s = Simulator::new(&c, sampling).unwrap();
        let n = 20_000;
        let totals: Vec<f64> = (0..n).map(|r| s.outcome(6, r).total).collect();
        let m = totals.iter().sum::<f64>() / n as f64;
        let v = totals.iter().map(|t| (t - m) * (t - m)).sum::<f64>() / n as f64;
        let want: f64 = c
            .shares()
            .iter()
            .map(|p| 80.0 * p)
            .map(|mu| mu + clumping.map_or(0.0, |k| mu * mu / k))
            .sum();
        assert!((m - 80.0).abs() < 4.0 * (want / n as f64).sqrt(), "{m}");
        assert!((v / want - 1.0).abs() < 0.08, "{v} {want}");
    }
}

#[test]
fn seed_and_replicate_determine_it() {
    let c = Community::log_normal(60, 1.0).unwrap();
    for sampling in ways() {
        let s = Simulator::new(&c, sampling).unwrap();
        assert_eq!(s.outcome(3, 8), s.outcome(3, 8));
        assert_ne!(s.outcome(3, 8), s.outcome(3, 9));
        assert_ne!(s.outcome(3, 8), s.outcome(4, 8));
    }
}

/// Nine of ten like species are nine tenths, though ten shares of .1 do not add up so in floating point.
#[test]
fn a_share_just_reached_is_reached() {
    let c = Community::from_weights(&[1.0; 10]).unwrap();
    let s = Simulator::new(&c, Sampling::Individuals(20)).unwrap();
    let n = 200;
    let nine = (0..n).filter(|&r| s.outcome(1, r).species >= 9.0).count() as u64;
    assert!(nine > 20 && nine < n);
    assert_eq!(s.chance_of_coverage(0.9, 1, n, 0.95).reached, nine);
}

/// One species: covered as soon as one is caught, with chance 1 - exp(-mean).
#[test]
fn chance_by_closed_form() {
    let c = Community::from_weights(&[1.0]).unwrap();
    let sampling = Sampling::Catch {
        rate: 0.5,
        effort: 2.0,
        clumping: None,
    };
    let s = Simulator::new(&c, sampling).unwrap();
    let chance = s.chance_of_coverage(0.9, 2, 10_000, 0.9999);
    let want = 1.0 - exp(-1.0);
    assert!(
        chance.interval.0 < want && want < chance.interval.1,
        "{chance:?}"
    );
    assert_eq!(chance.share, chance.reached as f64 / 10_000.0);
    assert!(s.chance_of_coverage(0.9, 2, 0, 0.95).share.is_nan());
}
