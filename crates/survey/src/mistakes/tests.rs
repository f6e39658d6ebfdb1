//! Against published values, against closed forms of other make, and against draws.

use super::*;
use crate::scenario::{Checked, read};
use numerics::maths::{exp, ln};
use numerics::random::Stream;
use numerics::special::student;

fn demo() -> Checked {
    let text = include_str!("../../../../demo-data/meadow-beetles.json");
    read(text).unwrap().check().unwrap()
}

fn with(mistake: Mistake, base: &Base, values: &[(&str, f64)]) -> Vec<Knob> {
    let mut knobs = mistake.knobs(base);
    for (key, value) in values {
        let knob = knobs.iter_mut().find(|k| k.key == *key).unwrap();
        knob.value = *value;
        assert!(knob.allows(*value), "{key} {value}: {}", knob.bound());
    }
    mistake.settle(&mut knobs);
    knobs
}

/// One group a treatment: n traps of intra-class correlation r in each of two sites. The ratio of mean squares, over
/// (1 + (n - 1) r)/(1 - r), is F with 1 and 2n - 2 degrees of freedom; Scariano & Davenport (1987, Am. Stat.
/// 41:123-129) print .3729, .5928 and .7662 for r = .3 and n = 10, 30, 100 (cited from memory).
#[test]
fn two_sites_as_scariano_and_davenport() {
    for (n, printed) in [(10.0, 0.3729), (30.0, 0.5928), (100.0, 0.7662)] {
        let r = 0.3;
        let strata = Strata {
            between: 1.0 + (n - 1.0) * r,
            between_df: 0.0,
            within: 1.0 - r,
            within_df: 2.0 * (n - 1.0),
        };
        let df = strata.within_df;
        let c = student::quantile(0.975, df) * (strata.within / strata.between).sqrt();
        let exact = student::two_sided(c, df);
        let got = strata.false_alarm(0.05);
        assert!((got - exact).abs() < 2e-4, "{n}: {got} {exact}");
        assert!((got - printed).abs() < 3e-4, "{n}: {got} {printed}");
    }
}

/// Where both mean squares are the same, pooling is right and the test holds its level.
#[test]
fn pooling_what_is_alike_holds_the_level() {
    for (between_df, within_df) in [
        (1.0, 2.0),
        (2.0, 7.0),
        (3.0, 60.0),
        (8.0, 261.0),
        (98.0, 0.0),
    ] {
        let strata = Strata {
            between: 0.7,
            between_df,
            within: 0.7,
            within_df,
        };
        for level in [0.05, 0.2] {
            let got = strata.false_alarm(level);
            assert!(
                (got - level).abs() < 1e-4,
                "{between_df} {within_df}: {got}"
            );
        }
        assert!((strata.believed() - 1.0).abs() < 1e-12);
    }
}

/// The naive regression on drawn data: sites taken out, years left out.
#[test]
fn years_left_out_as_drawn() {
    let (sites, years, n) = (8_usize, 6_usize, 4000_u32);
    let base = Base {
        own: 0.09,
        ..Base::of(&demo())
    };
    let knobs = with(
        Mistake::YearsIgnored,
        &base,
        &[
            ("year_sd", 0.2),
            ("years", years as f64),
            ("sites", sites as f64),
        ],
    );
    let told = years_ignored::shown(&base, &knobs);
    let df = ((sites - 1) * (years - 1) + years - 2) as f64;
    let critical = student::quantile(0.975, df);
    let mid = 0.5 * (years as f64 - 1.0);
    let stt = crate::closed_form::serial::spread_of_years(years as f64);
    let mut found = 0;
    for survey in 0..u64::from(n) {
        let mut rng = Stream::new(5, survey);
        let year: Vec<f64> = (0..years).map(|_| 0.2 * rng.normal()).collect();
        let (mut with, mut squares) = (0.0, 0.0);
        for _ in 0..sites {
            let y: Vec<f64> = year.iter().map(|u| u + 0.3 * rng.normal()).collect();
            let mean = y.iter().sum::<f64>() / years as f64;
            for (i, v) in y.iter().enumerate() {
                with += (i as f64 - mid) * (v - mean);
                squares += (v - mean) * (v - mean);
            }
        }
        let spread = sites as f64 * stt;
        let slope = with / spread;
        let residual = (squares - slope * with) / df;
        found += u32::from(slope * slope > critical * critical * residual / spread);
    }
    let (drawn, p) = (f64::from(found) / f64::from(n), told.false_alarm);
    let se = (p * (1.0 - p) / f64::from(n)).sqrt();
    assert!(p > 0.15 && (drawn - p).abs() < 4.0 * se, "{drawn} {p}");
}

/// 10 traps at each of 6 sites with an intra-class correlation of .5: 60 traps count as 60/5.5 = 10.9 (Kish 1965).
#[test]
fn sixty_traps_count_as_eleven() {
    let base = Base::of(&demo());
    let knobs = with(
        Mistake::TrapsAsSites,
        &base,
        &[("sites", 6.0), ("traps_per_site", 10.0), ("icc", 0.5)],
    );
    let told = traps_as_sites::shown(&base, &knobs);
    assert_eq!((told.traps, told.count_as.round()), (60.0, 11.0));
    assert_eq!(told.never_more_than, 12.0);
    assert!(
        told.naive_false_alarm > 0.3 && told.naive_power > told.honest_power,
        "{told:?}"
    );
    // Traps that are not alike may be counted as sites.
    let knobs = with(Mistake::TrapsAsSites, &base, &[("icc", 0.0)]);
    let told = traps_as_sites::shown(&base, &knobs);
    assert!((told.naive_false_alarm - 0.05).abs() < 6e-4);
    assert_eq!(told.count_as, told.traps);
}

/// SD of sites .6, of luck .5, best quarter: the typical catch seems to fall by a third (the figure that the closed form
/// gives: i = phi(.6745)/.25 = 1.2711; 1 - exp(-1.2711 * .25/.7810) = .334); mean catches by .234.
#[test]
fn best_quarter() {
    let base = Base::of(&demo());
    let values = [("share_percent", 25.0), ("site_sd", 0.6), ("noise_sd", 0.5)];
    let knobs = with(Mistake::BestSites, &base, &values);
    let told = best_sites::shown(&knobs, 1);
    assert!((told.fall - 0.334_3).abs() < 1e-4, "{told:?}");
    assert!((told.fall_of_mean - 0.234_1).abs() < 1e-4, "{told:?}");
    // 100 surveys of 50 sites kept: the mean log has a standard error of about .5 sqrt(2/5000).
    assert!((told.simulated_fall - told.fall).abs() < 0.03, "{told:?}");
    // Mean catches by draws of many sites.
    let mut rng = Stream::new(3, 0);
    let s = 0.61_f64.sqrt();
    let (mut then, mut now) = (0.0, 0.0);
    for _ in 0..200_000 {
        let own = 0.6 * rng.normal();
        let (a, b) = (own + 0.5 * rng.normal(), own + 0.5 * rng.normal());
        if a > s * 0.674_489_75 {
            then += exp(a);
            now += exp(b);
        }
    }
    assert!((1.0 - now / then - told.fall_of_mean).abs() < 0.01);
    for values in [
        [
            ("share_percent", 100.0),
            ("site_sd", 0.6),
            ("noise_sd", 0.5),
        ],
        [("share_percent", 25.0), ("site_sd", 0.0), ("noise_sd", 0.0)],
        [("share_percent", 25.0), ("site_sd", 0.6), ("noise_sd", 0.0)],
    ] {
        let told = best_sites::shown(&with(Mistake::BestSites, &base, &values), 1);
        assert!(
            told.fall.abs() < 1e-12 && told.fall_of_mean.abs() < 1e-12,
            "{told:?}"
        );
    }
}

/// Poisson counts in the limit of large k: m/(1 - e^-m). With k = 1 (geometric) the mean without zeros is m + 1.
#[test]
fn means_without_zeros() {
    let base = Base::of(&demo());
    let values = [("catch", 2.0), ("k", 1.0), ("fall_percent", 50.0)];
    let told = zeros_dropped::shown(&with(Mistake::ZerosDropped, &base, &values), 1);
    assert!((told.zeros - 1.0 / 3.0).abs() < 1e-12);
    assert!((told.first.without_zeros - 3.0).abs() < 1e-12);
    assert!((told.last.without_zeros - 2.0).abs() < 1e-12);
    assert!((told.told_fall - 1.0 / 3.0).abs() < 1e-12, "{told:?}");
    // 4000 visits; variances m + m^2 = 6 and 2.
    for (drawn, want, variance) in [
        (told.drawn_first.all, 2.0, 6.0),
        (told.drawn_first.without_zeros, 3.0, 6.0 * 1.5),
        (told.drawn_last.all, 1.0, 2.0),
        (told.drawn_last.without_zeros, 2.0, 2.0 * 2.0),
    ] {
        let se = (variance / 4000.0_f64).sqrt();
        assert!((drawn - want).abs() < 4.0 * se, "{drawn} {want}");
    }
}

/// Signs turn as often as Sheppard's angle says, whatever the scatter; the level holds for all years, and not where the
/// first year is chosen after seeing them.
#[test]
fn chosen_first_years() {
    let base = Base::of(&demo());
    for (years, first) in [(10.0, 5.0), (20.0, 8.0), (6.0, 4.0)] {
        let values = [("years", years), ("first_year", first), ("scatter", 0.2)];
        let told = baseline::shown(&base, &with(Mistake::BaselineChosen, &base, &values), 1);
        let left = years - first + 1.0;
        let stt = crate::closed_form::serial::spread_of_years;
        #[allow(clippy::disallowed_methods, reason = "the check of our own arc cosine")]
        let exact = (stt(left) / stt(years)).sqrt().acos() / std::f64::consts::PI;
        assert!((told.flip_chance - exact).abs() < 1e-12);
        let se = |p: f64| (p * (1.0 - p) / told.histories as f64).sqrt();
        let drawn = told.flipped as f64 / told.histories as f64;
        assert!((drawn - exact).abs() < 4.0 * se(exact), "{told:?}");
        let all = told.significant_from_all as f64 / told.histories as f64;
        assert!((all - 0.05).abs() < 4.0 * se(0.05), "{told:?}");
        assert!(told.significant_from_some > told.significant_from_all);
        // Nine in ten slopes lie within 1.645 standard errors.
        let se = 0.2 / stt(left).sqrt();
        let high = 100.0 * (exp(1.645 * se) - 1.0);
        assert!((told.from_first.high / high - 1.0).abs() < 0.15, "{told:?}");
        assert_eq!(told.history.len() as f64, years);
    }
    // A first year that leaves fewer than three goes down with the years, and from the first nothing turns.
    let mut knobs = with(Mistake::BaselineChosen, &base, &[("first_year", 5.0)]);
    knobs[1].value = 4.0;
    Mistake::BaselineChosen.settle(&mut knobs);
    assert_eq!((knobs[0].value, knobs[0].high), (2.0, 2.0));
    let values = [("first_year", 1.0)];
    let told = baseline::shown(&base, &with(Mistake::BaselineChosen, &base, &values), 1);
    assert_eq!((told.flipped, told.flip_chance), (0, 0.0));
}

/// Weeks in the far tail of a bell of SD s, d weeks after its peak: the log slope of the catch is -d c/s^2 for a season
/// that moves c weeks a year earlier (the derivative of the bell's log), to first order.
#[test]
fn a_season_that_moves() {
    let mut base = Base::of(&demo());
    base.plan = base.plan.in_weeks(&[23]);
    base.years = (2.0, Origin::Scenario);
    let values = [
        ("days_a_decade", 7.0),
        ("weeks_after_peak", 4.0),
        ("width_weeks", 4.0),
    ];
    let knobs = with(Mistake::MovingSeason, &base, &values);
    let told = moving_season::shown(&base, &knobs);
    // Between year 0 and 1: (4^2 - 4.1^2)/(2 * 4^2).
    let slope = (16.0 - 4.1_f64 * 4.1) / 32.0;
    let want = 100.0 * (exp(10.0 * slope) - 1.0);
    assert!(
        (told.change_percent_a_decade - want).abs() < 1e-9,
        "{told:?}"
    );
    base.years = (10.0, Origin::Scenario);
    let told = |days: f64, after: f64| {
        let values = [("days_a_decade", days), ("weeks_after_peak", after)];
        moving_season::shown(&base, &with(Mistake::MovingSeason, &base, &values))
    };
    assert_eq!(told(0.0, 3.0).change_percent_a_decade, 0.0);
    assert!((told(0.0, 3.0).false_alarm - 0.05).abs() < 1e-9);
    let (fall, rise) = (told(7.0, 3.0), told(7.0, -3.0));
    assert!(fall.change_percent_a_decade < -10.0 && rise.change_percent_a_decade > 10.0);
    assert!(fall.false_alarm > 0.06, "{fall:?}");
    assert!(fall.points[9][1] < fall.points[0][1]);
}

/// Armitage, McPherson & Rowe (1969): .083, .107, .126, .142, .193 and .248 at 2, 3, 4, 5, 10 and 20 looks.
#[test]
fn looks_again_and_again() {
    let base = Base::of(&demo());
    for (looks, want) in [
        (1.0, 0.05),
        (2.0, 0.083),
        (3.0, 0.107),
        (4.0, 0.126),
        (5.0, 0.142),
        (10.0, 0.193),
        (20.0, 0.248),
    ] {
        let told = repeated_looks::shown(&with(Mistake::RepeatedLooks, &base, &[("looks", looks)]));
        assert!((told.false_alarm - want).abs() < 6e-4, "{looks}: {told:?}");
    }
}

/// 20 tests at .05: one expected, any with chance .6415 (1 - .95^20).
#[test]
fn twenty_species() {
    let base = Base::of(&demo());
    let told = many_species::shown(&with(Mistake::ManySpecies, &base, &[("species", 20.0)]));
    assert!((told.expected - 1.0).abs() < 1e-12 && (told.any - 0.641_514).abs() < 1e-6);
    assert!((told.level_for_each - 0.0025).abs() < 1e-15);
}

/// Of draws of a normal estimate, the median of the significant ones.
#[test]
fn told_when_significant() {
    let delta = 1.2;
    let mut rng = Stream::new(9, 0);
    let mut sizes: Vec<f64> = (0..200_000)
        .map(|_| (delta + rng.normal()).abs())
        .filter(|z| *z > 1.959_964)
        .collect();
    sizes.sort_by(f64::total_cmp);
    let drawn = sizes[sizes.len() / 2];
    let got = only_significant::median(delta, 0.05);
    assert!((drawn - got).abs() < 0.01, "{drawn} {got}");
    let base = Base::of(&demo());
    let told = only_significant::shown(&base, &Mistake::OnlySignificant.knobs(&base));
    assert!(
        told.median_told > told.fall && told.median_over_true > 1.0,
        "{told:?}"
    );
}

/// The chance to miss the largest fall that is still possible is one half and a little, since it lies t standard errors
/// off (exactly one half for a normal estimate and one tail).
#[test]
fn falls_still_possible() {
    let base = Base::of(&demo());
    let knobs = with(
        Mistake::NoneFound,
        &base,
        &[("years", 40.0), ("year_sd", 0.3)],
    );
    let told = none_found::shown(&base, &knobs);
    let se = base.slope_variance(24.0, 40.0, 0.3).sqrt();
    let t = -ln(1.0 - told.still_possible / 100.0) / 10.0 / se;
    assert!(
        (t - student::quantile(0.975, 38.0)).abs() < 1e-9,
        "{told:?}"
    );
    let base = Base {
        fall: (told.still_possible, Origin::Example),
        ..base
    };
    let missed = none_found::shown(&base, &knobs).missed;
    assert!((missed - 0.5).abs() < 0.02, "{missed}");
}

/// Every demonstration begins with finite numbers within its bounds, from every demonstration file; and with the same
/// ones each time.
#[test]
fn all_begin_from_any_scenario() {
    for text in [
        include_str!("../../../../demo-data/meadow-beetles.json"),
        include_str!("../../../../demo-data/meadow-inventory.json"),
        include_str!("../../../../demo-data/mountain-occupancy.json"),
        include_str!("../../../../demo-data/mountain-edge.json"),
        include_str!("../../../../demo-data/orchard-absence.json"),
        include_str!("../../../../demo-data/orchard-baseline.json"),
    ] {
        let base = Base::of(&read(text).unwrap().check().unwrap());
        for mistake in Mistake::ALL {
            let knobs = mistake.knobs(&base);
            for k in &knobs {
                assert!(
                    k.value.is_finite() && k.allows(k.value),
                    "{mistake:?} {k:?}"
                );
            }
            let told = mistake.shown(&base, &knobs, 1);
            assert_eq!(told, mistake.shown(&base, &knobs, 1));
            let json = serde_json::to_string(&told).unwrap();
            assert!(!json.contains("null"), "{mistake:?} {json}");
            assert_eq!(Mistake::of_key(mistake.key()), Some(mistake));
        }
    }
}
