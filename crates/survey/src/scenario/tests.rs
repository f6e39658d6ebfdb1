//! Bad scenarios: each names its place, value and bound.

use super::{Community, Incidences, MOST_SPECIES, MOST_STRATA, SpeciesCount};
use super::{
    Detection, Direction, EdgeBy, Effect, GreenRule, Known, KunoRule, Likelihood, Placing, Premise,
    RatioRule, Rows, Scenario, Source, StopRule, Test, read, reread, write,
};

const DEMO: &str = include_str!("../../../../demo-data/meadow-beetles.json");
const MOTHS: &str = include_str!("../../../../demo-data/mountain-moths.json");
const NO_WORSE: &str = include_str!("../../../../demo-data/meadow-no-worse.json");
const MOWING: &str = include_str!("../../../../demo-data/meadow-mowing.json");
const HOVERFLIES: &str = include_str!("../../../../demo-data/orchard-hoverflies.json");
const INVENTORY: &str = include_str!("../../../../demo-data/meadow-inventory.json");
const OCCUPANCY: &str = include_str!("../../../../demo-data/mountain-occupancy.json");
const ABSENCE: &str = include_str!("../../../../demo-data/orchard-absence.json");
const BASELINE: &str = include_str!("../../../../demo-data/orchard-baseline.json");
const EDGE: &str = include_str!("../../../../demo-data/mountain-edge.json");
pub(super) const DEMOS: [&str; 10] = [
    DEMO, MOTHS, NO_WORSE, MOWING, HOVERFLIES, OCCUPANCY, ABSENCE, BASELINE, INVENTORY, EDGE,
];

fn demo() -> Scenario {
    read(DEMO).unwrap()
}

#[track_caller]
fn refused(scenario: Scenario, wants: &[&str]) {
    let faults = scenario.check().unwrap_err();
    let text: Vec<String> = faults.iter().map(ToString::to_string).collect();
    for want in wants {
        assert!(
            text.iter().any(|t| t.contains(want)),
            "{want:?} is not in {text:?}"
        );
    }
}

#[track_caller]
fn unreadable(from: &str, to: &str, wants: &[&str]) {
    assert!(DEMO.contains(from), "{from}");
    let text = read(&DEMO.replacen(from, to, 1)).unwrap_err().to_string();
    for want in wants {
        assert!(text.contains(want), "{want:?} is not in {text:?}");
    }
}

#[test]
fn demos_are_sound_and_survive_a_round_trip() {
    for text in DEMOS {
        let scenario = read(text).unwrap();
        assert_eq!(read(&write(&scenario)).unwrap(), scenario);
        assert_eq!(reread(&write(&scenario)).unwrap(), scenario);
        assert_eq!(read(&format!("\u{feff}{text}")).unwrap(), scenario);
        assert!(scenario.check().is_ok());
    }
}

#[test]
fn digest_tells_scenarios_apart() {
    let mut other = demo();
    assert_eq!(other.digest(), demo().digest());
    other.plan.sites += 1;
    assert_ne!(other.digest(), demo().digest());
}

/// Every number of the list is refused just outside its bounds, not a number, and (when whole) between numbers.
#[test]
fn every_field_is_bounded() {
    for text in DEMOS {
        let base = read(text).unwrap();
        for field in super::fields::all() {
            if (field.read)(&base).is_none() {
                continue;
            }
            for value in [field.low - 1.0, field.high + 1.0, f64::NAN, f64::INFINITY] {
                // Whole numbers cannot hold these at all.
                if field.whole && !(value.is_finite() && value >= 0.0) {
                    continue;
                }
                let mut s = base.clone();
                (field.write)(&mut s, value);
                let faults = s.check().unwrap_err();
                let named = faults
                    .iter()
                    .any(|f| f.to_string().contains(field.path) && f.to_string().contains("give"));
                assert!(named, "{} = {value}: {faults:?}", field.path);
            }
        }
    }
}

#[test]
fn keys_and_types() {
    unreadable(
        "\"sites\": 24",
        "\"sites\": 2.5",
        &["plan.sites", "2.5", "whole number from 2 to 2000"],
    );
    unreadable(
        "\"sites\": 24",
        "\"sites\": \"24\"",
        &["plan.sites", "24", "whole number"],
    );
    unreadable("\"sites\": 24", "\"sites\": NaN", &["plan.sites"]);
    unreadable("\"sites\": 24,", "", &["plan", "missing field `sites`"]);
    unreadable(
        "\"sites\": 24",
        "\"sites\": 24, \"moons\": 1",
        &["plan", "unknown field `moons`"],
    );
    unreadable(
        "\"either\"",
        "\"up\"",
        &["question.direction", "unknown variant `up`", "either"],
    );
    unreadable(
        "\"value\": 9.0",
        "\"value\": null",
        &["premises.target.catch_per_trap_week.value", "null"],
    );
    unreadable(
        "\"class\": \"vertebrate\"",
        "\"class\": \"fish\"",
        &["premises.bycatch[1].class", "fish"],
    );
    assert!(read("").unwrap_err().to_string().contains("the file"));
    assert!(
        read(&format!("{DEMO} x"))
            .unwrap_err()
            .to_string()
            .contains("trailing")
    );
}

#[test]
fn parts_must_fit_together() {
    let mut s = demo();
    s.plan.first_week = 50;
    refused(s, &["plan.weeks is 5: give at most 4 weeks from week 50"]);
    let mut s = demo();
    s.premises.target.site_sd.low = Some(0.9);
    refused(
        s,
        &[
            "premises.target.site_sd.low is 0.9",
            "at most the value 0.6",
        ],
    );
    let mut s = demo();
    s.premises.target.site_sd.source = super::Source::Published;
    refused(s, &["premises.target.site_sd.citation: missing"]);
    let mut s = demo();
    s.premises.bycatch[1].name = "spiders".into();
    refused(s, &["premises.bycatch[1].name", "no other group has"]);
    let mut s = demo();
    s.premises.bycatch[0].dispersion_k.value = 0.0;
    refused(
        s,
        &["premises.bycatch[0].dispersion_k.value is 0: give a number from 0.01"],
    );
    let mut s = demo();
    s.leastcatch = 2;
    refused(s, &["leastcatch is 2"]);
    let mut s = demo();
    s.premises.target.name = " ".into();
    refused(
        s,
        &["premises.target.name is empty: give 1 to 100 characters"],
    );
    let mut s = read(MOTHS).unwrap();
    s.premises.gradient = None;
    s.plan.transect = None;
    refused(s, &["premises.gradient: missing", "plan.transect: missing"]);
    let mut s = read(MOTHS).unwrap();
    s.plan.sites = 3;
    refused(s, &["plan.sites is 3: give at least 4 sites"]);
    let mut s = demo();
    s.premises.gradient = read(MOTHS).unwrap().premises.gradient;
    refused(
        s,
        &["premises.gradient: a gradient belongs to the range-shift question"],
    );
}

#[test]
fn departures_are_left_out_unless_stated() {
    let plain = demo();
    let text = write(&plain);
    assert!(!text.contains("departures") && !text.contains("trap_points"));
    let mut s = plain.clone();
    s.plan.trap_points = super::TrapPoints::NewEachYear;
    s.premises.departures.year_autocorrelation = Premise::new(0.3, Source::Guess);
    assert_ne!(s.digest(), plain.digest());
    let text = write(&s);
    assert_eq!(read(&text).unwrap(), s);
    assert!(text.contains("\"new_each_year\"") && text.contains("\"year_autocorrelation\""));
    assert!(!text.contains("shared_week_sd"));
    // Set back to the plain model, the file is the old one.
    s.plan.trap_points = super::TrapPoints::Same;
    s.premises.departures.year_autocorrelation.value = 0.0;
    assert_eq!(write(&s), write(&plain));
}

#[test]
fn departures_have_bounds_and_fit_together() {
    let mut s = demo();
    s.premises.departures.year_autocorrelation.value = 1.0;
    refused(
        s,
        &["premises.departures.year_autocorrelation.value is 1: give a number from -0.95 to 0.95"],
    );
    let mut s = demo();
    s.premises.departures.correlation_length_km.value = 10.0;
    refused(
        s.clone(),
        &["premises.departures.region_km2.value is 0: give an area of at least 0.0001 km²"],
    );
    s.premises.departures.region_km2.value = 100.0;
    assert!(s.clone().check().is_ok());
    s.plan.sites = 1001;
    refused(
        s,
        &["1001 correlated sites, at most 1000 can be simulated: lower plan.sites"],
    );
    unreadable(
        "\"trap_loss\"",
        "\"departures\": { \"site_slope\": 1 }, \"trap_loss\"",
        &["premises.departures", "unknown field `site_slope`"],
    );
    unreadable(
        "\"trap_loss\"",
        "\"departures\": { \"shared_week_sd\": 1 }, \"trap_loss\"",
        &["premises.departures.shared_week_sd"],
    );
}

#[test]
fn size_is_bounded_and_named() {
    let mut s = demo();
    (s.plan.sites, s.plan.years) = (600, 40);
    refused(
        s,
        &["the survey has 24000 site-years, at most 20000 can be simulated"],
    );
    let mut s = demo();
    (
        s.plan.sites,
        s.plan.traps_per_site,
        s.plan.weeks,
        s.plan.first_week,
        s.plan.years,
    ) = (1000, 50, 10, 10, 20);
    refused(s, &["10000000 trap-weeks"]);
    let mut s = demo();
    (s.limits.sites, s.limits.traps_per_site, s.limits.weeks) = (500, 100, 53);
    refused(s, &["2650000 plans within its limits"]);
}

/// Choices of the analysis that do not go together name themselves and the way out.
#[test]
fn analyses_that_do_not_go_together_are_refused() {
    let with = |change: &dyn Fn(&mut Scenario)| {
        let mut s = demo();
        change(&mut s);
        s
    };
    refused(
        with(&|s| {
            s.analysis.test = Test::Satterthwaite;
            s.analysis.likelihood = Likelihood::Maximum;
        }),
        &["analysis.test: satterthwaite needs restricted likelihood"],
    );
    refused(
        with(&|s| s.analysis.test = Test::LikelihoodRatio),
        &["analysis.test: a likelihood_ratio test of the change needs maximum likelihood"],
    );
    refused(
        with(&|s| {
            s.analysis.test = Test::AnnualIndex;
            s.analysis.rows = Rows::Weeks;
        }),
        &["analysis.rows: annual_index is made of site-year totals"],
    );
    refused(
        with(&|s| {
            s.analysis.knows.insert(Known::SharedWeeks);
        }),
        &["analysis.knows: shared_weeks can be told apart in rows of weeks only"],
    );
    refused(
        with(&|s| {
            s.analysis.rows = Rows::Weeks;
            (s.plan.sites, s.plan.weeks, s.limits.sites) = (500, 5, 500);
            s.plan.years = 10;
        }),
        &["25000 rows of weeks, at most 20000"],
    );
    let mut shift = read(MOTHS).unwrap();
    shift.analysis.test = Test::AnnualIndex;
    refused(
        shift,
        &["annual_index answers the questions decline and no_worse alone"],
    );
    unreadable(
        "\"test\": \"calibrated\"",
        "\"test\": \"guess\"",
        &["analysis.test", "guess", "likelihood_ratio"],
    );
    // The older key still says the test.
    let old = DEMO.replacen("\"test\": \"calibrated\"", "\"reference\": \"z\"", 1);
    assert_eq!(read(&old).unwrap().analysis.test, Test::Z);
}

/// What the questions of groups, occupancy, absence and margins need, and what does not belong to them.
#[test]
fn questions_have_what_they_need() {
    let with = |text: &str, change: &dyn Fn(&mut Scenario)| {
        let mut s = read(text).unwrap();
        change(&mut s);
        s
    };
    for (text, change, wants) in [
        (
            NO_WORSE,
            &(|s: &mut Scenario| s.question.direction = Direction::Either)
                as &dyn Fn(&mut Scenario),
            "question.direction: the claim of no_worse has one side only",
        ),
        (
            NO_WORSE,
            &|s| {
                if let Effect::NoWorse(n) = &mut s.question.effect {
                    n.change_percent = 40.0;
                }
            },
            "no_worse.change_percent is 40: give a fall below",
        ),
        (
            NO_WORSE,
            &|s| s.plan.years = 2,
            "plan.years is 2: give at least 3 years",
        ),
        (
            HOVERFLIES,
            &|s| s.plan.groups = None,
            "plan.groups: missing: this question needs the share",
        ),
        (
            HOVERFLIES,
            &|s| s.plan.sites = 25,
            "plan.sites is 25: give an even number",
        ),
        (
            HOVERFLIES,
            &|s| s.plan.sites = 2,
            "plan.sites is 2: give at least 4 sites: two pairs",
        ),
        (
            HOVERFLIES,
            &|s| s.premises.pair_correlation = None,
            "premises.pair_correlation: missing",
        ),
        (
            HOVERFLIES,
            &|s| s.plan.groups.as_mut().unwrap().treated_share = 0.3,
            "plan.groups.treated_share is 0.3: give 0.5",
        ),
        (
            HOVERFLIES,
            &|s| s.plan.groups.as_mut().unwrap().paired = false,
            "premises.pair_correlation: a pair_correlation belongs to paired sites",
        ),
        (
            HOVERFLIES,
            &|s| s.plan.groups.as_mut().unwrap().before_years = 1,
            "plan.groups.before_years is 1: give 0",
        ),
        (
            MOWING,
            &|s| s.plan.groups.as_mut().unwrap().before_years = 0,
            "plan.groups.before_years is 0: give at least 1 year",
        ),
        (
            MOWING,
            &|s| s.plan.years = 3,
            "plan.years is 3: give at least 4 years: plan.groups.before_years and at least one",
        ),
        (
            MOWING,
            &|s| {
                s.plan.sites = 10;
                s.plan.groups.as_mut().unwrap().treated_share = 0.05;
            },
            "plan.groups.treated_share is 0.05: give a share that makes at least 1 of plan.sites, 10",
        ),
        (
            MOWING,
            &|s| {
                if let Effect::BeforeAfter(b) = &mut s.question.effect {
                    b.change_percent = 0.0;
                }
            },
            "before_after.change_percent is 0: give a change other than 0",
        ),
        (
            OCCUPANCY,
            &|s| s.plan.weeks = 1,
            "plan.weeks is 1: give at least 2 weeks",
        ),
        (
            OCCUPANCY,
            &|s| s.plan.years = 5,
            "plan.years is 5: give 2, the first and the last year",
        ),
        (
            OCCUPANCY,
            &|s| s.premises.occupancy = None,
            "premises.occupancy: missing",
        ),
        (OCCUPANCY, &|s| s.plan.visits = None, "plan.visits: missing"),
        (
            OCCUPANCY,
            &|s| {
                if let Effect::Occupancy(o) = &mut s.question.effect {
                    o.to_share = 0.6;
                }
            },
            "occupancy.to_share is 0.6: give a share other than premises.occupancy.occupied, 0.6",
        ),
        (
            OCCUPANCY,
            &|s| s.analysis.test = Test::T,
            "analysis.test: occupancy is tested by calibrated, z or likelihood_ratio",
        ),
        (
            OCCUPANCY,
            &|s| s.analysis.rows = Rows::Weeks,
            "analysis.rows: the question occupancy has no mixed model of counts",
        ),
        (
            ABSENCE,
            &|s| s.analysis.test = Test::Z,
            "analysis.test: the question absence has no test to choose",
        ),
        (
            ABSENCE,
            &|s| s.analysis.detection = Detection::Constant,
            "analysis.detection: how detection varies belongs to the occupancy question",
        ),
        (
            DEMO,
            &|s| s.analysis.detection = Detection::Constant,
            "analysis.detection: how detection varies belongs to the occupancy question",
        ),
        (
            DEMO,
            &|s| s.plan.groups = read(MOWING).unwrap().plan.groups,
            "plan.groups: groups belong to the questions difference and before_after",
        ),
        (
            DEMO,
            &|s| s.plan.visits = read(OCCUPANCY).unwrap().plan.visits,
            "plan.visits: visits belong to the occupancy question",
        ),
        (
            DEMO,
            &|s| s.premises.occupancy = read(OCCUPANCY).unwrap().premises.occupancy,
            "premises.occupancy: occupied sites belong to the occupancy question",
        ),
    ] {
        refused(with(text, change), &[wants]);
    }
}

#[test]
fn a_baseline_looks_for_no_change() {
    let base = || read(BASELINE).unwrap();
    let mut s = base();
    s.question.direction = Direction::Either;
    refused(s, &["question.direction: a baseline looks for no change"]);
    let mut s = base();
    s.analysis.test = Test::T;
    refused(s, &["the question baseline has no test to choose"]);
    let mut s = base();
    s.plan.sites = 1;
    refused(s, &["plan.sites is 1"]);
    let mut s = base();
    s.plan.years = 1;
    assert!(s.check().is_ok());
}

#[test]
fn rules_to_stop_that_make_no_line_are_refused() {
    let with = |rule| {
        let mut s = read(BASELINE).unwrap();
        s.plan.stop_rule = Some(rule);
        s
    };
    let ratio = |low, high, alpha, beta| {
        with(StopRule::ProbabilityRatio(RatioRule {
            low,
            high,
            alpha,
            beta,
            most_samples: 50,
        }))
    };
    refused(
        ratio(4.0, 4.0, 0.1, 0.1),
        &["probability_ratio.high is 4: give a mean above plan.stop_rule.probability_ratio.low, 4"],
    );
    refused(
        ratio(2.0, 4.0, 0.5, 0.5),
        &["probability_ratio.beta is 0.5"],
    );
    let green = |a, b| {
        with(StopRule::Green(GreenRule {
            relative_error_percent: 25.0,
            a,
            b,
            most_samples: 50,
        }))
    };
    refused(green(2.0, 2.0), &["plan.stop_rule.green.b is 2"]);
    refused(green(0.0, 1.4), &["plan.stop_rule.green.a is 0"]);
    let rule = KunoRule {
        relative_error_percent: 20.0,
        most_samples: 501,
    };
    refused(
        with(StopRule::Kuno(rule)),
        &["plan.stop_rule.kuno.most_samples is 501"],
    );
    let mut other = read(DEMO).unwrap();
    other.plan.stop_rule = green(2.5, 1.4).plan.stop_rule;
    refused(
        other,
        &["plan.stop_rule: a rule to stop belongs to the baseline question"],
    );
}

const SEVERAL: &str = include_str!("../../../../demo-data/meadow-several.json");

#[test]
fn several_species_are_checked_one_by_one() {
    let several = || read(SEVERAL).unwrap();
    assert_eq!(read(&write(&several())).unwrap(), several());
    assert!(several().check().is_ok());
    // Plain scenarios are written as they always were.
    let plain = write(&demo());
    assert!(!plain.contains("others") && !plain.contains("several"));
    let mut s = several();
    s.premises.others[1].dispersion_k.value = 0.0;
    s.premises.others[2].site_sd.low = Some(9.0);
    s.premises.others[0].name = " ".into();
    refused(
        s,
        &[
            "premises.others[1].dispersion_k.value is 0: give a number from 0.01",
            "premises.others[2].site_sd.low is 9",
            "premises.others[0].name is empty",
        ],
    );
    let taken = "a name that neither the target nor another species or by-catch group has";
    for name in ["meadow runner", "shrews", "ditch digger"] {
        let mut s = several();
        s.premises.others[2].name = name.into();
        refused(
            s,
            &[&format!(
                "premises.others[2].name is {name:?}: give {taken}"
            )],
        );
    }
    let mut s = several();
    let one = s.premises.others[0].clone();
    s.premises.others = (0..13).map(|_| one.clone()).collect();
    refused(
        s,
        &["premises.others is 13 species: give at most 12 species"],
    );
    let error = read(&SEVERAL.replacen("\"value\": 0.15", "\"value\": \"few\"", 1)).unwrap_err();
    let error = error.to_string();
    assert!(
        error.contains("premises.others[0].catch_per_trap_week.value"),
        "{error}"
    );
    assert!(error.contains("give a number from 0.001"), "{error}");
}

#[test]
fn several_species_need_a_share_and_a_question_that_asks_it() {
    let mut s = read(SEVERAL).unwrap();
    s.question.several = None;
    refused(
        s,
        &["question.several: missing: several species need answered_share and control"],
    );
    let mut s = read(SEVERAL).unwrap();
    s.premises.others.clear();
    refused(s, &["premises.others: missing"]);
    let mut s = read(SEVERAL).unwrap();
    if let Some(several) = &mut s.question.several {
        several.answered_share = 0.0;
    }
    refused(
        s,
        &["question.several.answered_share is 0: give a number from 0.01 to 1"],
    );
    let mut moths = read(MOTHS).unwrap();
    let s = read(SEVERAL).unwrap();
    (moths.premises.others, moths.question.several) = (s.premises.others, s.question.several);
    refused(
        moths,
        &[
            "question.several: several species may be asked about by decline",
            "not by range_shift",
        ],
    );
}

/// What an inventory's community may hold, each fault with its path, value and bound.
#[test]
fn communities_have_what_they_need() {
    let with = |change: &dyn Fn(&mut Scenario)| {
        let mut s = read(INVENTORY).unwrap();
        change(&mut s);
        s
    };
    assert!(with(&|_| {}).check().is_ok());
    let community = |change: &'static dyn Fn(&mut Community)| {
        with(&|s| change(s.premises.community.as_mut().unwrap()))
    };
    let species = |name: &str, count: u32| SpeciesCount {
        name: name.into(),
        count,
    };
    for (s, wants) in [
        (
            with(&|s| s.premises.community = None),
            "premises.community: missing: the inventory question needs what a pilot found",
        ),
        (
            with(&|s| s.question.direction = Direction::Either),
            "question.direction: the claim of inventory has one side only",
        ),
        (
            with(&|s| s.analysis.test = Test::Z),
            "analysis.test: the question inventory has no test to choose",
        ),
        (
            with(&|s| {
                if let Effect::Inventory(i) = &mut s.question.effect {
                    i.wanted_share = 1.0;
                }
            }),
            "question.effect.inventory.wanted_share is 1: give a number from 0.05 to 0.999",
        ),
        (
            community(&|c| c.strata.clear()),
            "premises.community.strata is 0 strata: give 1 to 30 strata, or premises.community.incidences",
        ),
        (
            community(&|c| {
                for i in 0..MOST_STRATA {
                    let mut other = c.strata[0].clone();
                    other.name = format!("another {i}");
                    c.strata.push(other);
                }
            }),
            "premises.community.strata is 34 strata: give at most 30 strata",
        ),
        (
            community(&|c| c.strata[1].name = c.strata[0].name.clone()),
            "premises.community.strata[1].name is \"wide cups, weeks 20 to 22\": give a name that no other stratum has",
        ),
        (
            community(&|c| c.strata[2].trap_weeks = 0.0),
            "premises.community.strata[2].trap_weeks is 0: give a number from 0.01",
        ),
        (
            community(&|c| c.strata[0].killed_per_trap_week = -1.0),
            "premises.community.strata[0].killed_per_trap_week is -1: give a number from 0",
        ),
        (
            community(&|c| c.strata[0].species[3].name = String::new()),
            "premises.community.strata[0].species[3].name is empty: give 1 to 100 characters",
        ),
        (
            community(&|c| c.strata[0].species[3].name = c.strata[0].species[0].name.clone()),
            "premises.community.strata[0].species[3].name is \"Poecilus versicolor\": give a species that is not in this list",
        ),
        (
            community(&|c| {
                c.strata.truncate(1);
                c.strata[0].species = (0..=MOST_SPECIES)
                    .map(|i| SpeciesCount {
                        name: format!("s{i}"),
                        count: 2,
                    })
                    .collect();
            }),
            "premises.community.strata[0].species is 2001 species: give at most 2000 species",
        ),
        (
            community(&|c| {
                c.strata.truncate(1);
                c.strata[0].species.truncate(1);
                c.strata[0].species[0].count = 1;
            }),
            "premises.community is without a catch: give at least 2 individuals",
        ),
        (
            community(&|c| {
                c.strata.truncate(1);
                c.strata[0].species = (0..200)
                    .map(|i| SpeciesCount {
                        name: format!("s{i}"),
                        count: 1,
                    })
                    .collect();
            }),
            "premises.community is a pilot that reckons 19801 species unseen: give one that reckons at most 4000",
        ),
        (
            with(&|s| {
                s.premises.community = Some(Community {
                    strata: Vec::new(),
                    incidences: Some(Incidences {
                        samples: 5,
                        trap_weeks_per_sample: 1.0,
                        species: vec![species("a", 6)],
                    }),
                });
            }),
            "premises.community.incidences.species[0].count is 6: give at most premises.community.incidences.samples, 5",
        ),
        (
            with(&|s| {
                s.premises.community = Some(Community {
                    strata: Vec::new(),
                    incidences: Some(Incidences {
                        samples: 1,
                        trap_weeks_per_sample: 0.0,
                        species: vec![species("a", 1)],
                    }),
                });
            }),
            "premises.community.incidences.samples is 1: give a whole number from 2",
        ),
    ] {
        refused(s, &[wants]);
    }
    let mut s = read(DEMO).unwrap();
    s.premises.community = read(INVENTORY).unwrap().premises.community;
    refused(
        s,
        &["premises.community: a community belongs to the inventory question"],
    );
}

/// What belongs to an optimum and what to an edge; an edge's analyses; placing and correlation.
#[test]
fn edges_and_optima_do_not_mix() {
    let (moths, edge) = (read(MOTHS).unwrap(), read(EDGE).unwrap());
    let mut s = moths.clone();
    s.question = edge.question.clone();
    refused(
        s,
        &[
            "premises.gradient.optimum: an optimum belongs to",
            "premises.gradient.tolerance: a tolerance belongs to",
            "premises.gradient.edge: missing",
        ],
    );
    let mut s = edge.clone();
    s.question = moths.question.clone();
    refused(
        s,
        &[
            "premises.gradient.optimum: missing",
            "premises.gradient.tolerance: missing",
            "premises.gradient.edge: an edge belongs to",
        ],
    );
    let mut s = moths.clone();
    s.analysis.edge = EdgeBy::Detection;
    refused(s, &["analysis.edge: what an edge is seen by belongs to"]);
    let mut s = edge.clone();
    s.analysis.edge = EdgeBy::Detection;
    s.analysis.test = Test::T;
    s.plan.weeks = 1;
    refused(
        s,
        &[
            "analysis.likelihood: an edge by detection",
            "analysis.test: an edge by detection is tested by",
            "plan.weeks is 1: give at least 2 weeks",
        ],
    );
    let mut s = edge.clone();
    s.analysis.rows = Rows::Weeks;
    s.analysis.test = Test::Satterthwaite;
    refused(
        s,
        &["analysis.rows: an edge is seen", "satterthwaite needs"],
    );
    let mut s = moths;
    s.plan.transect.as_mut().unwrap().placing = Placing::Random;
    let invented = |v| Premise::new(v, Source::Invented);
    s.premises.departures.correlation_length_km = invented(5.0);
    s.premises.departures.region_km2 = invented(100.0);
    refused(s, &["plan.transect.placing is random: give even"]);
    let mut s = edge;
    let gradient = s.premises.gradient.as_mut().unwrap();
    gradient.edge.as_mut().unwrap().width = invented(0.0);
    refused(
        s,
        &["premises.gradient.edge.width.value is 0: give a number from 0.1"],
    );
}

#[test]
fn chosen_weeks_fit_the_plan() {
    let with = |weeks: &[u32]| {
        let mut s = demo();
        (s.plan.first_week, s.plan.weeks) = (20, 3);
        s.plan.chosen_weeks = Some(weeks.to_vec());
        s
    };
    assert!(with(&[20, 22, 53]).check().is_ok());
    assert_eq!(with(&[20, 22, 53]).plan.open_weeks(), [20, 22, 53]);
    refused(
        with(&[20, 22]),
        &["plan.chosen_weeks is 2 weeks: give as many as plan.weeks, which is 3"],
    );
    refused(
        with(&[21, 22, 23]),
        &["plan.chosen_weeks[0] is 21: give plan.first_week, which is 20"],
    );
    refused(
        with(&[20, 24, 24]),
        &["plan.chosen_weeks[2] is 24: give a whole number from 25 to 53"],
    );
    refused(with(&[20, 22, 54]), &["plan.chosen_weeks[2] is 54"]);
    // Another number of weeks goes back to a run.
    let field = super::fields::find("plan.weeks").unwrap();
    let mut s = with(&[20, 22, 53]);
    (field.write)(&mut s, 4.0);
    assert_eq!(s.plan.open_weeks(), [20, 21, 22, 23]);
    assert!(s.plan.chosen_weeks.is_none());
}
