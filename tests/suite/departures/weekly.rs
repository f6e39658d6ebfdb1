//! Surveys week by week: the same survey, and the model's law.

use crate::support::{correlation, invented, mean, still_world, variance};
use leastcatch_tests::scenarios::checked;
use numerics::draws::{gamma, poisson};
use numerics::random::Stream;
use survey::generator::{Drawn, Generator, Weekly, World};
use survey::scenario::{Scenario, TrapPoints};
use survey::season::weight;

/// Weeks of unequal weight, two of them alike around the peak, three traps, losses.
fn scenario(trap_sd: f64, loss: f64) -> Scenario {
    let mut s = still_world();
    (s.plan.sites, s.plan.years, s.plan.traps_per_site) = (2, 3, 3);
    (s.plan.first_week, s.plan.weeks, s.plan.exposure_days) = (18, 4, 3.5);
    let t = &mut s.premises.target;
    t.catch_per_trap_week = invented(5.0);
    t.dispersion_k = invented(0.8);
    t.site_sd = invented(0.4);
    t.year_sd = invented(0.2);
    t.site_year_sd = invented(0.3);
    t.trap_sd = invented(trap_sd);
    t.season_width_weeks = invented(1.5);
    s.premises.trap_loss = invented(loss);
    s
}

#[test]
fn weeks_add_up_to_the_very_same_survey() {
    for (trap_sd, loss) in [(0.0, 0.0), (0.0, 0.3), (0.5, 0.0), (0.5, 0.3)] {
        for departing in [false, true] {
            let mut s = scenario(trap_sd, loss);
            if departing {
                s.premises.departures.shared_week_sd = invented(0.4);
                s.premises.departures.loss_follows_catch = invented(1.0);
                s.plan.trap_points = TrapPoints::NewEachYear;
            }
            let s = checked(s);
            let generator = Generator::new(&s, &s.plan);
            let (mut a, mut b) = (Drawn::default(), Drawn::default());
            let mut weekly = Weekly::default();
            for i in 0..200 {
                for world in [World::Change, World::Still] {
                    generator.draw(3, i, world, true, &mut a);
                    generator.draw_weekly(3, i, world, true, &mut b, &mut weekly);
                    assert_eq!(
                        (&a.counts, &a.effort, &a.killed, &a.bycatch),
                        (&b.counts, &b.effort, &b.killed, &b.bycatch)
                    );
                    assert_eq!(weekly.counts.len(), 2 * 3 * generator.weeks());
                    for (row, weeks) in weekly.counts.chunks(4).enumerate() {
                        assert_eq!(weeks.iter().sum::<f64>(), a.counts[row]);
                        let effort = &weekly.effort[row * 4..row * 4 + 4];
                        assert!((effort.iter().sum::<f64>() - a.effort[row]).abs() < 1e-9);
                        for (count, effort) in weeks.iter().zip(effort) {
                            assert!(*effort > 0.0 || *count == 0.0);
                            assert!(*effort <= generator.weekly_effort());
                        }
                    }
                }
            }
        }
    }
}

/// One site-year's weeks, trap-week by trap-week, straight from the model's equation.
fn one_by_one(s: &Scenario, rng: &mut Stream) -> [f64; 8] {
    let (t, p) = (&s.premises.target, &s.plan);
    let own = t.site_sd.value * rng.normal()
        + t.year_sd.value * rng.normal()
        + t.site_year_sd.value * rng.normal();
    let k = t.dispersion_k.value;
    let mut out = [0.0; 8];
    for _ in 0..p.traps_per_site {
        let trap = t.trap_sd.value * rng.normal();
        for w in 0..4 {
            let season = weight(
                f64::from(p.first_week + w),
                t.season_peak_week.value,
                t.season_width_weeks.value,
            );
            let mu = t.catch_per_trap_week.value * season * 0.5 * (own + trap).exp();
            let mean = mu * gamma(rng, k) / k;
            let count = poisson(rng, mean);
            if rng.uniform() >= s.premises.trap_loss.value {
                out[w as usize] += count;
                out[4 + w as usize] += 0.5;
            }
        }
    }
    out
}

/// Means, variances and correlations of counts and efforts of all weeks, against the trap-weeks drawn one by one.
#[test]
fn weeks_have_the_law_of_single_trap_weeks() {
    let n = 30_000;
    for (trap_sd, loss) in [(0.0, 0.0), (0.0, 0.3), (0.5, 0.3)] {
        let s = scenario(trap_sd, loss);
        let run = checked(s.clone());
        let generator = Generator::new(&run, &run.plan);
        let (mut drawn, mut weekly) = (Drawn::default(), Weekly::default());
        let mut got: Vec<Vec<f64>> = vec![Vec::new(); 8];
        let mut want = got.clone();
        let mut rng = Stream::new(78, 0);
        for i in 0..n {
            generator.draw_weekly(3, i, World::Still, false, &mut drawn, &mut weekly);
            let one = one_by_one(&s, &mut rng);
            for w in 0..4 {
                got[w].push(weekly.counts[8 + w]);
                got[4 + w].push(weekly.effort[8 + w]);
            }
            for (list, value) in want.iter_mut().zip(one) {
                list.push(value);
            }
        }
        for w in 0..8 {
            let what = format!("column {w}, trap SD {trap_sd}, loss {loss}");
            let (a, b) = (&got[w], &want[w]);
            let se = ((variance(a) + variance(b)) / n as f64).sqrt().max(1e-12);
            assert!((mean(a) - mean(b)).abs() < 4.0 * se, "{what}: means");
            let fourth = |v: &[f64]| {
                let (m, var) = (mean(v), variance(v));
                mean(&v.iter().map(|x| (x - m).powi(4)).collect::<Vec<_>>()) - var * var
            };
            let se = ((fourth(a) + fourth(b)) / n as f64).sqrt().max(1e-12);
            let (va, vb) = (variance(a), variance(b));
            assert!((va - vb).abs() < 4.0 * se, "{what}: variances {va} {vb}");
        }
        for a in 0..4 {
            for b in 0..a {
                // Counts are far from normal: SE taken as twice that of normal numbers.
                let (x, y) = (
                    correlation(&got[a], &got[b]),
                    correlation(&want[a], &want[b]),
                );
                let se = 2.0 * (2.0 / n as f64).sqrt();
                assert!((x - y).abs() < 4.0 * se, "weeks {a} and {b}: {x} {y}");
            }
        }
    }
}
