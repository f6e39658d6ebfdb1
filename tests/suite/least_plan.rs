//! The least plan against trying every plan, and what is said when none answers.

use engine::{Job, Kind, Report};
use leastcatch_tests::project;
use leastcatch_tests::runs::{least, report, told};
use survey::scenario::{Checked, Decline, Effect, Premise, Scenario, Source, read};

fn demo() -> Scenario {
    read(&std::fs::read_to_string(project("demo-data/meadow-beetles.json")).unwrap()).unwrap()
}

/// An easy question: a fall of 60 % over 9 years, within 8 sites, 2 traps and 3 weeks: 42 plans.
fn easy() -> Checked {
    let mut s = demo();
    s.question.effect = Effect::Decline(Decline {
        change_percent: 60.0,
        over_years: 9.0,
    });
    s.plan.years = 9;
    (s.limits.sites, s.limits.traps_per_site, s.limits.weeks) = (12, 2, 3);
    s.check().unwrap()
}

/// The page works the last report out in pieces, so that it is free between them.
#[test]
fn the_last_report_comes_in_pieces_and_is_the_same() {
    let s = easy();
    let job = || Job::new(s.clone(), Kind::Least, Some(100)).unwrap();
    let whole = told(job(), &s).report();
    let in_pieces = told(job(), &s);
    let pieces = std::iter::from_fn(|| in_pieces.prepare().then_some(())).count();
    let Report::Least(least) = &whole else {
        panic!("{whole:?}")
    };
    // A closed form of each plan simulated in full, and those of the frontier.
    assert!(pieces > least.simulated - least.stopped, "{pieces}");
    assert_eq!(in_pieces.report(), whole);
    assert!(!in_pieces.prepare());
}

/// Every plan is simulated with the same seed: none with a smaller toll (by more than Monte Carlo error of a mean)
/// reaches the wanted power.
#[test]
fn no_plan_kills_less_and_answers() {
    let s = easy();
    let n = 300;
    let found = least(&s, n);
    let (plan, toll) = (
        found.plan.clone().unwrap(),
        found.toll.clone().unwrap().total.mean,
    );
    assert!(found.power.unwrap().estimate >= 0.8);
    assert!(!found.smaller.is_empty());
    assert!(
        found
            .smaller
            .iter()
            .filter(|p| p.within_limits)
            .all(|p| p.power.estimate < 0.8 && p.toll.as_ref().unwrap().total.mean < toll)
    );
    let mut best = f64::INFINITY;
    let mut tried = 0;
    for sites in 2..=12 {
        for traps in 1..=2 {
            for weeks in 1..=3 {
                let mut other = (*s).clone();
                other.plan = survey::frontier::resized(&s.plan, sites, traps, weeks);
                let Report::Answer(a) = report(&other.check().unwrap(), Kind::Answer, n) else {
                    panic!()
                };
                tried += 1;
                if a.power.estimate >= 0.8 {
                    best = best.min(a.toll.unwrap().total.mean);
                }
            }
        }
    }
    assert_eq!(tried, found.screened);
    assert!(
        toll <= 1.03 * best,
        "{plan:?} kills {toll}, another plan that answers {best}"
    );
    assert!(found.simulated < 20);
}

/// What is said to help does help when it is simulated.
#[test]
fn what_would_help_helps() {
    let mut s = demo();
    s.question.effect = Effect::Decline(Decline {
        change_percent: 30.0,
        over_years: 9.0,
    });
    s.plan.years = 9;
    (s.limits.sites, s.limits.traps_per_site, s.limits.weeks) = (12, 3, 4);
    let s = s.check().unwrap();
    let found = least(&s, 1000);
    assert!(found.plan.is_none());
    let shortfall = found.shortfall.unwrap();
    assert!(shortfall.surest.power.estimate < 0.8);
    assert!(
        shortfall.binding.contains(&"limits.sites".to_string()),
        "{shortfall:?}"
    );
    let number = |words: &str| -> u32 {
        let line = shortfall
            .would_help
            .iter()
            .find(|l| l.contains(words))
            .unwrap();
        line.split_whitespace()
            .find_map(|w| w.parse().ok())
            .unwrap()
    };
    // What kills least comes first, and to ask for less last.
    let kills: Vec<Option<f64>> = shortfall
        .would_help
        .iter()
        .map(|l| {
            let (number, _) = l.split_once("(kills about ")?.1.split_once(", power")?;
            number.replace(',', "").parse().ok()
        })
        .collect();
    let (last, more) = kills.split_last().unwrap();
    assert_eq!(*last, None, "{:?}", shortfall.would_help);
    assert!(more.len() >= 3 && more.iter().all(Option::is_some));
    assert!(more.is_sorted(), "{:?}", shortfall.would_help);
    for (sites, years) in [(number("sites with"), 9), (12, number("years with"))] {
        let mut other = (*s).clone();
        other.plan = survey::frontier::resized(&s.plan, sites, 3, 4);
        other.plan.years = years;
        let Report::Answer(a) = report(&other.check().unwrap(), Kind::Answer, 1000) else {
            panic!()
        };
        assert!(
            a.power.estimate > 0.76,
            "{sites} sites, {years} years: {:?}",
            a.power
        );
    }
}

/// With year SD 0 nothing is blamed on shared years, and nothing already allowed is offered as help.
#[test]
fn no_help_is_made_up() {
    let mut s = demo();
    s.premises.target.year_sd = Premise::new(0.0, Source::Invented);
    s.premises.target.site_year_sd = Premise::new(3.0, Source::Invented);
    s.question.effect = Effect::Decline(Decline {
        change_percent: 5.0,
        over_years: 10.0,
    });
    (s.limits.sites, s.limits.traps_per_site, s.limits.weeks) = (4, 2, 2);
    let found = least(&s.check().unwrap(), 60);
    let shortfall = found.shortfall.unwrap();
    assert!(
        !shortfall.reason.contains("years shared"),
        "{}",
        shortfall.reason
    );
    assert!(
        !shortfall.would_help.iter().any(|l| l.contains("100 %")),
        "{:?}",
        shortfall.would_help
    );
}

/// A by-catch premise of 0 with a high end is told as what it does not exclude.
#[test]
fn a_pilot_without_shrews_excludes_few() {
    let mut s = demo();
    s.premises.bycatch[1].catch_per_trap_week = Premise::ranged(0.0, 0.0, 0.01, Source::Pilot);
    let with = demo().check().unwrap();
    let Report::Answer(a) = report(&s.check().unwrap(), Kind::Answer, 20) else {
        panic!()
    };
    let toll = a.toll.unwrap();
    let shrews = &toll.bycatch[1];
    assert_eq!((shrews.mean, shrews.high), (0.0, 0.0));
    let want = survey::closed_form::expected_toll(&with, &with.plan).bycatch[1];
    assert!((shrews.not_excluded.unwrap() / want - 1.0).abs() < 1e-12);
    assert_eq!(toll.bycatch[0].not_excluded, None);
    assert!(toll.if_nothing_changes.unwrap().target.mean > toll.target.mean);
}
