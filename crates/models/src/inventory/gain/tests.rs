use super::*;
use numerics::draws::poisson;
use numerics::random::Stream;

fn stratum(counts: &[u64], trap_weeks: f64, killed: f64) -> Stratum {
    Stratum {
        counts: counts.to_vec(),
        trap_weeks,
        killed_per_trap_week: killed,
    }
}

/// Three strata with common, own and shared species: mean catch of each species a trap-week.
fn rates() -> Vec<[f64; 3]> {
    let mut stream = Stream::new(12, 0);
    (0..150)
        .map(|i| {
            let base = 0.06 * exp(1.6 * stream.normal());
            match i % 5 {
                0 => [base, 0.0, 0.0],
                1 => [0.0, base, 0.0],
                2 => [0.2 * base, base, 2.0 * base],
                _ => [base, 0.5 * base, base],
            }
        })
        .collect()
}

const EFFORT: [f64; 3] = [12.0, 20.0, 8.0];

fn draw(rates: &[[f64; 3]], stream: &mut Stream) -> Vec<Stratum> {
    let mut strata: Vec<Stratum> = EFFORT.iter().map(|&e| stratum(&[], e, 1.0)).collect();
    for rate in rates {
        for (s, r) in strata.iter_mut().zip(rate) {
            s.counts.push(poisson(stream, r * s.trap_weeks) as u64);
        }
    }
    strata
}

/// New species truly expected of further trap-weeks, given what was caught.
fn truth(rates: &[[f64; 3]], strata: &[Stratum], weeks: &[f64; 3]) -> f64 {
    rates
        .iter()
        .enumerate()
        .filter(|(i, _)| strata.iter().all(|s| s.counts[*i] == 0))
        .map(|(_, rate)| {
            let further: f64 = rate.iter().zip(weeks).map(|(r, w)| r * w).sum();
            -exp_m1(-further)
        })
        .sum()
}

/// Over 6000 catches of one fauna the gain of one more trap-week in each stratum is right in the mean; of half the
/// past effort, where the model of unseen species comes in, within a twentieth.
#[test]
fn the_gain_is_unbiased() {
    let rates = rates();
    let plans = [
        [1.0, 0.0, 0.0],
        [0.0, 1.0, 0.0],
        [0.0, 0.0, 1.0],
        [6.0, 0.0, 0.0],
        [0.0, 10.0, 0.0],
        [0.0, 0.0, 4.0],
        [6.0, 10.0, 4.0],
    ];
    let n = 6000;
    let mut sums = [[0.0; 3]; 7];
    for r in 0..n {
        let mut stream = Stream::new(41, r);
        let strata = draw(&rates, &mut stream);
        let gain = Gain::new(&strata).unwrap();
        for (sum, plan) in sums.iter_mut().zip(&plans) {
            let (told, true_) = (gain.new_species(plan), truth(&rates, &strata, plan));
            let error = told - true_;
            sum[0] += error;
            sum[1] += error * error;
            sum[2] += true_;
        }
    }
    let n = n as f64;
    for (i, (sum, plan)) in sums.iter().zip(&plans).enumerate() {
        let (bias, true_) = (sum[0] / n, sum[2] / n);
        let se = ((sum[1] / n - bias * bias) / n).sqrt();
        let model = if i < 3 { 0.01 } else { 0.05 };
        assert!(
            bias.abs() < 4.0 * se + model * true_,
            "{plan:?}: {bias} {se} of {true_}"
        );
    }
}

/// By hand: pooled 2, 1, 1, 1, 4, 2: f1 = 3 (two in the first stratum, one in the second), f2 = 2, n = 11.
#[test]
fn a_small_case() {
    let strata = [
        stratum(&[2, 1, 1, 0, 1, 1], 4.0, 10.0),
        stratum(&[0, 0, 0, 1, 3, 1], 2.0, 100.0),
    ];
    let gain = Gain::new(&strata).unwrap();
    let f0 = 10.0 / 11.0 * 9.0 / 4.0;
    assert!((gain.unseen() - f0).abs() < 1e-14);
    // One of two doubletons is of one stratum; by chance it would be 2/(3 2) = 1/3.
    assert!((gain.apart() - 0.25).abs() < 1e-14);
    let rate = 3.0 / f0;
    let own = 2.0 / 3.0 * (1.0 - exp(-0.25 * rate));
    let want = f0 * (0.25 * own + 0.75 * (1.0 - exp(-0.25 * 2.0 / 3.0 * rate)));
    let next = gain.next_trap_week(0.95);
    assert_eq!(next[0].stratum, 0);
    assert!((next[0].new_species - want).abs() < 1e-14);
    assert!((next[0].species_per_animal - want / 10.0).abs() < 1e-15);
    assert_eq!((next[1].stratum, next[1].killed), (1, 100.0));
    // The start is Good's f1j/Ej, and equal shares of effort give the pooled curve.
    let h = 1e-7;
    assert!((gain.new_species(&[h, 0.0]) / h - 0.5).abs() < 1e-6);
    assert!((gain.new_species(&[0.0, h]) / h - 0.5).abs() < 1e-6);
    let all = gain.new_species(&[2.0, 1.0]);
    assert!((all - f0 * (1.0 - exp(-0.5 * rate))).abs() < 1e-14);
    assert!((gain.new_species(&[1e9, 1e9]) - f0).abs() < 1e-12);
}

/// Against the best of all allocations, and steps that add up.
#[test]
fn greedy_allocation() {
    let mut stream = Stream::new(41, 5);
    let mut strata = draw(&rates(), &mut stream);
    for (s, k) in strata.iter_mut().zip([30.0, 12.0, 80.0]) {
        s.killed_per_trap_week = k;
    }
    let gain = Gain::new(&strata).unwrap();
    let weeks = 9;
    let a = gain.allocate(weeks, By::TrapWeek);
    assert_eq!(a.trap_weeks.iter().sum::<u32>(), weeks);
    let plan: Vec<f64> = a.trap_weeks.iter().map(|&w| f64::from(w)).collect();
    let last = a.steps.last().unwrap();
    assert!((last.new_species - gain.new_species(&plan)).abs() < 1e-12);
    let mut best: f64 = 0.0;
    for i in 0..=weeks {
        for j in 0..=weeks - i {
            let plan = [i, j, weeks - i - j].map(f64::from);
            best = best.max(gain.new_species(&plan));
        }
    }
    assert!(last.new_species > 0.99 * best && last.new_species <= best + 1e-12);
    // For each animal: every step takes the best ratio, so that ratios fall along the steps.
    let a = gain.allocate(weeks, By::Animal);
    let (mut species, mut killed, mut ratio) = (0.0, 0.0, f64::INFINITY);
    for s in &a.steps {
        let now = (s.new_species - species) / (s.killed - killed);
        assert!(now <= ratio + 1e-12);
        (species, killed, ratio) = (s.new_species, s.killed, now);
    }
    assert_eq!(a.steps[0].stratum, gain.next_trap_week(0.95)[0].stratum);
    assert!(!a.beyond_double && gain.allocate(60, By::Animal).beyond_double);
    assert!(gain.allocate(0, By::Animal).steps.is_empty());
}

#[test]
fn special_cases() {
    // Nothing seen once: no gain, whatever the kills; the interval says what is not excluded.
    let none = Gain::new(&[stratum(&[3, 2], 10.0, 0.0)]).unwrap();
    let next = none.next_trap_week(0.95)[0];
    assert_eq!((next.new_species, next.species_per_animal), (0.0, 0.0));
    assert!((next.interval.1 - -ln(0.025) / 10.0).abs() < 1e-9);
    // One singleton, none twice: still Good's 1/E at the start.
    let one = Gain::new(&[stratum(&[3, 1], 10.0, 0.0)]).unwrap();
    assert_eq!((one.unseen(), one.apart()), (1.0, 1.0));
    let next = one.next_trap_week(0.95)[0];
    assert!((next.new_species - (1.0 - exp(-0.1))).abs() < 1e-14);
    assert_eq!(next.species_per_animal, f64::INFINITY);
}

/// Garwood (1936): 95 % limits of 10 are 4.795 and 18.390, of 0 they are 0 and 3.689 (from memory).
#[test]
fn exact_poisson_limits() {
    let (low, high) = poisson_interval(10.0, 0.95);
    assert!((low - 4.795).abs() < 1e-3 && (high - 18.390).abs() < 1e-3);
    let (low, high) = poisson_interval(0.0, 0.95);
    assert!(low == 0.0 && (high - 3.689).abs() < 1e-3);
    let (low, high) = poisson_interval(2000.0, 0.95);
    assert!(low > 1910.0 && low < 1915.0 && high > 2088.0 && high < 2092.0);
}

#[test]
fn errors_say_what_is_wrong() {
    let e = Gain::new(&[stratum(&[1, 2], 1.0, 1.0), stratum(&[1], 1.0, 1.0)]).unwrap_err();
    assert!(
        e.to_string()
            .contains("stratum 1 has 1 species, the first has 2")
    );
    for (effort, killed) in [
        (0.0, 1.0),
        (f64::NAN, 1.0),
        (1.0, -1.0),
        (1.0, f64::INFINITY),
    ] {
        let e = Gain::new(&[stratum(&[1], effort, killed)]).unwrap_err();
        assert!(matches!(e, GainError::Range { stratum: 0, .. }), "{e}");
    }
    assert_eq!(
        Gain::new(&[stratum(&[0], 1.0, 1.0)]),
        Err(GainError::Inventory(InventoryError::Empty))
    );
    assert_eq!(Gain::new(&[]), Err(GainError::NoStrata));
}
