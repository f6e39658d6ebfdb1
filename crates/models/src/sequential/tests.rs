//! Published constants of group-sequential tests.

use super::*;
use numerics::special::{normal, student};

fn design(fractions: Fractions, level: f64, boundary: Boundary) -> Design {
    Design {
        fractions,
        sides: Sides::Two,
        level,
        boundary,
        futility: None,
    }
}

fn near(found: f64, want: f64, tolerance: f64, what: &str) {
    assert!(
        (found - want).abs() < tolerance,
        "{what}: {found}, not {want}"
    );
}

/// Jennison & Turnbull 2000, tables 2.1 (Pocock) and 2.3 (O'Brien & Fleming), two-sided, levels .1, .05 and .01; printed
/// there to 3 digits, here to 5 by the same integrals.
#[test]
fn constants_of_pocock_and_of_obrien_and_fleming() {
    for (looks, pocock, obf) in [
        (2, [1.87542, 2.17827, 2.77181], [1.67795, 1.97743, 2.57957]),
        (3, [1.99219, 2.28948, 2.87296], [1.70961, 2.00404, 2.59492]),
        (4, [2.06741, 2.36130, 2.93866], [1.73310, 2.02430, 2.60910]),
        (5, [2.12168, 2.41318, 2.98627], [1.75087, 2.04007, 2.62117]),
        (10, [2.26989, 2.55501, 3.11685], [1.80121, 2.08650, 2.65990]),
    ] {
        for ((level, p), o) in [0.1, 0.05, 0.01].into_iter().zip(pocock).zip(obf) {
            let d = design(Fractions::even(looks), level, Boundary::Pocock);
            let lines = d.lines();
            near(lines.upper[0], p, 2e-5, "Pocock");
            near(lines.upper[looks - 1], p, 2e-5, "Pocock, last");
            near(d.error(&lines), level, 1e-9, "level");
            let d = design(Fractions::even(looks), level, Boundary::OBrienFleming);
            let lines = d.lines();
            near(lines.upper[looks - 1], o, 2e-5, "O'Brien-Fleming");
            near(lines.upper[0], o * (looks as f64).sqrt(), 1e-4, "its first");
            near(d.error(&lines), level, 1e-9, "level");
        }
    }
}

/// Jennison & Turnbull 2000, tables 2.2 and 2.4: final information over that of a test without looks, level .05; and
/// expected information in per cent of that test's at power .9, under the alternative and under the null (from the same
/// integrals).
#[test]
fn inflation_and_expected_information() {
    let rows = [
        (Boundary::Pocock, 2, 1.11041, 1.10008, 77.593, 108.392),
        (Boundary::Pocock, 3, 1.16639, 1.15064, 72.103, 112.763),
        (Boundary::Pocock, 4, 1.20248, 1.18314, 69.748, 115.607),
        (Boundary::Pocock, 5, 1.22859, 1.20660, 68.491, 117.674),
        (
            Boundary::OBrienFleming,
            2,
            1.00779,
            1.00713,
            85.109,
            100.453,
        ),
        (
            Boundary::OBrienFleming,
            3,
            1.01741,
            1.01610,
            79.871,
            101.107,
        ),
        (
            Boundary::OBrienFleming,
            4,
            1.02385,
            1.02216,
            76.740,
            101.573,
        ),
        (
            Boundary::OBrienFleming,
            5,
            1.02841,
            1.02649,
            75.025,
            101.915,
        ),
    ];
    for (boundary, looks, at_80, at_90, alternative, null) in rows {
        let d = design(Fractions::even(looks), 0.05, boundary);
        let lines = d.lines();
        near(d.inflation(&lines, 0.8), at_80, 1e-4, "power .8");
        let inflation = d.inflation(&lines, 0.9);
        near(inflation, at_90, 1e-4, "power .9");
        let drift = d.drift_for(&lines, 0.9);
        let information =
            |drift: f64| 100.0 * inflation * d.outcome(&lines, drift).expected_information();
        near(information(drift), alternative, 2e-2, "alternative");
        near(information(0.0), null, 2e-2, "null");
    }
}

/// Lan & DeMets 1983 (Biometrika 70:659-663), level .05 on two sides, in both conventions of the O'Brien-Fleming-type
/// function and with the Pocock-type one, at even and uneven looks; computed from the stated formulas.
#[test]
fn lines_that_spend() {
    use Spending::{OBrienFleming, OBrienFlemingWhole, Pocock};
    let uneven = || Fractions::new(vec![0.3, 0.7, 1.0]).unwrap();
    let even = Fractions::even;
    let rows: [(Spending, Fractions, &[f64]); 11] = [
        (OBrienFleming, even(2), &[2.96259, 1.96860]),
        (OBrienFleming, even(3), &[3.71030, 2.51143, 1.99305]),
        (
            OBrienFleming,
            even(4),
            &[4.33263, 2.96313, 2.35904, 2.01409],
        ),
        (
            OBrienFleming,
            even(5),
            &[4.87688, 3.35701, 2.68028, 2.28982, 2.03103],
        ),
        (OBrienFlemingWhole, even(2), &[2.77181, 1.97931]),
        (
            OBrienFlemingWhole,
            even(5),
            &[4.38261, 3.09973, 2.55335, 2.25385, 2.06350],
        ),
        (Pocock, even(2), &[2.15700, 2.20098]),
        (Pocock, even(3), &[2.27943, 2.29491, 2.29594]),
        (
            Pocock,
            even(5),
            &[2.43798, 2.42681, 2.41019, 2.39665, 2.38598],
        ),
        (OBrienFleming, uneven(), &[3.928573, 2.438742, 2.000009]),
        (Pocock, uneven(), &[2.311835, 2.258346, 2.306180]),
    ];
    for (spending, fractions, want) in rows {
        let d = design(fractions, 0.05, Boundary::Spend(spending));
        let lines = d.lines();
        for (found, want) in lines.upper.iter().zip(want) {
            near(*found, *want, 2e-5, &format!("{spending:?}"));
        }
        near(d.error(&lines), 0.05, 1e-8, "level");
    }
}

/// Armitage, McPherson & Rowe 1969 (J. R. Stat. Soc. A 132:235-244): chance that one of several looks at |Z| > 1.96 raises
/// a false alarm.
#[test]
fn looking_again_and_again() {
    let naive = -normal::quantile(0.025);
    for (looks, want) in [
        (1, 0.05),
        (2, 0.083_118),
        (3, 0.107_256),
        (4, 0.126_169),
        (5, 0.141_689),
        (10, 0.193_357),
    ] {
        let d = design(Fractions::even(looks), 0.05, Boundary::Pocock);
        let lines = Lines {
            upper: vec![naive; looks],
            futility: vec![None; looks],
        };
        near(d.error(&lines), want, 2e-6, "naive looks");
    }
}

/// Two looks have a closed form of their own: the bivariate normal's, here by a fine sum over the first look.
#[test]
fn two_looks_against_a_plain_sum() {
    let fractions = Fractions::new(vec![0.4, 1.0]).unwrap();
    let d = Design {
        sides: Sides::One,
        ..design(fractions, 0.05, Boundary::Pocock)
    };
    let lines = Lines {
        upper: vec![2.2, 1.8],
        futility: vec![Some(-0.3), None],
    };
    let outcome = d.outcome(&lines, 2.5);
    let mean = 2.5 * 0.4f64.sqrt();
    let step = 1e-4;
    let sum: f64 = (0..25_000)
        .map(|i| {
            let z = -0.3 + step * (f64::from(i) + 0.5);
            let left = 0.4f64.sqrt() * z + 2.5 * 0.6 - 1.8;
            step * normal::pdf(z - mean) * normal::cdf(left / 0.6f64.sqrt())
        })
        .sum();
    near(outcome.above[1], sum, 1e-7, "second look");
    near(
        outcome.above[0],
        normal::cdf(mean - 2.2),
        1e-12,
        "first look",
    );
    near(outcome.futile[0], normal::cdf(-0.3 - mean), 1e-12, "futile");
    let ends: f64 = outcome.ends().iter().sum();
    near(ends, 1.0, 1e-12, "all end");
}

/// Lines of futility: not binding they leave the upper lines alone and only lower the chance of a false alarm; binding
/// they let the upper lines lie lower at the same level.
#[test]
fn futility_binding_and_not() {
    for rule in [
        FutilityRule::BetaSpending { beta: 0.2 },
        FutilityRule::ConditionalPower { at_least: 0.2 },
    ] {
        for boundary in [
            Boundary::Pocock,
            Boundary::OBrienFleming,
            Boundary::Spend(Spending::OBrienFleming),
        ] {
            let with = |sides, binding| Design {
                sides,
                futility: Some(Futility {
                    rule,
                    binding,
                    drift: 3.0,
                }),
                ..design(Fractions::even(4), 0.05, boundary)
            };
            for sides in [Sides::One, Sides::Two] {
                let (free, bound) = (with(sides, false), with(sides, true));
                let plain = Design {
                    futility: None,
                    ..free.clone()
                };
                let (f, b) = (free.lines(), bound.lines());
                assert_eq!(f.upper, plain.lines().upper);
                near(free.error(&f), 0.05, 1e-8, "not binding");
                near(bound.error(&b), 0.05, 1e-7, "binding");
                assert!(free.outcome(&f, 0.0).found() < 0.0499);
                assert!(b.upper[3] < f.upper[3] - 1e-4, "{b:?} {f:?}");
                let power = |d: &Design, l: &Lines| d.outcome(l, 3.0).found_on_its_side();
                assert!(power(&free, &f) < power(&bound, &b));
                assert!(power(&free, &f) < power(&plain, &plain.lines()));
            }
        }
    }
}

/// What a line of beta spending spends is what its function says, and the last look spends nothing.
#[test]
fn beta_is_spent_as_said() {
    let d = Design {
        sides: Sides::One,
        futility: Some(Futility {
            rule: FutilityRule::BetaSpending { beta: 0.1 },
            binding: false,
            drift: 3.2,
        }),
        ..design(Fractions::even(5), 0.025, Boundary::OBrienFleming)
    };
    let lines = d.lines();
    let outcome = d.outcome(&lines, 3.2);
    let mut gone = 0.0;
    for (k, &t) in d.fractions.all()[..4].iter().enumerate() {
        gone += outcome.futile[k];
        near(
            gone,
            Spending::OBrienFleming.spent(0.1, 1.0, t),
            1e-9,
            "beta",
        );
    }
    assert_eq!((outcome.futile[4], lines.futility[4]), (0.0, None));
}

/// On a line of conditional power the conditional power is as said.
#[test]
fn conditional_power_on_the_line() {
    let d = Design {
        sides: Sides::One,
        futility: Some(Futility {
            rule: FutilityRule::ConditionalPower { at_least: 0.1 },
            binding: false,
            drift: 2.5,
        }),
        ..design(Fractions::even(3), 0.05, Boundary::Pocock)
    };
    let lines = d.lines();
    for k in 0..2 {
        let t = d.fractions.all()[k];
        let power = conditional_power(lines.futility[k].unwrap(), t, lines.upper[2], 2.5);
        near(power, 0.1, 1e-12, "conditional power");
    }
}

/// The tail beyond a line is kept on the scale of t.
#[test]
fn lines_on_the_scale_of_t() {
    for (line, df) in [(1.96, 3.0), (4.2, 1.0), (-0.7, 8.0), (2.5, 18.0)] {
        let t = on_t_scale(line, df);
        let tail = student::cdf(-t.abs(), df);
        assert!((tail / normal::cdf(-f64::abs(line)) - 1.0).abs() < 1e-9);
        assert_eq!(t < 0.0, line < 0.0);
    }
    assert_eq!(on_t_scale(2.1, f64::INFINITY), 2.1);
}

/// Refused fractions.
#[test]
fn fractions_rise_to_one() {
    let of = Fractions::new;
    assert_eq!(of(vec![]), Err(BadFractions::Number(0)));
    assert_eq!(of(vec![0.5, 0.9]), Err(BadFractions::Last(0.9)));
    assert!(matches!(
        of(vec![0.6, 0.5, 1.0]),
        Err(BadFractions::Step { look: 2, .. })
    ));
    assert!(matches!(
        of(vec![f64::NAN, 1.0]),
        Err(BadFractions::Step { look: 1, .. })
    ));
    assert!(of(vec![0.2, 1.0]).is_ok());
}
