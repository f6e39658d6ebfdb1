//! What is drawn.

use leastcatch_tests::scenarios::set_b;
use leastcatch_tests::small::{checked, demo, invented};
use survey::closed_form::{expected_toll, presence};
use survey::generator::{Drawn, Generator, World};
use survey::scenario::{Checked, LocalPopulation, Revisit, Scenario};

fn surveys<T>(s: &Checked, n: u64, mut f: impl FnMut(&Drawn) -> T) -> Vec<T> {
    let generator = Generator::new(s, &s.plan);
    let mut drawn = Drawn::default();
    (0..n)
        .map(|i| {
            generator.draw(5, i, World::Change, true, &mut drawn);
            f(&drawn)
        })
        .collect()
}

fn mean_and_se(v: &[f64]) -> (f64, f64) {
    let n = v.len() as f64;
    let mean = v.iter().sum::<f64>() / n;
    let var = v.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / (n - 1.0);
    (mean, (var / n).sqrt())
}

fn rotating() -> Scenario {
    let mut s = demo("meadow-beetles.json");
    s.plan.revisit = Some(Revisit::Rotating { stay: 3 });
    (s.plan.years, s.plan.sites) = (10, 36);
    s.plan.gap_years = vec![4];
    s.plan.sites = 11 * 3;
    s
}

/// A visited site-year is that of the plan that visits all, to the last digit; the others are empty.
#[test]
fn visited_site_years_are_those_of_the_whole() {
    let pattern = checked(rotating());
    let mut whole = rotating();
    (whole.plan.revisit, whole.plan.gap_years) = (None, Vec::new());
    let whole = checked(whole);
    let told = |s: &Checked| surveys(s, 3, |d| (d.counts.clone(), d.effort.clone()));
    let visited = pattern.plan.visits_made();
    for ((counts, effort), (all, full)) in told(&pattern).iter().zip(told(&whole)) {
        for (i, v) in visited.iter().enumerate() {
            let want = if *v { (all[i], full[i]) } else { (0.0, 0.0) };
            assert_eq!((counts[i], effort[i]), want, "{i}");
        }
    }
}

/// Only visited site-years kill, by-catch too: the mean toll is the closed form's. Drop-out and late samples: those who
/// gave up kill no more, late samples do.
#[test]
fn toll_of_visited_site_years() {
    let mut drop_out = rotating();
    drop_out.premises.attrition = invented(0.2);
    drop_out.premises.late_share = invented(0.3);
    drop_out.premises.departures.loss_clustering = invented(0.5);
    drop_out.premises.trap_loss = invented(0.2);
    // Animals with an end come back while a site is not visited; and a season that moves.
    let mut ended = rotating();
    ended.premises.attrition = invented(0.1);
    ended.premises.local_population = Some(LocalPopulation {
        animals: invented(40.0),
        recovery: Some(invented(0.3)),
    });
    let mut moving = rotating();
    moving.premises.departures.season_trend = invented(10.0);
    for s in [rotating(), drop_out, ended, moving] {
        let s = checked(s);
        let expected = expected_toll(&s, &s.plan);
        let tolls = surveys(&s, 1500, |d| {
            (d.killed.iter().sum::<f64>(), d.bycatch.iter().sum::<f64>())
        });
        let target: Vec<f64> = tolls.iter().map(|t| t.0).collect();
        let bycatch: Vec<f64> = tolls.iter().map(|t| t.1).collect();
        for (got, want) in [
            (target, expected.target),
            (bycatch, expected.bycatch.iter().sum()),
        ] {
            let (mean, se) = mean_and_se(&got);
            assert!((mean - want).abs() < 4.0 * se, "{mean} +- {se}, {want}");
        }
    }
}

/// Sites are left as the share says, and a site that gave up does not come back.
#[test]
fn sites_drop_out_for_good() {
    let mut s = set_b();
    s.premises.attrition = invented(0.31);
    let s = checked(s);
    let (sites, years) = (s.plan.sites as usize, s.plan.years as usize);
    let left = surveys(&s, 400, |d| {
        for site in d.effort.chunks_exact(years) {
            assert!(site[0] > 0.0 && site.windows(2).all(|w| w[1] <= w[0]));
        }
        (0..years)
            .map(|y| (0..sites).filter(|i| d.effort[i * years + y] > 0.0).count() as f64)
            .collect::<Vec<f64>>()
    });
    let expected = presence(&s, &s.plan);
    for y in 1..years {
        let n = 400.0 * sites as f64;
        let share = left.iter().map(|l| l[y]).sum::<f64>() / n;
        let p = 0.69f64.powi(y as i32);
        assert!((expected[y] - p).abs() < 1e-12);
        assert!(
            (share - p).abs() < 4.0 * (p * (1.0 - p) / n).sqrt(),
            "{y}: {share} {p}"
        );
    }
}

/// Late samples: as many site-years as stated are without a count, though every one kills.
#[test]
fn late_samples_kill_uncounted() {
    let mut s = set_b();
    s.premises.late_share = invented(0.25);
    let s = checked(s);
    let mut plain = set_b();
    plain.premises.late_share = invented(0.0);
    let all = surveys(&checked(plain), 400, |d| d.killed.clone());
    let mut late = 0.0;
    for (i, (killed, missing)) in surveys(&s, 400, |d| {
        let missing = d.effort.iter().filter(|e| **e == 0.0).count();
        (d.killed.clone(), missing as f64)
    })
    .into_iter()
    .enumerate()
    {
        assert_eq!(killed, all[i]);
        late += missing;
    }
    let n = 400.0 * 300.0;
    assert!(
        (late / n - 0.25).abs() < 4.0 * (0.25f64 * 0.75 / n).sqrt(),
        "{}",
        late / n
    );
}

/// Clustered losses: trap-weeks are lost as often as stated, and the lost of a site-year have the beta-binomial's variance
/// n L (1 - L) (1 + (n - 1) rho); where trap points differ and where they do not, and week by week.
#[test]
fn losses_cluster_as_stated() {
    for (trap_sd, rho) in [(0.0, 0.3), (0.4, 0.3), (0.0, 0.9)] {
        let mut s = set_b();
        (s.plan.traps_per_site, s.plan.weeks, s.plan.years) = (3, 4, 3);
        s.premises.trap_loss = invented(0.2);
        s.premises.target.trap_sd = invented(trap_sd);
        s.premises.departures.loss_clustering = invented(rho);
        let s = checked(s);
        let n = 12.0;
        let lost: Vec<f64> = surveys(&s, 300, |d| d.effort.clone())
            .into_iter()
            .flatten()
            .map(|e| n - e)
            .collect();
        let (mean, se) = mean_and_se(&lost);
        assert!((mean - 0.2 * n).abs() < 4.0 * se, "{mean} +- {se}");
        let squares: Vec<f64> = lost.iter().map(|l| (l - 0.2 * n) * (l - 0.2 * n)).collect();
        let (var, se) = mean_and_se(&squares);
        let want = n * 0.2 * 0.8 * (1.0 + (n - 1.0) * rho);
        assert!((var - want).abs() < 4.0 * se, "{var} +- {se}, {want}");
    }
}
