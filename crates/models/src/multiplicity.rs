//! Many tests at once: which p-values still count, and how many false alarms to expect.
//!
//! Bonferroni and Holm (1979), Scandinavian Journal of Statistics 6:65-70, hold the chance of even one false alarm
//! among the tests, whatever their dependence; Benjamini & Hochberg (1995), Journal of the Royal Statistical Society B
//! 57:289-300, hold the expected share of false alarms among what is called significant, for independent (or positively
//! dependent) tests.

use numerics::maths::{exp_m1, ln_1p};

/// How p-values are adjusted for their number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Adjustment {
    /// Each p-value times the number of tests.
    Bonferroni,
    /// Holm's step down: the smallest times m, the next times m - 1, and so on until one fails.
    Holm,
    /// Benjamini & Hochberg's step up: the i-th smallest times m/i, from the largest down until one holds.
    BenjaminiHochberg,
}

/// Adjusted p-values, in the order given: each is the smallest level at which its test is rejected. They rise with the
/// p-values (equal ones stay equal) and are at most 1. A failed test (NaN) counts as p = 1, a number below 0 as 0,
/// above 1 as 1.
pub fn adjusted(p_values: &[f64], adjustment: Adjustment) -> Vec<f64> {
    let p: Vec<f64> = p_values
        .iter()
        .map(|&p| if p.is_nan() { 1.0 } else { p.clamp(0.0, 1.0) })
        .collect();
    let m = p.len();
    let mut order: Vec<usize> = (0..m).collect();
    order.sort_by(|&i, &j| p[i].total_cmp(&p[j]));
    let mut out = vec![1.0; m];
    match adjustment {
        Adjustment::Bonferroni => {
            for (out, p) in out.iter_mut().zip(&p) {
                *out = (p * m as f64).min(1.0);
            }
        }
        Adjustment::Holm => {
            let mut largest: f64 = 0.0;
            for (rank, &i) in order.iter().enumerate() {
                largest = largest.max((m - rank) as f64 * p[i]).min(1.0);
                out[i] = largest;
            }
        }
        Adjustment::BenjaminiHochberg => {
            let mut smallest: f64 = 1.0;
            for (rank, &i) in order.iter().enumerate().rev() {
                smallest = smallest.min(p[i] * (m as f64 / (rank + 1) as f64));
                out[i] = smallest;
            }
        }
    }
    out
}

/// Which tests are rejected at a level (between 0 and 1), in the order given.
pub fn rejected(p_values: &[f64], adjustment: Adjustment, level: f64) -> Vec<bool> {
    adjusted(p_values, adjustment)
        .into_iter()
        .map(|p| p <= level)
        .collect()
}

/// Expected number of false alarms when `tests` tests of nothing are each done at `level`, without adjustment.
pub fn expected_false_alarms(tests: u64, level: f64) -> f64 {
    tests as f64 * level
}

/// Chance of at least one false alarm among independent tests of nothing, each at `level` (0 to 1), without adjustment.
pub fn chance_of_a_false_alarm(tests: u64, level: f64) -> f64 {
    if tests == 0 {
        return 0.0;
    }
    -exp_m1(tests as f64 * ln_1p(-level))
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::random::Stream;
    use numerics::special::normal;

    const ALL: [Adjustment; 3] = [
        Adjustment::Bonferroni,
        Adjustment::Holm,
        Adjustment::BenjaminiHochberg,
    ];

    fn count(p: &[f64], adjustment: Adjustment, level: f64) -> usize {
        rejected(p, adjustment, level)
            .into_iter()
            .filter(|&r| r)
            .count()
    }

    /// The myocardial infarction example of Benjamini & Hochberg (1995), recalled from memory: at .05 theirs rejects
    /// the first four, Bonferroni and Holm the first three.
    #[test]
    fn fifteen_p_values() {
        let p = [
            0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262,
            0.5719, 0.6528, 0.7590, 1.000,
        ];
        for (adjustment, want) in ALL.into_iter().zip([3, 3, 4]) {
            assert_eq!(count(&p, adjustment, 0.05), want, "{adjustment:?}");
            assert!(rejected(&p, adjustment, 0.05)[..want].iter().all(|&r| r));
        }
    }

    /// By hand: .01, .02, .03, .04 in another order.
    #[test]
    fn four_p_values_by_hand() {
        let p = [0.03, 0.01, 0.04, 0.02];
        for (adjustment, want) in ALL.into_iter().zip([
            [0.12, 0.04, 0.16, 0.08],
            [0.06, 0.04, 0.06, 0.06],
            [0.04, 0.04, 0.04, 0.04],
        ]) {
            for (got, want) in adjusted(&p, adjustment).into_iter().zip(want) {
                assert!((got - want).abs() < 1e-15, "{adjustment:?}: {got} {want}");
            }
        }
    }

    /// The step procedures as their papers state them, on sorted p-values: how many are rejected.
    fn by_steps(sorted: &[f64], adjustment: Adjustment, level: f64) -> usize {
        let m = sorted.len();
        let holds = |i: usize| {
            let divisor = match adjustment {
                Adjustment::Bonferroni => m as f64,
                Adjustment::Holm => (m - i) as f64,
                Adjustment::BenjaminiHochberg => m as f64 / (i + 1) as f64,
            };
            sorted[i] <= level / divisor
        };
        match adjustment {
            Adjustment::BenjaminiHochberg => (0..m).rev().find(|&i| holds(i)).map_or(0, |i| i + 1),
            _ => (0..m).take_while(|&i| holds(i)).count(),
        }
    }

    /// Random p-values, some of them tiny: decisions are those of the step procedures; Bonferroni within Holm within
    /// Benjamini & Hochberg; adjusted values rise with the p-values.
    #[test]
    fn decisions_of_the_step_procedures() {
        let mut rng = Stream::new(3, 0);
        let mut seen = [0; 3];
        for round in 0..2000 {
            let m = 1 + round % 17;
            let mut p: Vec<f64> = (0..m)
                .map(|_| {
                    let u = rng.uniform();
                    if rng.uniform() < 0.4 {
                        u * u * u * 0.05
                    } else {
                        u
                    }
                })
                .collect();
            for level in [0.01, 0.05, 0.3] {
                let [bonferroni, holm, bh] = ALL.map(|a| rejected(&p, a, level));
                for i in 0..m {
                    assert!((!bonferroni[i] || holm[i]) && (!holm[i] || bh[i]));
                }
            }
            p.sort_by(f64::total_cmp);
            for (k, adjustment) in ALL.into_iter().enumerate() {
                let values = adjusted(&p, adjustment);
                assert!(values.is_sorted() && values[m - 1] <= 1.0);
                assert!(values.iter().zip(&p).all(|(a, p)| a >= p));
                for level in [0.01, 0.05, 0.3] {
                    let got = count(&p, adjustment, level);
                    assert_eq!(got, by_steps(&p, adjustment, level));
                    seen[k] += got;
                }
            }
        }
        assert!(
            seen[0] > 1000 && seen[1] > seen[0] && seen[2] > seen[1],
            "{seen:?}"
        );
    }

    /// Ten tests of which six of nothing, all sharing half their variance: Bonferroni and Holm hold the chance of
    /// one false alarm, Holm finding more; independent tests: Benjamini & Hochberg's expected share is level times the
    /// share of tests of nothing.
    #[test]
    fn error_rates_simulated() {
        let (rounds, level) = (20_000, 0.1);
        for shared in [0.0f64, 0.5] {
            let mut rng = Stream::new(8, (shared * 10.0) as u64);
            let mut any = [0.0; 3];
            let mut share = [0.0; 3];
            let mut found = [0.0; 3];
            for _ in 0..rounds {
                let common = rng.normal();
                let p: Vec<f64> = (0..10)
                    .map(|i| {
                        let z = shared.sqrt() * common + (1.0 - shared).sqrt() * rng.normal();
                        normal::cdf(-(z + if i < 6 { 0.0 } else { 2.5 }))
                    })
                    .collect();
                for (k, adjustment) in ALL.into_iter().enumerate() {
                    let hits = rejected(&p, adjustment, level);
                    let false_ones = hits[..6].iter().filter(|&&h| h).count() as f64;
                    let all = hits.iter().filter(|&&h| h).count() as f64;
                    any[k] += f64::from(u8::from(false_ones > 0.0));
                    share[k] += false_ones / all.max(1.0);
                    found[k] += all - false_ones;
                }
            }
            let n = f64::from(rounds);
            let slack = 4.0 * (level * (1.0 - level) / n).sqrt();
            assert!(
                any[0] / n < level * 0.6 + slack && any[1] / n < level + slack,
                "{any:?}"
            );
            assert!(found[1] > 1.02 * found[0] && found[2] > 1.1 * found[1]);
            assert!(share[2] / n < 0.6 * level + slack);
            if shared == 0.0 {
                assert!((share[2] / n - 0.6 * level).abs() < 4.0 * 0.13 / n.sqrt());
                // Six tests at level/10 each.
                let want = chance_of_a_false_alarm(6, level / 10.0);
                assert!((any[0] / n - want).abs() < slack);
            }
        }
    }

    /// Equal p-values are judged alike; a failed fit is not found significant, but counts among the tests.
    #[test]
    fn ties_and_failed_fits() {
        for adjustment in ALL {
            let a = adjusted(&[0.02, 0.01, 0.02, f64::NAN, 0.02], adjustment);
            assert!(a[0] == a[2] && a[2] == a[4] && a[1] <= a[0]);
            assert_eq!(a[3], 1.0);
            assert_eq!(
                a[1],
                adjusted(&[0.02, 0.01, 0.02, 1.0, 0.02], adjustment)[1]
            );
            assert!(adjusted(&[], adjustment).is_empty());
            assert_eq!(adjusted(&[0.03], adjustment), [0.03]);
            assert_eq!(adjusted(&[f64::NAN; 3], adjustment), [1.0; 3]);
            assert_eq!(adjusted(&[-0.1, 1.7], adjustment), [0.0, 1.0]);
            assert!(rejected(&[0.0; 4], adjustment, 0.05).iter().all(|&r| r));
        }
    }

    #[test]
    fn unadjusted_false_alarms() {
        assert_eq!(expected_false_alarms(40, 0.05), 2.0);
        assert!((chance_of_a_false_alarm(2, 0.05) - 0.0975).abs() < 1e-15);
        assert!((chance_of_a_false_alarm(1_000_000, 1e-18) / 1e-12 - 1.0).abs() < 1e-9);
        assert_eq!(chance_of_a_false_alarm(0, 1.0), 0.0);
        assert_eq!(chance_of_a_false_alarm(3, 1.0), 1.0);
    }
}
