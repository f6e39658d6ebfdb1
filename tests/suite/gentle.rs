//! Options of traps, days of exposure and an end of animals, against simulation.

use survey::closed_form::{expected_toll, preview, removed};
use survey::evaluate::Evaluator;
use survey::generator::{Drawn, Generator, World};
use survey::scenario::{
    Checked, LocalPopulation, Plan, Premise, Scenario, Source, TrapPoints, read,
};

fn beetles() -> Scenario {
    read(include_str!("../../demo-data/meadow-beetles.json")).expect("the demo")
}

fn guess(value: f64) -> Premise {
    Premise::new(value, Source::Guess)
}

fn with_end(animals: f64, recovery: Option<f64>, change: impl Fn(&mut Scenario)) -> Checked {
    let mut s = beetles();
    s.premises.local_population = Some(LocalPopulation {
        animals: guess(animals),
        recovery: recovery.map(guess),
    });
    change(&mut s);
    s.check().expect("a scenario")
}

/// Mean kill of the target and its standard error over some surveys.
fn simulated(s: &Checked, surveys: u64) -> (f64, f64) {
    let g = Generator::new(s, &s.plan);
    let mut drawn = Drawn::default();
    let (mut sum, mut square) = (0.0, 0.0);
    for r in 0..surveys {
        g.draw(7, r, World::Change, false, &mut drawn);
        let killed: f64 = drawn.killed.iter().sum();
        sum += killed;
        square += killed * killed;
    }
    let n = surveys as f64;
    let mean = sum / n;
    (mean, ((square / n - mean * mean) / n).sqrt())
}

/// The closed form of the mean kill is the simulated one within three standard errors and the one part in a hundred
/// that the gamma form of the hazard costs, with few and many animals, with and without recovery, losses and weather.
#[test]
fn expected_kill_with_an_end() {
    for (animals, recovery) in [
        (2000.0, None),
        (60.0, None),
        (200.0, Some(0.3)),
        (60.0, Some(0.0)),
    ] {
        for departs in [false, true] {
            let s = with_end(animals, recovery, |s| {
                if departs {
                    s.premises.departures.shared_week_sd.value = 0.3;
                    s.premises.departures.detection_drift_percent.value = -4.0;
                    s.premises.trap_loss.value = 0.2;
                    s.plan.trap_points = TrapPoints::NewEachYear;
                }
            });
            let want = expected_toll(&s, &s.plan).target;
            let (mean, se) = simulated(&s, 400);
            assert!(
                (mean - want).abs() < 3.0 * se + 0.01 * want,
                "{animals} {recovery:?}: {mean} +- {se}, {want}"
            );
        }
    }
}

/// No site-year has more animals caught than there are: all sites alike, so that there are 50 of them each, give or take
/// their Poisson scatter; with 200 times the traps nearly all are caught.
#[test]
fn no_more_than_there_are() {
    let s = with_end(50.0, None, |s| {
        let t = &mut s.premises.target;
        for sd in [
            &mut t.site_sd,
            &mut t.year_sd,
            &mut t.site_year_sd,
            &mut t.trap_sd,
        ] {
            *sd = guess(0.0);
        }
        t.catch_per_trap_week = guess(5_000.0);
        if let survey::scenario::Effect::Decline(d) = &mut s.question.effect {
            d.change_percent = 0.1;
        }
        s.premises.trap_loss = guess(0.0);
        s.plan.years = 4;
        s.plan.sites = 100;
    });
    let g = Generator::new(&s, &s.plan);
    let mut drawn = Drawn::default();
    let (mut sum, mut n, mut most) = (0.0, 0.0, 0.0f64);
    for r in 0..50 {
        g.draw(3, r, World::Still, false, &mut drawn);
        for c in &drawn.counts {
            sum += c;
            n += 1.0;
            most = most.max(*c);
        }
    }
    let mean = sum / n;
    // 20,000 Poisson numbers of mean 50: standard error .05; the largest of them lies below 90 but once in 1000 surveys.
    assert!(mean < 50.15 && mean > 49.5, "{mean}");
    assert!(most < 90.0, "{most}");
    let told = removed(&s, &s.plan).expect("an end");
    assert!(
        told.share_removed > 0.99 && told.present_in_last_year == 1.0,
        "{told:?}"
    );
}

/// Where animals are nearly without end, they are as if they were.
#[test]
fn little_effort_is_the_plain_model() {
    let plain = beetles().check().expect("the demo");
    let many = with_end(1e9, None, |s| s.plan.exposure_days = 0.1);
    let mut same = plain.clone().into_inner();
    same.plan.exposure_days = 0.1;
    let same = same.check().expect("a scenario");
    let (a, b) = (
        expected_toll(&many, &many.plan),
        expected_toll(&same, &same.plan),
    );
    assert!((a.target / b.target - 1.0).abs() < 1e-6, "{a:?} {b:?}");
    assert_eq!(a.bycatch, b.bycatch);
    // In proportion to the effort: a thousandth of it is a thousandth nearer.
    let fewer = |animals: f64| {
        let s = with_end(animals, None, |s| s.plan.exposure_days = 0.1);
        1.0 - expected_toll(&s, &s.plan).target / b.target
    };
    let (near, nearer) = (fewer(1e4), fewer(1e7));
    assert!((near / nearer / 1e3 - 1.0).abs() < 0.02, "{near} {nearer}");
    assert!(fewer(1e9).abs() < 1e-6 && nearer > 0.0);
    let (p, q) = (preview(&many, &many.plan), preview(&same, &same.plan));
    assert!((p.power - q.power).abs() < 1e-5, "{p:?} {q:?}");
}

/// Twice the traps take less than twice the animals, and twice the weeks less than twice the trap-weeks' worth.
#[test]
fn crowded_traps_bring_less() {
    let s = with_end(100.0, None, |_| {});
    let toll = |traps: u32| {
        let plan = Plan {
            traps_per_site: traps,
            ..s.plan.clone()
        };
        expected_toll(&s, &plan).target
    };
    let each: Vec<f64> = [1, 2, 4, 8, 16].into_iter().map(toll).collect();
    for pair in each.windows(2) {
        assert!(pair[1] > pair[0] && pair[1] < 1.99 * pair[0], "{each:?}");
    }
    // By-catch has no end.
    let of = |traps: u32| {
        let plan = Plan {
            traps_per_site: traps,
            ..s.plan.clone()
        };
        expected_toll(&s, &plan).bycatch
    };
    for (one, two) in of(1).iter().zip(of(2)) {
        assert!((two / one - 2.0).abs() < 1e-9);
    }
}

/// Power by simulation and by closed form with a third of the animals taken each year.
#[test]
fn power_with_an_end() {
    for (animals, recovery) in [(150.0, None), (150.0, Some(0.7))] {
        let s = with_end(animals, recovery, |_| {});
        let told = preview(&s, &s.plan);
        let mut evaluator = Evaluator::new(&s, &s.plan, 5).expect("a design");
        let mut run = |world| -> Vec<survey::evaluate::Replicate> {
            (0..400)
                .map(|r| evaluator.run(r, world).expect("an analysis"))
                .collect()
        };
        let (change, still) = (run(World::Change), run(World::Still));
        let evidence = survey::summary::Evidence {
            change: change.iter().collect(),
            still: still.iter().collect(),
            complete: true,
        };
        let answer = survey::summary::summarise(&s, &s.plan, &evidence);
        assert!(
            (answer.power.estimate - told.power).abs() < 0.12,
            "{told:?}"
        );
    }
}

/// An option of traps is the scenario with other premises, draw by draw, once folded and not twice.
#[test]
fn an_option_is_other_premises() {
    use survey::scenario::{CatchFactor, Class, TrapOption};
    let mut s = beetles();
    s.premises.trap_options = vec![TrapOption {
        k_factor: Some(guess(1.5)),
        catch_factor: guess(0.5),
        bycatch: vec![CatchFactor {
            group: None,
            class: Some(Class::Vertebrate),
            factor: guess(0.25),
        }],
        ..TrapOption::unchanged("funnel")
    }];
    let usual = s.clone().check().expect("a scenario");
    let chosen = usual.with_option(Some("funnel")).expect("an option");
    let mut by_hand = beetles();
    let times = |p: &mut Premise, factor: f64| *p = guess(p.value * factor);
    times(&mut by_hand.premises.target.catch_per_trap_week, 0.5);
    times(&mut by_hand.premises.target.dispersion_k, 1.5);
    for g in &mut by_hand.premises.bycatch {
        if g.class == Class::Vertebrate {
            times(&mut g.catch_per_trap_week, 0.25);
        }
    }
    let by_hand = by_hand.check().expect("a scenario");
    assert_eq!(
        expected_toll(&chosen, &chosen.plan),
        expected_toll(&by_hand, &by_hand.plan)
    );
    let draw = |s: &Checked| {
        let mut drawn = Drawn::default();
        Generator::new(s, &s.plan).draw(2, 0, World::Change, true, &mut drawn);
        (drawn.counts, drawn.bycatch)
    };
    assert_eq!(draw(&chosen), draw(&by_hand));
    assert_ne!(draw(&chosen), draw(&usual));
    // Through a file, and checked again: the same premises.
    let again = chosen.clone().into_inner().check().expect("a scenario");
    assert_eq!(*again, *chosen);
    let file = survey::scenario::write(&chosen);
    let again = read(&file).expect("a file").check().expect("a scenario");
    assert_eq!(*again, *chosen);
    // As written it goes back to the trap of the premises.
    assert_eq!(chosen.with_option(None).expect("none"), usual);
    assert_eq!(chosen.digest(), chosen.as_written().digest());
    assert!(usual.with_option(Some("bucket")).is_err());
}
