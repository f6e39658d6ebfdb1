//! The scenario's own numbers.

use super::Field;
use super::shapes::{plain, premise, whole};
use crate::scenario::{Effect, Scenario};

/// The scenario's own numbers (by-catch groups have [`BYCATCH`]).
pub const SCENARIO: &[Field<Scenario>] = &[
    Field {
        path: "question.effect.decline.change_percent",
        label: "fall",
        unit: "%",
        low: 0.1,
        high: 99.0,
        whole: false,
        step: 5.0,
        read: |s| {
            if let Effect::Decline(d) = &s.question.effect {
                Some(d.change_percent)
            } else {
                None
            }
        },
        write: |s, v| {
            if let Effect::Decline(d) = &mut s.question.effect {
                d.change_percent = v;
            }
        },
        premise: None,
        premise_mut: None,
    },
    Field {
        path: "question.effect.decline.over_years",
        label: "over",
        unit: "years",
        low: 1.0,
        high: 100.0,
        whole: false,
        step: 1.0,
        read: |s| {
            if let Effect::Decline(d) = &s.question.effect {
                Some(d.over_years)
            } else {
                None
            }
        },
        write: |s, v| {
            if let Effect::Decline(d) = &mut s.question.effect {
                d.over_years = v;
            }
        },
        premise: None,
        premise_mut: None,
    },
    Field {
        path: "question.effect.range_shift.distance_per_decade",
        label: "shift",
        unit: "m or km a decade",
        low: -2000.0,
        high: 2000.0,
        whole: false,
        step: 5.0,
        read: |s| {
            if let Effect::RangeShift(r) = &s.question.effect {
                Some(r.distance_per_decade)
            } else {
                None
            }
        },
        write: |s, v| {
            if let Effect::RangeShift(r) = &mut s.question.effect {
                r.distance_per_decade = v;
            }
        },
        premise: None,
        premise_mut: None,
    },
    plain!(
        Scenario,
        "question.significance",
        "significance level",
        "",
        0.001,
        0.3,
        0.01,
        |s| s.question.significance
    ),
    plain!(
        Scenario,
        "question.wanted_power",
        "wanted power",
        "",
        0.2,
        0.99,
        0.05,
        |s| s.question.wanted_power
    ),
    premise!(
        Scenario,
        "premises.target.catch_per_trap_week",
        "catch per trap-week at peak",
        "animals",
        0.001,
        100_000.0,
        0.5,
        |s| s.premises.target.catch_per_trap_week
    ),
    premise!(
        Scenario,
        "premises.target.dispersion_k",
        "dispersion k",
        "",
        0.01,
        100_000.0,
        0.1,
        |s| s.premises.target.dispersion_k
    ),
    premise!(
        Scenario,
        "premises.target.site_sd",
        "SD of sites",
        "log scale",
        0.0,
        3.0,
        0.05,
        |s| s.premises.target.site_sd
    ),
    premise!(
        Scenario,
        "premises.target.year_sd",
        "SD of years shared by all sites",
        "log scale",
        0.0,
        3.0,
        0.05,
        |s| s.premises.target.year_sd
    ),
    premise!(
        Scenario,
        "premises.target.site_year_sd",
        "SD of a site's own year",
        "log scale",
        0.0,
        3.0,
        0.05,
        |s| s.premises.target.site_year_sd
    ),
    premise!(
        Scenario,
        "premises.target.trap_sd",
        "SD of traps within a site",
        "log scale",
        0.0,
        3.0,
        0.05,
        |s| s.premises.target.trap_sd
    ),
    premise!(
        Scenario,
        "premises.target.season_peak_week",
        "season's peak",
        "week of the year",
        1.0,
        53.0,
        1.0,
        |s| s.premises.target.season_peak_week
    ),
    premise!(
        Scenario,
        "premises.target.season_width_weeks",
        "season's width (SD)",
        "weeks",
        0.3,
        60.0,
        0.5,
        |s| s.premises.target.season_width_weeks
    ),
    premise!(
        Scenario,
        "premises.trap_loss",
        "trap-weeks lost",
        "share",
        0.0,
        0.9,
        0.01,
        |s| s.premises.trap_loss
    ),
    Field {
        path: "premises.gradient.optimum",
        label: "optimum in the first year",
        unit: "m or km",
        low: -20_000.0,
        high: 20_000.0,
        whole: false,
        step: 10.0,
        read: |s| s.premises.gradient.as_ref().map(|g| g.optimum.value),
        write: |s, v| {
            if let Some(g) = &mut s.premises.gradient {
                g.optimum.value = v;
            }
        },
        premise: Some(|s| s.premises.gradient.as_ref().map(|g| &g.optimum)),
        premise_mut: Some(|s| s.premises.gradient.as_mut().map(|g| &mut g.optimum)),
    },
    Field {
        path: "premises.gradient.tolerance",
        label: "tolerance (SD along the gradient)",
        unit: "m or km",
        low: 1.0,
        high: 20_000.0,
        whole: false,
        step: 10.0,
        read: |s| s.premises.gradient.as_ref().map(|g| g.tolerance.value),
        write: |s, v| {
            if let Some(g) = &mut s.premises.gradient {
                g.tolerance.value = v;
            }
        },
        premise: Some(|s| s.premises.gradient.as_ref().map(|g| &g.tolerance)),
        premise_mut: Some(|s| s.premises.gradient.as_mut().map(|g| &mut g.tolerance)),
    },
    whole!("plan.sites", "sites", "", 2.0, 2000.0, |s| s.plan.sites),
    whole!(
        "plan.traps_per_site",
        "traps per site",
        "",
        1.0,
        100.0,
        |s| s.plan.traps_per_site
    ),
    whole!(
        "plan.first_week",
        "first week",
        "of the year",
        1.0,
        53.0,
        |s| s.plan.first_week
    ),
    whole!("plan.weeks", "weeks in a row", "weeks", 1.0, 53.0, |s| s
        .plan
        .weeks),
    plain!(
        Scenario,
        "plan.exposure_days",
        "exposure",
        "days a week",
        0.1,
        7.0,
        0.5,
        |s| s.plan.exposure_days
    ),
    whole!("plan.years", "years", "", 3.0, 60.0, |s| s.plan.years),
    Field {
        path: "plan.transect.lowest",
        label: "lowest site",
        unit: "m or km",
        low: -20_000.0,
        high: 20_000.0,
        whole: false,
        step: 10.0,
        read: |s| s.plan.transect.as_ref().map(|t| t.lowest),
        write: |s, v| {
            if let Some(t) = &mut s.plan.transect {
                t.lowest = v;
            }
        },
        premise: None,
        premise_mut: None,
    },
    Field {
        path: "plan.transect.highest",
        label: "highest site",
        unit: "m or km",
        low: -20_000.0,
        high: 20_000.0,
        whole: false,
        step: 10.0,
        read: |s| s.plan.transect.as_ref().map(|t| t.highest),
        write: |s, v| {
            if let Some(t) = &mut s.plan.transect {
                t.highest = v;
            }
        },
        premise: None,
        premise_mut: None,
    },
    whole!("limits.sites", "most sites", "", 2.0, 2000.0, |s| s
        .limits
        .sites),
    whole!(
        "limits.traps_per_site",
        "most traps per site",
        "",
        1.0,
        100.0,
        |s| s.limits.traps_per_site
    ),
    whole!(
        "limits.weeks",
        "most weeks in a row",
        "weeks",
        1.0,
        53.0,
        |s| s.limits.weeks
    ),
];
