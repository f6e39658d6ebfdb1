//! The generator draws at the coarsest exact level. Here the same surveys are built trap by trap and week by week,
//! straight from the model's equation, and the two laws are compared: means, variances and a two-sample
//! Kolmogorov-Smirnov test (critical value c sqrt((n+m)/(n m)), c = 1.95 for a false alarm in 1000; Smirnov 1948,
//! Ann. Math. Stat. 19:279-281).

use leastcatch_tests::scenarios::{checked, set_b};
use numerics::draws::{gamma, poisson};
use numerics::random::Stream;
use survey::generator::{Drawn, Generator, World};
use survey::scenario::{Bycatch, Checked, Class, Premise, Source};
use survey::season::weight;

fn invented(value: f64) -> Premise {
    Premise::new(value, Source::Invented)
}

/// Two sites, three years, three traps, four weeks of unequal weight, losses, every spread above 0.
fn scenario(trap_sd: f64, loss: f64) -> Checked {
    let mut s = set_b();
    s.plan.sites = 2;
    s.plan.years = 3;
    s.plan.traps_per_site = 3;
    s.plan.first_week = 18;
    s.plan.weeks = 4;
    s.plan.exposure_days = 3.5;
    let t = &mut s.premises.target;
    t.catch_per_trap_week = invented(5.0);
    t.dispersion_k = invented(0.8);
    t.site_sd = invented(0.4);
    t.site_year_sd = invented(0.3);
    t.trap_sd = invented(trap_sd);
    t.season_width_weeks = invented(1.5);
    s.premises.trap_loss = invented(loss);
    s.premises.bycatch = vec![Bycatch {
        name: "shrews".into(),
        class: Class::Vertebrate,
        catch_per_trap_week: invented(0.3),
        dispersion_k: invented(0.6),
        site_sd: invented(0.5),
        year_sd: invented(0.2),
        season_peak_week: invented(20.0),
        season_width_weeks: invented(3.0),
    }];
    checked(s)
}

/// One site's last year, trap-week by trap-week: counted and killed.
fn one_by_one(s: &Checked, rng: &mut Stream) -> (f64, f64) {
    let (t, p) = (&s.premises.target, &s.plan);
    let site = t.site_sd.value * rng.normal();
    let year = t.year_sd.value * rng.normal();
    let own = t.site_year_sd.value * rng.normal();
    let slope = -0.04 * f64::from(p.years - 1);
    let (mut counted, mut killed) = (0.0, 0.0);
    for _ in 0..p.traps_per_site {
        let trap = t.trap_sd.value * rng.normal();
        for w in 0..p.weeks {
            let season = weight(
                f64::from(p.first_week + w),
                t.season_peak_week.value,
                t.season_width_weeks.value,
            );
            let mu = t.catch_per_trap_week.value * season * p.exposure_days / 7.0
                * (site + year + own + slope + trap).exp();
            let k = t.dispersion_k.value;
            let mean = mu * gamma(rng, k) / k;
            let y = poisson(rng, mean);
            killed += y;
            if rng.uniform() >= s.premises.trap_loss.value {
                counted += y;
            }
        }
    }
    (counted, killed)
}

fn moments(v: &[f64]) -> (f64, f64) {
    let n = v.len() as f64;
    let mean = v.iter().sum::<f64>() / n;
    (
        mean,
        v.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / n,
    )
}

/// Largest distance of the two distribution functions.
fn smirnov(a: &mut [f64], b: &mut [f64]) -> f64 {
    a.sort_by(f64::total_cmp);
    b.sort_by(f64::total_cmp);
    let (mut i, mut j, mut worst) = (0, 0, 0.0f64);
    while i < a.len() && j < b.len() {
        let x = a[i].min(b[j]);
        while i < a.len() && a[i] <= x {
            i += 1;
        }
        while j < b.len() && b[j] <= x {
            j += 1;
        }
        worst = worst.max((i as f64 / a.len() as f64 - j as f64 / b.len() as f64).abs());
    }
    worst
}

#[track_caller]
fn same_law(what: &str, mut a: Vec<f64>, mut b: Vec<f64>) {
    let ((ma, va), (mb, vb)) = (moments(&a), moments(&b));
    let n = a.len() as f64;
    let se = ((va + vb) / n).sqrt();
    assert!(
        (ma - mb).abs() < 4.0 * se,
        "{what}: means {ma} and {mb}, SE {se}"
    );
    // The spread of a sample variance from the sample's own fourth moment.
    let fourth = |v: &[f64], m: f64, var: f64| {
        v.iter().map(|x| (x - m).powi(4)).sum::<f64>() / n - var * var
    };
    let se = ((fourth(&a, ma, va) + fourth(&b, mb, vb)) / n).sqrt();
    assert!(
        (va - vb).abs() < 4.0 * se,
        "{what}: variances {va} and {vb}, SE {se}"
    );
    let d = smirnov(&mut a, &mut b);
    assert!(d < 1.95 * (2.0 / n).sqrt(), "{what}: distance {d}");
}

#[test]
fn aggregated_draws_have_the_law_of_single_trap_weeks() {
    let n = 20_000u64;
    for (trap_sd, loss) in [(0.0, 0.0), (0.0, 0.3), (0.5, 0.0), (0.5, 0.3)] {
        let s = scenario(trap_sd, loss);
        let generator = Generator::new(&s, &s.plan);
        let (mut counted, mut killed) = (Vec::new(), Vec::new());
        let mut drawn = Drawn::default();
        for i in 0..n {
            generator.draw(3, i, World::Change, false, &mut drawn);
            // First site, last year; the kills of that year belong to both sites, so take one site's count.
            counted.push(drawn.counts[2]);
            killed.push(drawn.killed[2]);
        }
        let mut rng = Stream::new(77, 0);
        let (mut one_counted, mut one_killed) = (Vec::new(), Vec::new());
        for _ in 0..n {
            let (c, k) = one_by_one(&s, &mut rng);
            one_counted.push(c);
            one_killed.push(k);
        }
        same_law(
            &format!("counted, trap SD {trap_sd}, loss {loss}"),
            counted,
            one_counted,
        );
        // Both sites together: the mean alone, since sites share their year.
        let mean = |v: &[f64]| v.iter().sum::<f64>() / v.len() as f64;
        let (both, one) = (mean(&killed), 2.0 * mean(&one_killed));
        let se = (moments(&killed).1 / n as f64).sqrt();
        assert!(
            (both - one).abs() < 6.0 * se,
            "killed: {both} against {one}, SE {se}"
        );
    }
}

/// By-catch: mean of a site-year by the formula, rate x trap-weeks weighted by season x exp(site^2/2 + year^2/2).
#[test]
fn bycatch_has_its_mean() {
    let s = scenario(0.0, 0.2);
    let generator = Generator::new(&s, &s.plan);
    let mut drawn = Drawn::default();
    let n = 40_000u64;
    let totals: Vec<f64> = (0..n)
        .map(|i| {
            generator.draw(5, i, World::Change, true, &mut drawn);
            drawn.bycatch.iter().sum()
        })
        .collect();
    let (mean, var) = moments(&totals);
    let want = survey::closed_form::expected_toll(&s, &s.plan);
    assert!(
        (mean - want.bycatch[0]).abs() < 4.0 * (var / n as f64).sqrt(),
        "{mean} {}",
        want.bycatch[0]
    );
}

/// By-catch of a year, drawn as one count, against the sum over sites, traps and weeks drawn one by one; two years of
/// a survey are drawn with the same sites, so that their sum tells whether sites stay through the years.
#[test]
fn bycatch_drawn_a_year_at_a_time_has_the_law_of_single_trap_weeks() {
    for site_sd in [0.0, 0.7] {
        let mut s = scenario(0.0, 0.2).into_inner();
        let group = &mut s.premises.bycatch[0];
        group.site_sd = invented(site_sd);
        group.catch_per_trap_week = invented(3.0);
        let s = checked(s);
        let (g, p) = (&s.premises.bycatch[0], &s.plan);
        let generator = Generator::new(&s, p);
        let (n, mut drawn) = (20_000u64, Drawn::default());
        let (mut one_year, mut two_years) = (Vec::new(), Vec::new());
        for i in 0..n {
            generator.draw(8, i, World::Change, true, &mut drawn);
            one_year.push(drawn.bycatch[1]);
            two_years.push(drawn.bycatch[0] + drawn.bycatch[2]);
        }
        let mut rng = Stream::new(78, 0);
        let year = |sites: &[f64], rng: &mut Stream| {
            let year = g.year_sd.value * rng.normal();
            let mut sum = 0.0;
            for site in sites {
                for w in (0..p.traps_per_site).flat_map(|_| 0..p.weeks) {
                    let week = f64::from(p.first_week + w);
                    let season = weight(week, g.season_peak_week.value, g.season_width_weeks.value);
                    let mu = g.catch_per_trap_week.value * season * p.exposure_days / 7.0
                        * (site + year).exp();
                    let k = g.dispersion_k.value;
                    let mean = mu * gamma(rng, k) / k;
                    sum += poisson(rng, mean);
                }
            }
            sum
        };
        let (mut single, mut both) = (Vec::new(), Vec::new());
        for _ in 0..n {
            let sites: Vec<f64> = (0..p.sites).map(|_| site_sd * rng.normal()).collect();
            single.push(year(&sites, &mut rng));
            both.push(year(&sites, &mut rng) + year(&sites, &mut rng));
        }
        same_law(&format!("a year, site SD {site_sd}"), one_year, single);
        same_law(&format!("two years, site SD {site_sd}"), two_years, both);
    }
}

/// Expected toll of the target by closed form against the drawn kills.
#[test]
fn expected_toll_is_the_mean_kill() {
    for (trap_sd, loss) in [(0.0, 0.0), (0.4, 0.3)] {
        let s = scenario(trap_sd, loss);
        let generator = Generator::new(&s, &s.plan);
        let mut drawn = Drawn::default();
        let n = 40_000u64;
        let totals: Vec<f64> = (0..n)
            .map(|i| {
                generator.draw(6, i, World::Change, false, &mut drawn);
                drawn.killed.iter().sum()
            })
            .collect();
        let (mean, var) = moments(&totals);
        let want = survey::closed_form::expected_toll(&s, &s.plan).target;
        assert!(
            (mean - want).abs() < 4.0 * (var / n as f64).sqrt(),
            "{mean} {want}"
        );
    }
}

/// A plan's draws are part of a larger plan's: the same sites and years have the same counts, and near the same with
/// another number of traps. This is what makes curves smooth.
#[test]
fn smaller_plans_are_part_of_larger_ones() {
    let s = scenario(0.0, 0.0);
    let larger = survey::scenario::Plan {
        sites: 5,
        years: 6,
        ..s.plan.clone()
    };
    let (small, large) = (Generator::new(&s, &s.plan), Generator::new(&s, &larger));
    let (mut a, mut b) = (Drawn::default(), Drawn::default());
    for i in 0..50 {
        small.draw(9, i, World::Change, false, &mut a);
        large.draw(9, i, World::Change, false, &mut b);
        for site in 0..2 {
            for year in 0..3 {
                assert_eq!(a.counts[site * 3 + year], b.counts[site * 6 + year]);
            }
        }
    }
    let more_traps = survey::scenario::Plan {
        traps_per_site: 4,
        ..s.plan.clone()
    };
    let more = Generator::new(&s, &more_traps);
    let (mut x, mut y) = (Vec::new(), Vec::new());
    for i in 0..2000 {
        small.draw(9, i, World::Change, false, &mut a);
        more.draw(9, i, World::Change, false, &mut b);
        x.push(a.counts[0]);
        y.push(b.counts[0]);
    }
    let ((mx, vx), (my, vy)) = (moments(&x), moments(&y));
    let cov = x
        .iter()
        .zip(&y)
        .map(|(a, b)| (a - mx) * (b - my))
        .sum::<f64>()
        / x.len() as f64;
    let r = cov / (vx * vy).sqrt();
    assert!(r > 0.85, "correlation {r} between 3 and 4 traps");
}

/// Units never share random numbers, however many each draws: with 100 traps whose points differ, 30 weeks of unequal
/// weight and counts far from Poisson, consecutive years of a site are independent.
#[test]
fn large_site_years_do_not_run_into_each_other() {
    let mut s = set_b();
    let p = &mut s.plan;
    (p.sites, p.traps_per_site, p.first_week, p.weeks, p.years) = (2, 100, 10, 30, 4);
    let t = &mut s.premises.target;
    t.catch_per_trap_week = invented(20.0);
    t.dispersion_k = invented(0.05);
    for sd in [&mut t.site_sd, &mut t.year_sd, &mut t.site_year_sd] {
        *sd = invented(0.0);
    }
    t.trap_sd = invented(0.3);
    t.season_width_weeks = invented(9.3);
    s.question.effect = survey::scenario::Effect::Decline(survey::scenario::Decline {
        change_percent: 0.1,
        over_years: 100.0,
    });
    let s = checked(s);
    let generator = Generator::new(&s, &s.plan);
    let mut drawn = Drawn::default();
    let (mut x, mut y) = (Vec::new(), Vec::new());
    // Sites differ by their traps: take the site's mean off.
    for i in 0..400 {
        generator.draw(4, i, World::Change, false, &mut drawn);
        for site in 0..2 {
            let c = &drawn.counts[site * 4..site * 4 + 4];
            let mean = c.iter().sum::<f64>() / 4.0;
            for year in 0..3 {
                x.push(c[year] - mean);
                y.push(c[year + 1] - mean);
            }
        }
    }
    let sum = |v: &[f64], w: &[f64]| v.iter().zip(w).map(|(a, b)| a * b).sum::<f64>();
    // Four independent values less their mean have a correlation of -1/3.
    let r = sum(&x, &y) / (sum(&x, &x) * sum(&y, &y)).sqrt();
    assert!(
        (r + 1.0 / 3.0).abs() < 0.08,
        "correlation of neighbouring years {r}, -1/3 when independent"
    );
}
