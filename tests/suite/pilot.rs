//! Premises from pilot files: open tick counts against glmmTMB, and the invented meadow pilot against its truth.

use leastcatch_tests::{path, project};
use pilot::{Estimate, Options, PilotPremises, SiteYear, premises};
use serde_json::Value;
use survey::scenario::{Class, Premise, Scenario, Source};

/// Estimates against glmmTMB, relative.
const ESTIMATE: f64 = 1e-4;
/// Standard errors against glmmTMB, relative.
const ERROR: f64 = 1e-3;

fn ticks(site_year: SiteYear) -> PilotPremises {
    let options = Options {
        file: "grouseticks.csv".into(),
        site_year,
        ..Options::default()
    };
    let text = std::fs::read(path("reference/open/grouseticks.csv")).unwrap();
    premises(&text, &options).unwrap()
}

fn fit(name: &str) -> Value {
    let text = std::fs::read_to_string(path(&format!("reference/open/{name}"))).unwrap();
    serde_json::from_str(&text).unwrap()
}

#[track_caller]
fn near(got: f64, want: &Value, tolerance: f64) {
    let want = want.as_f64().unwrap();
    assert!((got / want - 1.0).abs() < tolerance, "{got} against {want}");
}

/// Ticks on grouse chicks, location and year (tests/reference/README.md names the source and the call).
#[test]
fn ticks_without_site_year() {
    let p = ticks(SiteYear::Off);
    let want = fit("grouseticks_glmmTMB.json");
    near(p.target.site_sd.value, &want["sd"]["LOCATION"], ESTIMATE);
    near(p.target.year_sd.value, &want["sd"]["YEAR"], ESTIMATE);
    near(p.target.dispersion_k.value, &want["theta"], ESTIMATE);
    near(
        p.target.catch_per_trap_week.value.ln(),
        &want["fixed"],
        ESTIMATE,
    );
    assert!((p.target.log_likelihood - want["logLik"].as_f64().unwrap()).abs() < 1e-3);
    // The values to which the fit is known outside this project.
    for (got, known) in [
        (p.target.site_sd.value, 1.22971),
        (p.target.year_sd.value, 0.950289),
        (p.target.dispersion_k.value, 2.022326),
        (p.target.log_likelihood, -927.9955),
    ] {
        assert!((got / known - 1.0).abs() < 1e-5, "{got} against {known}");
    }
    assert_eq!(p.target.outcome, "converged");
    assert_eq!(p.target.site_year_sd.source, Source::CommonPractice);
    assert_eq!(
        (p.counts.rows, p.counts.sites, p.counts.years),
        (403, 63, 3)
    );
    let assumed = "each row counts as one unit of effort";
    assert!(p.notes.iter().any(|n| n.contains(assumed)));
}

/// By default chicks of one location and year are replicates, which tell a location's own year.
#[test]
fn ticks_with_site_year() {
    let p = ticks(SiteYear::Auto).target;
    let want = fit("grouseticks_site_year_glmmTMB.json");
    near(p.catch_per_trap_week.value.ln(), &want["fixed"], ESTIMATE);
    assert!((p.log_likelihood - want["logLik"].as_f64().unwrap()).abs() < 1e-3);
    let relative = |e: &Estimate| e.se.unwrap() / e.value;
    near(p.dispersion_k.value, &want["theta"], ESTIMATE);
    near(relative(&p.dispersion_k), &want["log_theta_se"], ERROR);
    near(relative(&p.catch_per_trap_week), &want["fixed_se"], ERROR);
    for (key, e) in [
        ("site", &p.site_sd),
        ("year", &p.year_sd),
        ("site_year", &p.site_year_sd),
    ] {
        near(e.value, &want["sd"][key], ESTIMATE);
        near(relative(e), &want["log_sd_se"][key], ERROR);
        let half = (e.high.unwrap() / e.low.unwrap()).ln() / (2.0 * 1.959_963_984_540_054);
        near(half, &want["log_sd_se"][key], ERROR);
    }
}

fn meadows() -> PilotPremises {
    let text = std::fs::read(project("demo-data/meadow-beetles-pilot.csv")).unwrap();
    premises(&text, &Options::default()).unwrap()
}

/// The truth stands in demo-data/README.md.
#[test]
fn invented_meadows_are_recovered() {
    let p = meadows();
    assert_eq!(p.target.name, "ground beetles");
    let names: Vec<&str> = p.bycatch.iter().map(|g| g.name.as_str()).collect();
    assert_eq!(names, ["shrews", "spiders"]);
    let (t, spiders) = (&p.target, &p.bycatch[1]);
    for (what, e, truth) in [
        ("catch", &t.catch_per_trap_week, 9.0),
        ("k", &t.dispersion_k, 2.0),
        ("site SD", &t.site_sd, 0.6),
        ("year SD", &t.year_sd, 0.2),
        ("site-year SD", &t.site_year_sd, 0.35),
        ("peak", t.season_peak_week.as_ref().unwrap(), 23.0),
        ("width", &t.season_width_weeks, 4.0),
        ("spiders", &spiders.catch_per_trap_week, 6.0),
        ("spiders' k", &spiders.dispersion_k, 2.0),
        ("spiders' site SD", &spiders.site_sd, 0.5),
        ("spiders' year SD", &spiders.year_sd, 0.2),
        (
            "spiders' peak",
            spiders.season_peak_week.as_ref().unwrap(),
            22.0,
        ),
        ("spiders' width", &spiders.season_width_weeks, 7.0),
        ("shrews", &p.bycatch[0].catch_per_trap_week, 0.01),
    ] {
        assert_eq!(e.source, Source::Pilot, "{what}");
        let se = e.se.unwrap_or_else(|| panic!("{what}: no standard error"));
        assert!(
            (e.value - truth).abs() < 3.0 * se,
            "{what}: {e:?} against {truth}"
        );
        let (low, high) = (e.low.unwrap(), e.high.unwrap());
        assert!(low < e.value && e.value < high, "{what}: {e:?}");
    }
    assert_eq!(t.trap_sd.source, Source::CommonPractice);
    assert_eq!(
        (
            p.counts.sites,
            p.counts.traps,
            p.counts.years,
            p.counts.weeks
        ),
        (8, 24, 2, 6)
    );
    assert_eq!((p.counts.samples, p.counts.not_counted), (284, 4));
}

#[test]
fn the_same_text_gives_the_same_digits() {
    let once = serde_json::to_string(&meadows()).unwrap();
    assert_eq!(once, serde_json::to_string(&meadows()).unwrap());
    let back: PilotPremises = serde_json::from_str(&once).unwrap();
    assert_eq!(back, meadows());
    let value: Value = serde_json::from_str(&once).unwrap();
    for key in [
        "catch_per_trap_week",
        "dispersion_k",
        "site_sd",
        "year_sd",
        "site_year_sd",
    ] {
        for part in ["value", "se", "low", "high", "source"] {
            assert!(value["target"][key].get(part).is_some(), "{key}.{part}");
        }
    }
    assert!(!once.contains("NaN") && value["notes"].is_array());
}

fn scenario() -> Scenario {
    let premise = |value: f64| serde_json::json!({"value": value, "source": "invented"});
    let target = serde_json::json!({"name": "x", "catch_per_trap_week": premise(1.0),
        "dispersion_k": premise(1.0), "site_sd": premise(0.1), "year_sd": premise(0.1),
        "site_year_sd": premise(0.1), "trap_sd": {"value": 0.15, "source": "guess"},
        "season_peak_week": premise(30.0), "season_width_weeks": premise(3.0)});
    let shrews = serde_json::json!({"name": "shrews", "class": "vertebrate",
        "catch_per_trap_week": premise(1.0), "dispersion_k": premise(1.0), "site_sd": premise(0.1),
        "year_sd": premise(0.1), "season_peak_week": premise(30.0), "season_width_weeks": premise(3.0)});
    let text = std::fs::read_to_string(project("demo-data/meadow-beetles.json")).unwrap();
    let mut value: Value = serde_json::from_str(&text).unwrap();
    value["premises"]["target"] = target;
    value["premises"]["bycatch"] = serde_json::json!([shrews]);
    survey::scenario::read(&value.to_string()).unwrap()
}

/// Species of a list take what the pilot tells of them, and are not added as by-catch; one of them may be the pilot's
/// target.
#[test]
fn premises_enter_the_species_of_a_list() {
    let (p, mut before) = (meadows(), scenario());
    let species = |name: &str| survey::scenario::Target {
        name: name.into(),
        ..before.premises.target.clone()
    };
    before.premises.others = vec![species("spiders"), species("ground beetles")];
    before.question.several = Some(survey::scenario::Several {
        answered_share: 0.5,
        control: survey::scenario::Control::Holm,
    });
    let after = p.into_scenario(before).check().unwrap();
    let (target, others) = (&after.premises.target, &after.premises.others);
    assert_eq!(target.name, "ground beetles");
    let names: Vec<&str> = others.iter().map(|t| t.name.as_str()).collect();
    assert_eq!(names, ["spiders", "x"]);
    let spiders = p.bycatch.iter().find(|g| g.name == "spiders").unwrap();
    let put = (&others[0].catch_per_trap_week, &others[0].year_sd);
    assert_eq!(put.0.value, spiders.catch_per_trap_week.value);
    assert_eq!(put.1.value, spiders.year_sd.value);
    // What a group does not tell stays.
    assert_eq!(others[0].site_year_sd.value, 0.1);
    assert_eq!(others[1].catch_per_trap_week.value, 1.0);
    assert_eq!(after.premises.bycatch.len(), 1);
}

#[test]
fn premises_enter_a_scenario() {
    let (p, before) = (meadows(), scenario());
    let after = p.into_scenario(before.clone());
    let target = &after.premises.target;
    assert_eq!(target.name, "ground beetles");
    let same = |e: &Estimate, premise: &Premise| {
        let fields = (premise.value, premise.low, premise.high, premise.source);
        assert_eq!((e.value, e.low, e.high, e.source), fields);
    };
    same(&p.target.catch_per_trap_week, &target.catch_per_trap_week);
    same(&p.target.year_sd, &target.year_sd);
    same(
        &p.target.season_peak_week.unwrap(),
        &target.season_peak_week,
    );
    // Common practice does not push the user's own guess aside.
    assert_eq!(
        (target.trap_sd.value, target.trap_sd.source),
        (0.15, Source::Guess)
    );
    let groups: Vec<(&str, Class)> = after
        .premises
        .bycatch
        .iter()
        .map(|g| (g.name.as_str(), g.class))
        .collect();
    assert_eq!(
        groups,
        [("shrews", Class::Vertebrate), ("spiders", Class::Arthropod)]
    );
    assert!(after.notes.contains("class arthropod: spiders."));
    assert_eq!(
        (&after.question, &after.plan),
        (&before.question, &before.plan)
    );
    assert_eq!(after.premises.trap_loss, before.premises.trap_loss);
    after.check().unwrap();
}

/// Without weeks the scenario's own peak stays, and the scenario can still run.
#[test]
fn a_file_without_weeks_keeps_the_scenarios_peak() {
    let after = ticks(SiteYear::Auto).into_scenario(scenario());
    assert_eq!(after.premises.target.season_peak_week.value, 30.0);
    after.check().unwrap();
}

/// Bytes broken at random give premises or errors, never a panic, and premises that a scenario takes.
#[test]
fn broken_files_do_not_break_the_reader() {
    let whole = std::fs::read(project("demo-data/meadow-beetles-pilot.csv")).unwrap();
    let lines: Vec<&[u8]> = whole.split_inclusive(|&b| b == b'\n').collect();
    let mut state = 20_260_417_u64;
    let mut next = |below: usize| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % below
    };
    for _ in 0..300 {
        let mut text = lines[..3].concat();
        for _ in 0..next(40) {
            text.extend_from_slice(lines[3 + next(lines.len() - 3)]);
        }
        for _ in 0..next(3) {
            let at = next(text.len());
            text[at] = b"\",;\n0-/\xe9 #"[next(10)];
        }
        if let Ok(p) = premises(&text, &Options::default()) {
            p.into_scenario(scenario()).check().unwrap();
        }
    }
}
