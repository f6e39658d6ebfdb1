//! Size and power of the whole chain (draw, fit, test) in reference set b's design against fits of the same design
//! by glmmTMB: tests/reference/power/b_null.json and b_alt.json (1000 replicates each, scripts/05_power.R).

use leastcatch_tests::path;
use leastcatch_tests::scenarios::{checked, set_b};
use leastcatch_tests::simulate::replicates;
use survey::closed_form::{self, preview};
use survey::scenario::{Decline, Effect, Test, read};
use survey::summary::{Evidence, summarise};

fn reference(file: &str, key: &str) -> (f64, f64) {
    let text = std::fs::read_to_string(path(&format!("reference/power/{file}.json"))).unwrap();
    let v: serde_json::Value = serde_json::from_str(&text).unwrap();
    (v[key][0].as_f64().unwrap(), v[key][1].as_f64().unwrap())
}

/// Within 3 standard errors of the difference, ours and the reference's together.
#[track_caller]
fn agree(what: &str, ours: f64, n: f64, (theirs, se): (f64, f64)) {
    let own = (ours * (1.0 - ours) / n).sqrt();
    let allowed = 3.0 * (own * own + se * se).sqrt();
    assert!(
        (ours - theirs).abs() < allowed,
        "{what}: {ours} against {theirs}, allowed {allowed}"
    );
}

#[test]
fn size_and_power_of_set_b() {
    let scenario = checked(set_b());
    let n = 4000;
    let (change, still) = replicates(&scenario, 1, n);
    let answer = summarise(&scenario, &scenario.plan, &Evidence::whole(&change, &still));
    let by = |test| answer.comparison.iter().find(|c| c.test == test).unwrap();
    let (t, z) = (by("t"), by("z"));
    let n = n as f64;
    agree(
        "t null",
        t.false_alarm.estimate,
        n,
        reference("b_null", "t_two_sided_05"),
    );
    agree(
        "z null",
        z.false_alarm.estimate,
        n,
        reference("b_null", "z_two_sided_05"),
    );
    agree(
        "t alternative",
        t.power.estimate,
        n,
        reference("b_alt", "t_two_sided_05"),
    );
    agree(
        "z alternative",
        z.power.estimate,
        n,
        reference("b_alt", "z_two_sided_05"),
    );
    assert_eq!(answer.power, t.power);
    // The closed form's standard error against the spread of the estimates: within 4 %.
    let se = closed_form::standard_error(&scenario, &scenario.plan);
    let ratio = answer.estimate_sd / se;
    assert!(
        (0.96..1.04).contains(&ratio),
        "SD of slopes {} against {se}",
        answer.estimate_sd
    );
    assert_eq!(answer.fits.failed, 0);
}

/// The calibrated test's power against its preview, where years are alike and where they are not, few and more: within
/// three Monte Carlo standard errors and .03.
#[test]
fn calibrated_power_as_foreseen() {
    let demo = include_str!("../../demo-data/meadow-beetles.json");
    let n = 1500;
    for (year_sd, years, sites) in [(0.0, 5, 25), (0.08, 5, 40), (0.08, 10, 15), (0.2, 10, 30)] {
        let mut s = read(demo).unwrap();
        s.premises.target.year_sd.value = year_sd;
        (
            s.premises.target.year_sd.low,
            s.premises.target.year_sd.high,
        ) = (None, None);
        (s.plan.years, s.plan.sites) = (years, sites);
        s.question.effect = Effect::Decline(Decline {
            change_percent: 40.0,
            over_years: 10.0,
        });
        assert_eq!(s.analysis.test, Test::Calibrated);
        let s = checked(s);
        let (change, still) = replicates(&s, 71, n);
        let told = summarise(&s, &s.plan, &Evidence::whole(&change, &still));
        let (got, want) = (told.power.estimate, preview(&s, &s.plan).power);
        // The critical value is uncertain too: its share of the interval is about as much again.
        let bound = 3.0 * (2.0 * want * (1.0 - want) / n as f64).sqrt() + 0.03;
        assert!(
            (got - want).abs() < bound,
            "{year_sd} {years} {sites}: {got} {want}, {bound}"
        );
    }
}
