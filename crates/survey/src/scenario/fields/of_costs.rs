//! The numbers of what the survey costs.

use super::Field;
use super::shapes::premise;
use crate::scenario::{Scenario, Stepped};

macro_rules! cost {
    ($field:ident, $path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, $step:expr, $whole:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: $whole,
            step: $step,
            read: |s: &Scenario| s.premises.costs.as_ref().map(|c| c.$field.value),
            write: |s: &mut Scenario, v| {
                if let Some(c) = &mut s.premises.costs {
                    c.$field.value = v;
                }
            },
            premise: Some(|s: &Scenario| s.premises.costs.as_ref().map(|c| &c.$field)),
            premise_mut: Some(|s: &mut Scenario| s.premises.costs.as_mut().map(|c| &mut c.$field)),
        }
    };
}

/// What the survey costs; read only where costs are stated.
pub const COSTS: &[Field<Scenario>] = &[
    cost!(
        field_wage,
        "premises.costs.field_wage",
        "wage, travel and field",
        "money an hour",
        0.0,
        100_000.0,
        1.0,
        false
    ),
    cost!(
        laboratory_wage,
        "premises.costs.laboratory_wage",
        "wage, laboratory",
        "money an hour",
        0.0,
        100_000.0,
        1.0,
        false
    ),
    cost!(
        sites_per_day,
        "premises.costs.sites_per_day",
        "sites visited in a day",
        "sites",
        0.1,
        500.0,
        1.0,
        false
    ),
    cost!(
        visits_per_week,
        "premises.costs.visits_per_week",
        "visits to a site in a week of trapping",
        "visits",
        1.0,
        14.0,
        1.0,
        true
    ),
    cost!(
        visits_before_season,
        "premises.costs.visits_before_season",
        "visits to a site before a season",
        "visits",
        0.0,
        20.0,
        1.0,
        true
    ),
    cost!(
        people,
        "premises.costs.people",
        "people who travel together",
        "people",
        1.0,
        50.0,
        1.0,
        true
    ),
    cost!(
        travel_hours_per_day,
        "premises.costs.travel_hours_per_day",
        "travel in a day",
        "hours",
        0.0,
        24.0,
        0.5,
        false
    ),
    cost!(
        travel_money_per_day,
        "premises.costs.travel_money_per_day",
        "distance in a day",
        "money",
        0.0,
        1_000_000.0,
        5.0,
        false
    ),
    cost!(
        hours_per_site_visit,
        "premises.costs.hours_per_site_visit",
        "work of a visit to a site",
        "hours",
        0.0,
        100.0,
        0.25,
        false
    ),
    cost!(
        minutes_per_trap,
        "premises.costs.minutes_per_trap",
        "emptying or setting a trap",
        "minutes",
        0.0,
        1440.0,
        1.0,
        false
    ),
    cost!(
        minutes_to_set_up,
        "premises.costs.minutes_to_set_up",
        "setting a trap up before a season",
        "minutes",
        0.0,
        6000.0,
        5.0,
        false
    ),
    cost!(
        minutes_to_take_down,
        "premises.costs.minutes_to_take_down",
        "taking a trap down after a season",
        "minutes",
        0.0,
        6000.0,
        5.0,
        false
    ),
    cost!(
        trap_price,
        "premises.costs.trap_price",
        "price of a trap",
        "money",
        0.0,
        1_000_000.0,
        1.0,
        false
    ),
    cost!(
        trap_life_years,
        "premises.costs.trap_life_years",
        "a trap lasts",
        "seasons",
        1.0,
        60.0,
        1.0,
        true
    ),
    cost!(
        money_per_trap_week,
        "premises.costs.money_per_trap_week",
        "used up by a trap in a week of trapping",
        "money",
        0.0,
        100_000.0,
        0.5,
        false
    ),
    cost!(
        sorting_hours_per_sample,
        "premises.costs.sorting_hours_per_sample",
        "sorting a sample",
        "hours",
        0.0,
        200.0,
        0.25,
        false
    ),
    cost!(
        sorting_minutes_per_100,
        "premises.costs.sorting_minutes_per_100",
        "sorting a hundred animals, besides",
        "minutes",
        0.0,
        6000.0,
        5.0,
        false
    ),
    cost!(
        minutes_per_target,
        "premises.costs.minutes_per_target",
        "identifying an animal of the target",
        "minutes",
        0.0,
        1440.0,
        1.0,
        false
    ),
    cost!(
        minutes_per_bycatch,
        "premises.costs.minutes_per_bycatch",
        "identifying an animal of the by-catch",
        "minutes",
        0.0,
        1440.0,
        1.0,
        false
    ),
    cost!(
        kept_share,
        "premises.costs.kept_share",
        "animals of the target that are kept",
        "share",
        0.0,
        1.0,
        0.05,
        false
    ),
    cost!(
        curation_minutes,
        "premises.costs.curation_minutes",
        "curating an animal that is kept",
        "minutes",
        0.0,
        1440.0,
        1.0,
        false
    ),
    cost!(
        laboratory_lag_weeks,
        "premises.costs.laboratory_lag_weeks",
        "from the catch to the laboratory",
        "weeks",
        0.0,
        51.0,
        1.0,
        true
    ),
    cost!(
        money_per_year,
        "premises.costs.money_per_year",
        "every year, whatever the plan",
        "money",
        0.0,
        1_000_000_000.0,
        100.0,
        false
    ),
    cost!(
        money_once,
        "premises.costs.money_once",
        "once, whatever the plan",
        "money",
        0.0,
        1_000_000_000.0,
        100.0,
        false
    ),
    cost!(
        field_staff_hours,
        "premises.costs.field_staff_hours",
        "staff for travel and field",
        "hours a month, 0: not stated",
        0.0,
        1_000_000.0,
        10.0,
        false
    ),
    cost!(
        laboratory_staff_hours,
        "premises.costs.laboratory_staff_hours",
        "staff for the laboratory",
        "hours a month, 0: not stated",
        0.0,
        1_000_000.0,
        10.0,
        false
    ),
];

/// The numbers of one stepped cost; paths are relative to it.
pub const STEPPED: &[Field<Stepped>] = &[
    premise!(
        Stepped,
        "takes_on",
        "one takes on",
        "in a month",
        0.01,
        1_000_000.0,
        1.0,
        |s| s.takes_on
    ),
    premise!(
        Stepped,
        "money",
        "money for one",
        "money",
        0.0,
        1_000_000_000.0,
        100.0,
        |s| s.money
    ),
];
