//! Bad scenarios: each names its place, value and bound.

use super::{
    EdgeBy, Known, Likelihood, Placing, Premise, Rows, Scenario, Source, Test, read, write,
};

const DEMO: &str = include_str!("../../../../demo-data/meadow-beetles.json");
const MOTHS: &str = include_str!("../../../../demo-data/mountain-moths.json");
const EDGE: &str = include_str!("../../../../demo-data/mountain-edge.json");

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
    for text in [DEMO, MOTHS, EDGE] {
        let scenario = read(text).unwrap();
        assert_eq!(read(&write(&scenario)).unwrap(), scenario);
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
    for text in [DEMO, MOTHS] {
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
