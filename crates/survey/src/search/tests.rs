//! Plans whose sites are not all visited every year.

mod places;
mod thrifty;
mod ways;

use super::*;
use crate::scenario::{Checked, Costs, Premise, Revisit, Scenario, Source, read};

fn meadow(revisit: Option<Revisit>, sites: u32) -> Scenario {
    let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
    s.plan.revisit = revisit;
    s.plan.sites = sites;
    s.plan.years = 8;
    s.limits.sites = 40;
    (s.limits.traps_per_site, s.limits.weeks) = (2, 3);
    s.premises.costs = Some(Costs::usual());
    s
}

const ALTERNATING: Option<Revisit> = Some(Revisit::Alternating { panels: 4 });
const AUGMENTED: Option<Revisit> = Some(Revisit::Augmented {
    always: 6,
    panels: 3,
});
const ROTATING: Option<Revisit> = Some(Revisit::Rotating { stay: 3 });

fn near(got: f64, want: f64) {
    assert!((got / want - 1.0).abs() < 1e-9, "{got}, not {want}");
}

/// What the screen says of every plan of its frontier is what closed forms say of the plan alone; each can be divided.
fn same_as_alone(s: &Checked) -> Screen {
    let screen = screen(s);
    assert!(screen.frontier.len() > 3, "{}", screen.frontier.len());
    for c in screen.frontier.iter().chain(&screen.thrifty) {
        let alone = Candidate::alone(s, &c.plan);
        near(c.margin, alone.margin);
        near(c.weighted_toll, alone.weighted_toll);
        near(c.cost.unwrap().money, alone.cost.unwrap().money);
        let other = Scenario {
            plan: c.plan.clone(),
            ..s.as_written().clone()
        };
        assert!(other.fits_sites(c.plan.sites), "{:?}", c.plan);
    }
    screen
}

#[test]
fn plans_with_a_pattern_are_screened_as_they_are() {
    for (revisit, sites) in [(ALTERNATING, 40), (AUGMENTED, 36), (ROTATING, 40)] {
        let s = meadow(revisit, sites).check().unwrap();
        let screen = same_as_alone(&s);
        // Sites are the fewest of the pattern and whole panels more, 2 numbers of traps, 3 of weeks.
        let (fewest, step) = (s.plan.fewest_for_pattern(), s.plan.pattern_step());
        assert_eq!(screen.plans as u32, ((40 - fewest) / step + 1) * 6);
    }
}

#[test]
fn gaps_and_drop_out_are_screened_as_they_are() {
    let mut gap = meadow(None, 20);
    gap.plan.gap_years = vec![3, 4];
    same_as_alone(&gap.check().unwrap());
    let mut drop_out = meadow(None, 20);
    drop_out.premises.attrition = Premise::new(0.2, Source::Invented);
    same_as_alone(&drop_out.check().unwrap());
}

/// Where years are tried, panels are those of the years: a rotating pattern has a panel more for each turn more. Years
/// that a gap lies beyond are refused.
#[test]
fn other_years_have_their_own_panels() {
    let mut s = meadow(ROTATING, 40);
    s.limits.years = vec![6, 8];
    let s = s.check().unwrap();
    let found = same_as_alone(&s).frontier;
    for years in [6, 8] {
        let of = found.iter().filter(|c| c.plan.years == years);
        assert!(of.clone().count() > 0, "{years}");
        assert!(of.map(|c| c.plan.sites).all(|n| n % (years + 2) == 0));
    }
    let mut gap = meadow(None, 20);
    gap.plan.gap_years = vec![6];
    gap.limits.years = vec![5, 8];
    let faults = gap.check().unwrap_err();
    let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert!(told[0].starts_with("limits.years[0]"), "{told:?}");
}

/// One site fewer is one fewer in each panel, and a year fewer keeps the sites of a year.
#[test]
fn neighbours_step_by_panels() {
    let s = meadow(ALTERNATING, 32).check().unwrap();
    let of = |key| {
        let all = neighbours(&s, &s.plan);
        all.into_iter().find(|n| n.fewer == key).unwrap().plan
    };
    assert_eq!(of("sites").sites, 28);
    let s = meadow(ROTATING, 40).check().unwrap();
    let all = neighbours(&s, &s.plan);
    let years = all.iter().find(|n| n.fewer == "years").unwrap();
    assert_eq!((years.plan.years, years.plan.sites), (7, 36));
}

/// Of weeks chosen one by one the poorest goes, and the others stay.
#[test]
fn a_week_fewer_of_chosen_weeks() {
    let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
    // The peak is in week 23.
    s.plan = s.plan.in_weeks(&[20, 23, 28]);
    let s = s.check().unwrap();
    let near = neighbours(&s, &s.plan);
    let weeks = near.iter().find(|n| n.fewer == "weeks").unwrap();
    assert_eq!(weeks.plan.open_weeks(), [20, 23]);
}

/// A smaller plan that a cap forbids is none the search may choose.
#[test]
fn caps_hold_for_smaller_plans_too() {
    let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
    let open = s.clone().check().unwrap();
    let fewer = |s: &Checked| {
        let near = neighbours(s, &s.plan);
        near.into_iter().find(|n| n.fewer == "sites").unwrap()
    };
    assert!(fewer(&open).within_limits);
    let toll = crate::closed_form::expected_toll(&open, &fewer(&open).plan).bycatch[1];
    for (most, within) in [(1.001 * toll, true), (0.999 * toll, false), (0.0, false)] {
        s.limits.toll = vec![crate::scenario::TollLimit {
            group: Some("shrews".into()),
            class: None,
            most,
        }];
        let s = s.clone().check().unwrap();
        assert_eq!(fewer(&s).within_limits, within, "{most}");
        assert_eq!(within_caps(&s, &fewer(&s).plan), within);
    }
}

/// What is listed has to stand, alone and together: nothing is left out of a search in silence.
#[test]
fn lists_that_do_not_stand_are_refused() {
    let with = |change: &dyn Fn(&mut Scenario)| {
        let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
        change(&mut s);
        let faults = s.check().err().unwrap_or_default();
        faults.first().map(ToString::to_string).unwrap_or_default()
    };
    for (told, change) in [
        (
            "limits.years[1]",
            &(|s: &mut Scenario| s.limits.years = vec![8, 80]) as &dyn Fn(&mut Scenario),
        ),
        ("limits.exposure_days[0]", &|s| {
            s.limits.exposure_days = vec![0.01]
        }),
        ("limits.exposure_days[1]", &|s| {
            s.limits.exposure_days = vec![3.0, 8.0]
        }),
        ("limits.trap_options[0]", &|s| {
            s.limits.trap_options = vec!["no such trap".into()]
        }),
        ("510 combinations", &|s| {
            s.limits.sites = 4;
            s.limits.years = (4..34).collect();
            s.limits.exposure_days = (1..=17).map(|d| 0.4 * f64::from(d)).collect();
        }),
    ] {
        let first = with(change);
        assert!(first.contains(told), "{told}: {first}");
    }
    let stands = |s: &mut Scenario| {
        s.limits.years = vec![8, 10];
        s.limits.exposure_days = vec![2.0, 3.5, 7.0];
    };
    assert_eq!(with(&stands), "");
}

/// A limit binds only where giving way makes room for a plan that it forbids: a plan within all limits is no limit's doing,
/// however far above its toll the least plan by simulation is.
#[test]
fn a_limit_that_binds_is_one_that_the_better_plan_breaks() {
    let mut s = meadow(None, 20);
    s.limits.sites = 40;
    let s = s.check().unwrap();
    let mut found = 0;
    for needed in [0.3, 0.5, 0.7] {
        for r in relaxed(&s, needed, f64::INFINITY) {
            let (plan, l) = (&r.candidate.plan, &s.limits);
            let years = l.years_or(s.plan.years);
            let breaks = match r.limit.as_str() {
                "limits.sites" => plan.sites > l.sites,
                "limits.traps_per_site" => plan.traps_per_site > l.traps_per_site,
                "limits.weeks" => plan.weeks > l.weeks,
                "limits.years" => !years.contains(&plan.years),
                other => panic!("{other} is not limited here"),
            };
            assert!(breaks, "{} does not bind: {plan:?}", r.limit);
            found += 1;
        }
    }
    assert!(found > 2, "{found}");
}
