use super::*;
use crate::closed_form::serial::spread_of_years;
use crate::scenario::{Baseline, Effect, Premise, Scenario, Source as From, Test, read};

const DEMOS: [&str; 9] = [
    include_str!("../../../../demo-data/meadow-beetles.json"),
    include_str!("../../../../demo-data/meadow-mowing.json"),
    include_str!("../../../../demo-data/meadow-no-worse.json"),
    include_str!("../../../../demo-data/mountain-edge.json"),
    include_str!("../../../../demo-data/mountain-moths.json"),
    include_str!("../../../../demo-data/mountain-occupancy.json"),
    include_str!("../../../../demo-data/orchard-absence.json"),
    include_str!("../../../../demo-data/orchard-baseline.json"),
    include_str!("../../../../demo-data/orchard-hoverflies.json"),
];

/// The floor in so many years.
fn floor_at(s: &Checked, years: u32) -> FloorOfYears {
    let limit = floor_in(s, years);
    let told = preview(&limit, &limit.plan);
    FloorOfYears {
        years,
        smallest: finite(told.smallest_change),
        power: told.power,
    }
}

fn beetles(change: impl Fn(&mut Scenario)) -> Checked {
    let mut s = read(DEMOS[0]).unwrap();
    change(&mut s);
    s.check().unwrap()
}

fn invented(v: f64) -> Premise {
    Premise::new(v, From::Invented)
}

fn share(l: &Limiting, source: Source) -> f64 {
    let part = l.parts.iter().find(|p| p.source == source).unwrap();
    part.share.unwrap()
}

/// var(slope) = [s2_year + (s2_siteyear + ...)/S]/S_tt is a sum (Larsen et al. 2001, BioScience 51:1069): the shares are its
/// terms over their sum, and add up to 1.
#[test]
fn shares_of_a_slope_are_terms_of_a_sum() {
    let s = beetles(|s| s.premises.target.trap_sd = invented(0.0));
    let l = limiting(&s).unwrap();
    let t = &s.premises.target;
    let (years, sites) = (f64::from(s.plan.years), f64::from(s.plan.sites));
    let all = l.value * spread_of_years(years);
    let square = |p: &Premise| p.value * p.value;
    let seen = share(&l, Source::Years) * all / square(&t.year_sd);
    assert!((seen - 1.0).abs() < 1e-9, "{seen}");
    let own = share(&l, Source::SiteYears) * all * sites / square(&t.site_year_sd);
    // Hardly any site-year is lost as a whole.
    assert!((own - 1.0).abs() < 1e-6, "{own}");
    assert!((l.sum - 1.0).abs() < 1e-6 && l.additive, "{l:?}");
    // The same sites come back: their own level drops out.
    assert!(share(&l, Source::Sites).abs() < 1e-12);
    assert!(l.parts.windows(2).all(|p| p[0].share >= p[1].share));
}

/// With sites that change from year to year their own level is part of the doubt, and of one that is told by groups.
#[test]
fn levels_of_sites_count_where_they_do_not_drop_out() {
    let s = beetles(|s| {
        s.plan.revisit = Some(crate::scenario::Revisit::NewEachYear);
        s.plan.sites = 240;
        s.limits.sites = 240;
    });
    let l = limiting(&s).unwrap();
    assert!(share(&l, Source::Sites) > 0.3, "{l:?}");
    assert!(l.additive, "{}", l.sum);
}

/// The year floor: smallest decline a year that unlimited traps find with power .8, two-sided .05, t with T - 2 degrees of
/// freedom, from var(slope) = s2_year/(T (T^2 - 1)/12) (computed from the formula, with the sum of two t quantiles; the
/// noncentral t asks for up to 3 % more at 5 years).
#[test]
fn the_floor_that_years_set() {
    let table = [
        (0.1, [12.3, 5.0, 3.5, 1.8, 1.1]),
        (0.2, [23.1, 9.8, 6.8, 3.6, 2.3]),
        (0.5, [48.2, 22.8, 16.1, 8.7, 5.6]),
    ];
    for test in [Test::T, Test::Calibrated] {
        for (sd, row) in table {
            for (years, want) in [5, 8, 10, 15, 20].into_iter().zip(row) {
                let s = beetles(|s| {
                    s.premises.target.year_sd = invented(sd);
                    s.plan.years = years;
                    s.analysis.test = test;
                });
                let found = floor_at(&s, years).smallest.unwrap();
                let floor = Floor::of(&s, vec![floor_at(&s, years)]);
                let a_year = floor.percent_a_year.unwrap();
                assert!(
                    a_year > want - 0.06 && a_year < 1.03 * want + 0.06,
                    "{test:?} {sd} {years}: {a_year} {want} ({found})"
                );
            }
        }
    }
}

/// More traps and sites come ever nearer to the floor and never below; years beyond those needed find the change.
#[test]
fn no_number_of_traps_goes_below() {
    let s = beetles(|s| s.premises.target.year_sd = invented(0.25));
    let l = limiting(&s).unwrap();
    let floor = l.floor.as_ref().unwrap();
    let at = floor.smallest.unwrap();
    let with = |sites| {
        let plan = crate::scenario::Plan {
            sites,
            ..s.plan.clone()
        };
        preview(&s, &plan).smallest_change
    };
    assert!(at < with(2000) && with(2000) < with(100), "{at}");
    assert!(with(2000) < 1.02 * at);
    let traps = l.unlimited_traps.unwrap();
    assert!(at < traps && traps < l.smallest.unwrap());
    let needed = floor.years_needed.unwrap();
    assert!(!floor.reached && needed > 10 && needed < 30, "{needed}");
    let power = |y| floor.by_years.iter().find(|f| f.years == y).unwrap().power;
    assert!(power(needed) >= 0.8 && power(needed - 1) < 0.8);
    // Years that are alike set none.
    let even = limiting(&beetles(|s| s.premises.target.year_sd = invented(0.0))).unwrap();
    assert_eq!(
        (even.floor, even.no_floor),
        (None, Some(NoFloor::YearsAlike))
    );
}

/// Sites that are alike by their distance, however many, leave what they have in common.
#[test]
fn sites_alike_set_a_floor_of_their_own() {
    let near = |km| {
        let s = beetles(|s| {
            s.premises.departures.correlation_length_km = invented(km);
            s.premises.departures.region_km2 = invented(100.0);
            s.premises.target.year_sd = invented(0.0);
        });
        floor_at(&s, 10).smallest.unwrap()
    };
    assert!(
        near(2.0) > 1.0 && near(6.0) > 1.2 * near(2.0),
        "{} {}",
        near(2.0),
        near(6.0)
    );
}

/// Every question has its parts: shares from 0 to 1 (weighing anew may move a hundredth), largest first, and no smaller change is
/// found with a source than without it.
#[test]
fn every_question_has_its_parts() {
    for text in DEMOS {
        let s = read(text).unwrap().check().unwrap();
        let what = s.question.effect.key();
        let l = limiting(&s).unwrap();
        assert!(l.value > 0.0 && l.value.is_finite(), "{what}");
        // That few animals may be missed by chance is no source: of absence less is left.
        let least = match l.measure {
            Measure::Variance => 0.8,
            Measure::SmallestDensity => 0.1,
        };
        assert!(l.parts.len() >= 2 && l.sum > least, "{what} {l:?}");
        for p in &l.parts {
            let share = p.share.unwrap();
            assert!((-0.01..=1.0).contains(&share), "{what} {p:?}");
        }
        let moves = matches!(s.question.effect, Effect::Decline(_) | Effect::NoWorse(_));
        assert_eq!(l.floor.is_some(), moves, "{what}");
        assert_eq!(l.floor.is_none(), l.no_floor.is_some());
        let counts = s.question.effect.counts() || matches!(s.question.effect, Effect::Baseline(_));
        assert_eq!(l.clustering.is_some(), counts, "{what}");
    }
    let inventory = include_str!("../../../../demo-data/meadow-inventory.json");
    let s = read(inventory).unwrap().check().unwrap();
    assert_eq!(limiting(&s), Err(NotTold));
}

/// Effects of a baseline multiply: with many traps a site's share is that of the variance between sites, (e^(s^2) - 1)/V.
#[test]
fn a_baseline_is_mostly_its_sites() {
    let mut s = read(DEMOS[7]).unwrap();
    assert!(matches!(
        s.question.effect,
        Effect::Baseline(Baseline { .. })
    ));
    s.premises.target.site_year_sd = invented(0.0);
    s.premises.target.trap_sd = invented(0.0);
    s.premises.target.dispersion_k = invented(100_000.0);
    s.premises.target.catch_per_trap_week = invented(1000.0);
    s.plan.stop_rule = None;
    let l = limiting(&s.check().unwrap()).unwrap();
    assert!(share(&l, Source::Sites) > 0.98, "{l:?}");
    assert!(l.parts.iter().all(|p| p.source != Source::Years));
}

/// Detection that is all but perfect is no source; the fewer visits, the more it is.
#[test]
fn missed_sites_count_by_how_many_are_missed() {
    let detection = |weeks, catch| {
        let mut s = read(DEMOS[5]).unwrap();
        s.plan.weeks = weeks;
        s.premises.target.catch_per_trap_week = invented(catch);
        let l = limiting(&s.check().unwrap()).unwrap();
        assert!((l.sum - 1.0).abs() < 1e-12);
        share(&l, Source::Detection)
    };
    assert!(detection(2, 0.3) > detection(4, 0.3) && detection(4, 0.3) > 0.02);
    assert!(detection(4, 1e4) < 1e-3);
}
