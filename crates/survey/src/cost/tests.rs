//! Worked by hand, and held against each other.

use super::*;
use crate::frontier::resized;
use crate::scenario::{Costs, Paid, Premise, Sample, Scenario, Source, Stepped, SteppedBy, read};
use crate::search::WeekSet;
use numerics::maths::{exp, pow};

const DEMOS: [&str; 11] = [
    include_str!("../../../../demo-data/meadow-beetles.json"),
    include_str!("../../../../demo-data/meadow-no-worse.json"),
    include_str!("../../../../demo-data/orchard-hoverflies.json"),
    include_str!("../../../../demo-data/meadow-mowing.json"),
    include_str!("../../../../demo-data/mountain-occupancy.json"),
    include_str!("../../../../demo-data/mountain-moths.json"),
    include_str!("../../../../demo-data/mountain-edge.json"),
    include_str!("../../../../demo-data/orchard-absence.json"),
    include_str!("../../../../demo-data/orchard-baseline.json"),
    include_str!("../../../../demo-data/meadow-inventory.json"),
    include_str!("../../../../demo-data/meadow-several.json"),
];

fn number(value: f64) -> Premise {
    Premise::new(value, Source::Invented)
}

fn near(got: f64, want: f64) {
    assert!(
        (got - want).abs() <= 1e-9 * want.abs().max(1.0),
        "{got}, not {want}"
    );
}

/// The demo with costs of every kind.
fn with_costs(text: &str) -> Scenario {
    let mut s = read(text).unwrap();
    let mut c = Costs::usual();
    c.minutes_per_bycatch = number(0.5);
    c.sorting_minutes_per_100 = number(12.0);
    c.laboratory_lag_weeks = number(7.0);
    c.money_per_year = number(500.0);
    c.money_once = number(900.0);
    c.field_staff_hours = number(100.0);
    c.laboratory_staff_hours = number(120.0);
    c.stepped = vec![
        Stepped {
            takes_on: number(9.0),
            ..Stepped::usual()
        },
        Stepped {
            name: "microscope".into(),
            of: SteppedBy::LaboratoryHours,
            takes_on: number(140.0),
            money: number(1500.0),
            paid: Paid::Once,
        },
    ];
    s.premises.costs = Some(c);
    s
}

/// Catches that need no calculator: 10 target animals and 4 spiders a trap-week in every week, no spread, one year.
fn plain() -> Scenario {
    let mut s = read(DEMOS[0]).unwrap();
    let t = &mut s.premises.target;
    t.catch_per_trap_week = number(10.0);
    for sd in [
        &mut t.site_sd,
        &mut t.year_sd,
        &mut t.site_year_sd,
        &mut t.trap_sd,
    ] {
        *sd = number(0.0);
    }
    t.season_width_weeks = number(60.0);
    s.premises.bycatch.truncate(1);
    let g = &mut s.premises.bycatch[0];
    g.catch_per_trap_week = number(4.0);
    (g.site_sd, g.year_sd) = (number(0.0), number(0.0));
    g.season_width_weeks = number(60.0);
    s.premises.trap_loss = number(0.1);
    // Weeks 21 and 22: both in May. At their middle no season is flatter.
    s.premises.target.season_peak_week = number(21.5);
    s.premises.bycatch[0].season_peak_week = number(21.5);
    (s.plan.sites, s.plan.traps_per_site) = (10, 3);
    (s.plan.first_week, s.plan.weeks, s.plan.years) = (21, 2, 3);
    s
}

/// Each line of the sum stands beside the code that asks for it.
#[test]
fn worked_by_hand() {
    let mut s = plain();
    let mut c = Costs::new("marks", number(4.0));
    c.field_wage = number(15.0);
    c.laboratory_wage = number(12.0);
    c.visits_before_season = number(1.0);
    c.people = number(2.0);
    c.travel_hours_per_day = number(1.5);
    c.travel_money_per_day = number(30.0);
    c.hours_per_site_visit = number(0.5);
    c.minutes_per_trap = number(10.0);
    c.minutes_to_set_up = number(20.0);
    c.minutes_to_take_down = number(6.0);
    c.trap_price = number(5.0);
    c.trap_life_years = number(2.0);
    c.money_per_trap_week = number(0.4);
    c.sorting_hours_per_sample = number(0.5);
    c.sorting_minutes_per_100 = number(30.0);
    c.minutes_per_target = number(2.0);
    c.minutes_per_bycatch = number(1.0);
    c.kept_share = number(0.1);
    c.curation_minutes = number(6.0);
    c.money_per_year = number(100.0);
    c.money_once = number(250.0);
    s.premises.costs = Some(c);
    let s = s.check().unwrap();
    let cost = expected_cost(&s, &s.plan).unwrap();

    // 10 sites at 4 a day are 3 days a round; one round before the season and one in each of 2 weeks: 9 days a year.
    // 2 people travel 1.5 hours: 27 hours a year.
    let year = &cost.years[0];
    assert_eq!((year.travel_days, year.hours.travel), (9.0, 27.0));
    // A visit in a week: .5 h + 3 traps of 10 min = 1 h, 2 x 10 of them: 20 h. Before: 10 x .5 h = 5 h and 30 traps of
    // 20 min = 10 h. After: 30 traps of 6 min = 3 h. 38 h.
    near(year.hours.field, 38.0);
    // 60 trap-weeks, a tenth lost: 54 samples of .5 h = 27 h. The season is at exp(-.5 (.5 / 60)^2) of its peak in both
    // weeks; the first year's catch is 540 target animals and 216 spiders times that, each hundred .5 h.
    let level = exp(-0.5 * (0.5 / 60.0) * (0.5 / 60.0));
    near(year.hours.sorting, 27.0 + 7.56 * level * 0.5);
    // 540 of 2 min = 18 h, 216 of 1 min = 3.6 h; a tenth of 540 kept, 6 min each: 5.4 h.
    near(year.hours.identification, 21.6 * level);
    near(year.hours.curation, 5.4 * level);
    assert_eq!(year.months.len(), 1);
    assert_eq!(year.months[0].month, 5);

    // Money: 65 h at 15, the laboratory's at 12; 9 days of 30; 30 traps of 5, bought for years 1 and 3; 60 trap-weeks of
    // .4; 100 a year and 250 once.
    let laboratory = 27.0 + (3.78 + 21.6 + 5.4) * level;
    near(year.hours.laboratory(), laboratory);
    near(year.money.wages, 65.0 * 15.0 + laboratory * 12.0);
    near(year.money.travel, 270.0);
    near(year.money.consumables, 24.0);
    let traps: Vec<f64> = cost.years.iter().map(|y| y.money.traps).collect();
    assert_eq!(traps, [150.0, 0.0, 150.0]);
    let fixed: Vec<f64> = cost.years.iter().map(|y| y.money.fixed).collect();
    assert_eq!(fixed, [350.0, 100.0, 100.0]);

    // The stated fall is 30 % over 10 years: .7^(1/10) a year of the target, none of the spiders.
    let second = &cost.years[1].hours;
    near(second.curation, 5.4 * level * pow(0.7, 0.1));
    near(second.identification, (18.0 * pow(0.7, 0.1) + 3.6) * level);
    assert_eq!(cost.currency, "marks");
    assert_eq!(cost.over_staff, []);
}

/// A pooled sample is lost only with all of its traps: 20 site-weeks, less a thousandth.
#[test]
fn pooled_samples() {
    let mut s = plain();
    let mut c = Costs::new("marks", number(4.0));
    c.sample = Sample::Site;
    c.sorting_hours_per_sample = number(2.0);
    s.premises.costs = Some(c);
    let s = s.check().unwrap();
    let cost = expected_cost(&s, &s.plan).unwrap();
    near(cost.years[0].hours.sorting, 20.0 * (1.0 - 0.001) * 2.0);
}

/// 3 travel days a round, 4 rounds in the busiest month: 12 days are one vehicle of 12, two of 11.9; 36 h of travel
/// fit 36 h of staff and not 35.9.
#[test]
fn at_the_edge_of_a_step() {
    let mut s = plain();
    // Weeks 19 to 22 are May's.
    (s.plan.first_week, s.plan.weeks) = (19, 4);
    let mut c = Costs::new("marks", number(4.0));
    c.travel_hours_per_day = number(3.0);
    c.field_staff_hours = number(36.0);
    c.stepped = vec![Stepped {
        takes_on: number(12.0),
        money: number(100.0),
        paid: Paid::Yearly,
        ..Stepped::usual()
    }];
    s.premises.costs = Some(c);
    let cost = |s: &Scenario| {
        let s = s.clone().check().unwrap();
        expected_cost(&s, &s.plan).unwrap()
    };
    let at = cost(&s);
    let step = &at.stepped[0];
    assert_eq!((step.busiest_month, step.needed), (12.0, 1.0));
    assert_eq!((step.money, at.total.money), (300.0, 300.0));
    assert_eq!(at.over_staff, []);

    let c = s.premises.costs.as_mut().unwrap();
    c.stepped[0].takes_on = number(11.9);
    c.field_staff_hours = number(35.9);
    let above = cost(&s);
    assert_eq!((above.stepped[0].needed, above.total.money), (2.0, 600.0));
    let over = &above.over_staff;
    assert_eq!(over.len(), 3, "each year");
    assert_eq!(
        (over[0].year, over[0].month, over[0].staff),
        (1, 5, Staff::Field)
    );
    assert_eq!((over[0].hours, over[0].available), (36.0, 35.9));

    // Bought once, two are enough for all years.
    s.premises.costs.as_mut().unwrap().stepped[0].paid = Paid::Once;
    let once = cost(&s);
    let stepped: Vec<f64> = once.years.iter().map(|y| y.money.stepped).collect();
    assert_eq!(stepped, [200.0, 0.0, 0.0]);
    // 12 sites at 4 a day are still 3 days, 13 are 4.
    for (sites, days) in [(12, 36.0), (13, 48.0)] {
        s.plan.sites = sites;
        assert_eq!(cost(&s).total.travel_days, days);
    }
}

/// Week 52 with 6 weeks' lag is looked at in February of the next calendar year, which has no trapping of its own.
#[test]
fn laboratory_work_in_the_next_year() {
    let mut s = plain();
    (s.plan.first_week, s.plan.weeks, s.plan.years) = (52, 1, 3);
    let mut c = Costs::new("marks", number(4.0));
    c.sorting_hours_per_sample = number(1.0);
    c.travel_hours_per_day = number(1.0);
    c.laboratory_lag_weeks = number(6.0);
    c.money_per_year = number(10.0);
    s.premises.costs = Some(c);
    let s = s.check().unwrap();
    let cost = expected_cost(&s, &s.plan).unwrap();
    let told: Vec<(u32, Vec<u32>, f64)> = cost
        .years
        .iter()
        .map(|y| {
            let months = y.months.iter().map(|m| m.month).collect();
            (y.year, months, y.money.fixed)
        })
        .collect();
    assert_eq!(
        told,
        [
            (1, vec![12], 10.0),
            (2, vec![2, 12], 10.0),
            (3, vec![2, 12], 10.0),
            (4, vec![2], 0.0)
        ]
    );
}

#[test]
fn months_of_weeks() {
    let months = (1..=53).map(month_of_week);
    let mut counts = [0; 12];
    months.for_each(|m| counts[m as usize - 1] += 1);
    assert_eq!(counts, [5, 4, 4, 5, 4, 4, 5, 4, 4, 5, 4, 5]);
}

/// Months add to years, years to the total, kinds of money to all money.
#[test]
fn everything_adds_up() {
    for text in DEMOS {
        let s = with_costs(text).check().unwrap();
        let cost = expected_cost(&s, &s.plan).unwrap();
        let (mut money, mut hours, mut days) = (0.0, Hours::default(), 0.0);
        for y in &cost.years {
            let mut of_months = Hours::default();
            y.months.iter().for_each(|m| of_months.add(&m.hours));
            near(of_months.total(), y.hours.total());
            near(of_months.curation, y.hours.curation);
            near(y.months.iter().map(|m| m.travel_days).sum(), y.travel_days);
            near(y.money.total(), y.all_money);
            money += y.all_money;
            hours.add(&y.hours);
            days += y.travel_days;
        }
        let total = &cost.total;
        near(money, total.money);
        near(hours.total(), total.all_hours);
        near(hours.sorting, total.hours.sorting);
        near(days, total.travel_days);
        near(
            cost.stepped.iter().map(|b| b.money).sum(),
            cost.years.iter().map(|y| y.money.stepped).sum(),
        );
        assert_eq!(cost_totals(&s, &s.plan), Some(*total));
        // The animals behind the hours are the expected toll's, less those of lost trap-weeks.
        let c = s.premises.costs.as_ref().unwrap();
        let besides = s.premises.killed_besides();
        let toll = expected_toll(&s, &s.plan);
        let asked = besides.iter().zip(&toll.bycatch);
        let asked: f64 = asked.filter(|(k, _)| k.asked_about).map(|(_, n)| n).sum();
        let kept = (toll.target + asked) * (1.0 - s.premises.trap_loss.value) * c.kept_share.value;
        near(total.hours.curation, kept * c.curation_minutes.value / 60.0);
    }
}

/// More sites, traps, weeks or years never cost less; without stated costs there are none.
#[test]
fn more_costs_more() {
    for text in DEMOS {
        let s = with_costs(text).check().unwrap();
        let plan = resized(&s.plan, 8, 2, 3);
        let small = cost_totals(&s, &plan).unwrap();
        for (sites, traps, weeks) in [(10, 2, 3), (8, 3, 3), (8, 2, 4)] {
            let plan = resized(&s.plan, sites, traps, weeks);
            let large = cost_totals(&s, &plan).unwrap();
            assert!(large.money >= small.money, "{plan:?}");
            // Where a site is closed at its first catch, more traps close it sooner.
            if s.plan.visits.is_none() {
                assert!(large.money > small.money, "{plan:?}");
                assert!(large.all_hours > small.all_hours, "{plan:?}");
            }
        }
        assert_eq!(
            expected_cost(&read(text).unwrap().check().unwrap(), &plan).is_none(),
            read(text).unwrap().premises.costs.is_none()
        );
    }
}

/// Every plan within small limits, plan by plan.
#[test]
fn same_over_plans() {
    for text in DEMOS {
        let s = with_costs(text).check().unwrap();
        let run = |w| WeekSet::run(resized(&s.plan, 4, 1, w).first_week, w);
        let over = CostOver::new(&s, 4, (1..=4).map(run).collect()).unwrap();
        for sites in [4, 6, 10] {
            let mut at = over.at(sites);
            for (traps, weeks) in (1..=3).flat_map(|t| (1..=4).map(move |w| (t, w))) {
                let plan = resized(&s.plan, sites, traps, weeks);
                let (got, want) = (
                    at.totals(traps, weeks as usize - 1),
                    cost_totals(&s, &plan).unwrap(),
                );
                near(got.money, want.money);
                near(got.all_hours, want.all_hours);
                near(got.hours.identification, want.hours.identification);
                near(got.travel_days, want.travel_days);
            }
        }
    }
}

/// Sites closed after their first catch are not visited again: fewer hours than with all weeks trapped, and as many
/// where nothing can be caught.
#[test]
fn closed_sites_are_not_visited() {
    let mut s = with_costs(DEMOS[4]);
    let hours = |s: &Scenario| {
        let s = s.clone().check().unwrap();
        cost_totals(&s, &s.plan).unwrap().hours
    };
    let removal = hours(&s);
    s.plan.visits.as_mut().unwrap().scheme = crate::scenario::Scheme::Standard;
    let standard = hours(&s);
    assert!(
        removal.field < 0.97 * standard.field,
        "{removal:?} {standard:?}"
    );
    assert!(removal.sorting < 0.97 * standard.sorting);
}

/// What is wrong with costs is told with its place, and what is left out of a file is what it says.
#[test]
fn files_of_costs() {
    let mut s = with_costs(DEMOS[0]);
    let text = crate::scenario::write(&s);
    assert_eq!(read(&text).unwrap(), s);
    let c = s.premises.costs.as_mut().unwrap();
    c.currency = "much too long".into();
    c.people = number(1.5);
    c.kept_share = number(1.1);
    c.stepped[1].name = c.stepped[0].name.clone();
    c.stepped[1].takes_on = number(0.0);
    let faults: Vec<String> = s
        .check()
        .unwrap_err()
        .iter()
        .map(ToString::to_string)
        .collect();
    let has = |start: &str| assert!(faults.iter().any(|f| f.starts_with(start)), "{faults:?}");
    has("premises.costs.currency is 13 characters long: give 1 to 8 characters");
    has("premises.costs.people.value is 1.5: give a whole number from 1 to 50 people");
    has("premises.costs.kept_share.value is 1.1: give a number from 0 to 1 share");
    has("premises.costs.stepped[1].name is \"vehicle\": give a name");
    has("premises.costs.stepped[1].takes_on.value is 0: give a number from 0.01");
    assert_eq!(faults.len(), 5, "{faults:?}");
    let mut bare = serde_json::to_value(read(DEMOS[1]).unwrap()).unwrap();
    bare["premises"]["costs"] = serde_json::json!({
        "currency": "marks", "sites_per_day": { "value": 5.0, "source": "guess" },
    });
    let bare = read(&bare.to_string()).unwrap();
    let five = Premise::new(5.0, Source::Guess);
    assert_eq!(bare.premises.costs, Some(Costs::new("marks", five)));
}

/// Each year costs what its sites cost: a plan of two panels in turn visits as many sites as one of half the sites every
/// year and costs the same; a year without trapping costs nothing, wears no traps and is paid no yearly money.
#[test]
fn years_cost_what_is_visited() {
    let mut half = with_costs(DEMOS[0]);
    half.plan.years = 6;
    half.plan.sites = 10;
    let mut panels = half.clone();
    panels.plan.sites = 20;
    panels.plan.revisit = Some(crate::scenario::Revisit::Alternating { panels: 2 });
    let mut gap = half.clone();
    gap.plan.gap_years = vec![3];
    if let Some(c) = &mut gap.premises.costs {
        // No work of one season in the next year.
        c.laboratory_lag_weeks = number(0.0);
    }
    let cost = |s: &Scenario| {
        let s = s.clone().check().unwrap();
        expected_cost(&s, &s.plan).unwrap()
    };
    let (of_half, of_panels) = (cost(&half), cost(&panels));
    near(of_panels.total.money, of_half.total.money);
    near(of_panels.total.all_hours, of_half.total.all_hours);
    near(of_panels.total.travel_days, of_half.total.travel_days);

    let all = cost(&Scenario {
        plan: Plan {
            gap_years: Vec::new(),
            ..gap.plan.clone()
        },
        ..gap.clone()
    });
    let with_gap = cost(&gap);
    let years = |c: &PlanCost| c.years.iter().map(|y| y.year).collect::<Vec<_>>();
    assert_eq!(years(&all), [1, 2, 3, 4, 5, 6]);
    assert_eq!(years(&with_gap), [1, 2, 4, 5, 6]);
    near(
        5.0 * all.total.travel_days,
        6.0 * with_gap.total.travel_days,
    );
    near(
        5.0 * all.total.hours.field,
        6.0 * with_gap.total.hours.field,
    );
    // Traps last three seasons: bought in the first and fourth year, and with the gap in the first and fifth.
    let bought = |c: &PlanCost| {
        let with = c.years.iter().filter(|y| y.money.traps > 0.0);
        with.map(|y| y.year).collect::<Vec<_>>()
    };
    assert_eq!((bought(&all), bought(&with_gap)), (vec![1, 4], vec![1, 5]));
}

/// Sites that drop out are not visited: hours at the sites follow the expected sites.
#[test]
fn drop_out_costs_less() {
    let mut s = with_costs(DEMOS[0]);
    let field = |s: &Scenario| {
        let s = s.clone().check().unwrap();
        cost_totals(&s, &s.plan).unwrap().hours.field
    };
    let all = field(&s);
    s.premises.attrition = number(0.2);
    let years = s.plan.years as i32;
    let left = (1.0 - pow(0.8, f64::from(years))) / 0.2 / f64::from(years);
    near(field(&s), left * all);
}
