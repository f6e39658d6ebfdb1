//! The scenario's own numbers.

use super::Field;
use super::shapes::{
    bell_premise, edge_premise, effect, part_plain, part_premise, plain, premise, stop_rule, whole,
};
use crate::scenario::{Effect, Premise, Scenario, Source, StopRule};

/// The scenario's own numbers (by-catch groups have [`BYCATCH`]).
pub const SCENARIO: &[Field<Scenario>] = &[
    effect!(
        Decline,
        "question.effect.decline.change_percent",
        "fall",
        "%",
        0.1,
        99.0,
        5.0,
        change_percent
    ),
    effect!(
        Decline,
        "question.effect.decline.over_years",
        "over",
        "years",
        1.0,
        100.0,
        1.0,
        over_years
    ),
    effect!(
        NoWorse,
        "question.effect.no_worse.margin_percent",
        "fall that would be too much",
        "%",
        0.1,
        99.0,
        5.0,
        margin_percent
    ),
    effect!(
        NoWorse,
        "question.effect.no_worse.over_years",
        "over",
        "years",
        1.0,
        100.0,
        1.0,
        over_years
    ),
    effect!(
        NoWorse,
        "question.effect.no_worse.change_percent",
        "fall believed in",
        "%",
        -200.0,
        98.0,
        5.0,
        change_percent
    ),
    effect!(
        Difference,
        "question.effect.difference.difference_percent",
        "difference",
        "%",
        -99.0,
        900.0,
        5.0,
        difference_percent
    ),
    effect!(
        BeforeAfter,
        "question.effect.before_after.change_percent",
        "change",
        "%",
        -99.0,
        900.0,
        5.0,
        change_percent
    ),
    effect!(
        Occupancy,
        "question.effect.occupancy.to_share",
        "share occupied at the end",
        "",
        0.01,
        0.99,
        0.05,
        to_share
    ),
    effect!(
        Occupancy,
        "question.effect.occupancy.over_years",
        "over",
        "years",
        1.0,
        100.0,
        1.0,
        over_years
    ),
    effect!(
        RangeShift,
        "question.effect.range_shift.distance_per_decade",
        "shift",
        "m or km a decade",
        -2000.0,
        2000.0,
        5.0,
        distance_per_decade
    ),
    effect!(
        Absence,
        "question.effect.absence.catch_per_trap_week",
        "density to exclude",
        "animals a trap-week",
        0.000_001,
        100_000.0,
        0.01,
        catch_per_trap_week
    ),
    effect!(
        Baseline,
        "question.effect.baseline.within_percent",
        "wanted precision of the mean",
        "% of it",
        1.0,
        200.0,
        5.0,
        within_percent
    ),
    effect!(
        Inventory,
        "question.effect.inventory.wanted_share",
        "share to be recorded",
        "",
        0.05,
        0.999,
        0.01,
        wanted_share
    ),
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
    Field {
        path: "question.several.answered_share",
        label: "species that must be answered",
        unit: "share",
        low: 0.01,
        high: 1.0,
        whole: false,
        step: 0.05,
        read: |s| s.question.several.map(|l| l.answered_share),
        write: |s, v| {
            if let Some(l) = &mut s.question.several {
                l.answered_share = v;
            }
        },
        premise: None,
        premise_mut: None,
    },
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
    bell_premise!(
        optimum,
        "premises.gradient.optimum",
        "optimum in the first year",
        "m or km",
        -20_000.0,
        20_000.0,
        10.0
    ),
    bell_premise!(
        tolerance,
        "premises.gradient.tolerance",
        "tolerance (SD along the gradient)",
        "m or km",
        1.0,
        20_000.0,
        10.0
    ),
    edge_premise!(
        place,
        "premises.gradient.edge.place",
        "edge in the first year",
        "m or km",
        -20_000.0,
        20_000.0,
        10.0
    ),
    edge_premise!(
        width,
        "premises.gradient.edge.width",
        "width of the edge (scale of its logistic curve)",
        "m or km",
        0.1,
        20_000.0,
        5.0
    ),
    edge_premise!(
        redrawn_each_year,
        "premises.gradient.edge.redrawn_each_year",
        "sites whose own liking by the target is new each year",
        "share",
        0.0,
        1.0,
        0.05
    ),
    Field {
        path: "premises.pair_correlation",
        label: "what the sites of a pair have in common",
        unit: "share of their variance",
        low: 0.0,
        high: 0.99,
        whole: false,
        step: 0.1,
        read: |s| s.premises.pair_correlation.as_ref().map(|p| p.value),
        write: |s, v| {
            if let Some(p) = &mut s.premises.pair_correlation {
                p.value = v;
            }
        },
        premise: Some(|s| s.premises.pair_correlation.as_ref()),
        premise_mut: Some(|s| s.premises.pair_correlation.as_mut()),
    },
    part_premise!(
        premises,
        local_population,
        animals,
        "premises.local_population.animals",
        "animals in reach of a site's traps",
        "animals a year",
        0.1,
        1_000_000_000.0,
        100.0
    ),
    Field {
        path: "premises.local_population.recovery",
        label: "what is missing and has come back by the next year",
        unit: "share",
        low: 0.0,
        high: 1.0,
        whole: false,
        step: 0.1,
        read: |s| {
            let recovery = s.premises.local_population.as_ref()?.recovery.as_ref();
            recovery.map(|p| p.value)
        },
        write: |s, v| {
            if let Some(local) = &mut s.premises.local_population {
                let premise = || Premise::new(v, Source::Guess);
                local.recovery.get_or_insert_with(premise).value = v;
            }
        },
        premise: Some(|s| s.premises.local_population.as_ref()?.recovery.as_ref()),
        premise_mut: Some(|s| s.premises.local_population.as_mut()?.recovery.as_mut()),
    },
    part_premise!(
        premises,
        occupancy,
        occupied,
        "premises.occupancy.occupied",
        "sites occupied in the first year",
        "share",
        0.01,
        0.99,
        0.05
    ),
    part_premise!(
        premises,
        occupancy,
        left_each_year,
        "premises.occupancy.left_each_year",
        "occupied sites left empty a year later",
        "share",
        0.0,
        1.0,
        0.05
    ),
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
        |s| s.plan.first_week,
        |s| s.plan.chosen_weeks = None
    ),
    whole!(
        "plan.weeks",
        "weeks",
        "a year",
        1.0,
        53.0,
        |s| s.plan.weeks,
        |s| s.plan.chosen_weeks = None
    ),
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
    whole!("plan.years", "years", "", 1.0, 60.0, |s| s.plan.years),
    part_plain!(
        transect,
        lowest,
        "plan.transect.lowest",
        "lowest site",
        "m or km",
        -20_000.0,
        20_000.0,
        10.0
    ),
    part_plain!(
        transect,
        highest,
        "plan.transect.highest",
        "highest site",
        "m or km",
        -20_000.0,
        20_000.0,
        10.0
    ),
    part_plain!(
        groups,
        treated_share,
        "plan.groups.treated_share",
        "treated sites",
        "share of all",
        0.05,
        0.95,
        0.05
    ),
    Field {
        path: "plan.groups.before_years",
        label: "years before the treatment",
        unit: "",
        low: 0.0,
        high: 59.0,
        whole: true,
        step: 1.0,
        read: |s| s.plan.groups.as_ref().map(|g| f64::from(g.before_years)),
        write: |s, v| {
            if let Some(g) = &mut s.plan.groups {
                g.before_years = v as u32;
            }
        },
        premise: None,
        premise_mut: None,
    },
    stop_rule!(
        Green,
        "plan.stop_rule.green.relative_error_percent",
        "wanted standard error",
        "% of the mean",
        1.0,
        100.0,
        1.0,
        false,
        |r| r.relative_error_percent,
        |r, v| r.relative_error_percent = v
    ),
    stop_rule!(
        Green,
        "plan.stop_rule.green.a",
        "Taylor's a (variance at a mean of 1)",
        "",
        0.01,
        1000.0,
        0.1,
        false,
        |r| r.a,
        |r, v| r.a = v
    ),
    stop_rule!(
        Green,
        "plan.stop_rule.green.b",
        "Taylor's b (power of the mean)",
        "",
        0.0,
        1.95,
        0.05,
        false,
        |r| r.b,
        |r, v| r.b = v
    ),
    stop_rule!(
        Green,
        "plan.stop_rule.green.most_samples",
        "most samples",
        "",
        2.0,
        500.0,
        1.0,
        true,
        |r| r.most_samples,
        |r, v| r.most_samples = v as u32
    ),
    stop_rule!(
        Kuno,
        "plan.stop_rule.kuno.relative_error_percent",
        "wanted standard error",
        "% of the mean",
        1.0,
        100.0,
        1.0,
        false,
        |r| r.relative_error_percent,
        |r, v| r.relative_error_percent = v
    ),
    stop_rule!(
        Kuno,
        "plan.stop_rule.kuno.most_samples",
        "most samples",
        "",
        2.0,
        500.0,
        1.0,
        true,
        |r| r.most_samples,
        |r, v| r.most_samples = v as u32
    ),
    stop_rule!(
        ProbabilityRatio,
        "plan.stop_rule.probability_ratio.low",
        "low mean",
        "animals a sample",
        0.0001,
        1_000_000.0,
        0.5,
        false,
        |r| r.low,
        |r, v| r.low = v
    ),
    stop_rule!(
        ProbabilityRatio,
        "plan.stop_rule.probability_ratio.high",
        "high mean",
        "animals a sample",
        0.0001,
        1_000_000.0,
        0.5,
        false,
        |r| r.high,
        |r, v| r.high = v
    ),
    stop_rule!(
        ProbabilityRatio,
        "plan.stop_rule.probability_ratio.alpha",
        "chance of “high” at the low mean",
        "",
        0.001,
        0.5,
        0.05,
        false,
        |r| r.alpha,
        |r, v| r.alpha = v
    ),
    stop_rule!(
        ProbabilityRatio,
        "plan.stop_rule.probability_ratio.beta",
        "chance of “low” at the high mean",
        "",
        0.001,
        0.5,
        0.05,
        false,
        |r| r.beta,
        |r, v| r.beta = v
    ),
    stop_rule!(
        ProbabilityRatio,
        "plan.stop_rule.probability_ratio.most_samples",
        "most samples",
        "",
        2.0,
        500.0,
        1.0,
        true,
        |r| r.most_samples,
        |r, v| r.most_samples = v as u32
    ),
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
