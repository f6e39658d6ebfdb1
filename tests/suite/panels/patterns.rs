//! Closed forms against simulated surveys.

use leastcatch_tests::simulate::replicates;
use leastcatch_tests::small::{by, checked, demo, invented};
use survey::closed_form::preview;
use survey::evaluate::{Ending, Replicate};
use survey::scenario::{Checked, Effect, Revisit, Scenario, Test};
use survey::summary::{Evidence, summarise};

/// Twelve sites in each of nine years, by the calibrated test.
fn meadow(revisit: Option<Revisit>, sites: u32) -> Scenario {
    let mut s = demo("meadow-beetles.json");
    (s.plan.years, s.plan.sites, s.plan.revisit) = (9, sites, revisit);
    (s.plan.traps_per_site, s.plan.weeks) = (2, 3);
    s.limits.sites = sites;
    s.analysis.test = Test::Calibrated;
    s
}

fn estimates(of: &[Replicate]) -> Vec<f64> {
    let usable = of.iter().filter(|r| r.finding.ending != Ending::Failed);
    usable.map(|r| r.finding.estimate).collect()
}

fn sd(v: &[f64]) -> f64 {
    let n = v.len() as f64;
    let mean = v.iter().sum::<f64>() / n;
    (v.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / (n - 1.0)).sqrt()
}

/// Simulates and holds the closed form against it: the estimate's standard deviation within four of its standard errors
/// and `bias` of itself; the power within .1 (four standard errors of 400 surveys, and what the form leaves out); false
/// alarms of the t test with the degrees of freedom chosen no more than four standard errors above the accepted level.
#[track_caller]
fn agrees(what: &str, s: &Checked, n: u64, bias: f64) {
    let p = preview(s, &s.plan);
    let (change, still) = replicates(s, 17, n);
    let found = estimates(&change);
    assert!(
        found.len() as f64 > 0.97 * n as f64,
        "{what}: {} fits",
        found.len()
    );
    let (spread, count) = (sd(&found), found.len() as f64);
    let within = bias + 4.0 / (2.0 * count).sqrt();
    assert!(
        (spread / p.se - 1.0).abs() < within,
        "{what}: SD {spread}, {p:?}"
    );
    let answer = summarise(s, &s.plan, &Evidence::whole(&change, &still));
    let (power, (_, alarm)) = (answer.power.estimate, by(&answer, "t"));
    assert!(
        (power - p.power).abs() < 0.1,
        "{what}: power {power}, {p:?}"
    );
    let most = 0.05 + 4.0 * (0.05f64 * 0.95 / n as f64).sqrt();
    assert!(alarm < most, "{what}: false alarms {alarm}");
}

#[test]
fn patterns_of_a_decline() {
    for (revisit, sites) in [
        (None, 12),
        (Some(Revisit::EveryK { years: 2 }), 12),
        (Some(Revisit::Alternating { panels: 3 }), 36),
        (
            Some(Revisit::Augmented {
                always: 6,
                panels: 3,
            }),
            24,
        ),
        (Some(Revisit::Rotating { stay: 3 }), 44),
        (Some(Revisit::Split { always: 6 }), 60),
        (Some(Revisit::NewEachYear), 108),
    ] {
        let s = checked(meadow(revisit, sites));
        agrees(&format!("{revisit:?}"), &s, 400, 0.06);
    }
}

/// Years with a gap, sites that drop out, late samples and clustered losses, alone and together.
#[test]
fn gaps_and_what_does_not_come_back() {
    let mut gap = meadow(None, 20);
    gap.plan.gap_years = vec![4, 5];
    agrees("gap", &checked(gap.clone()), 400, 0.06);
    let mut drop_out = meadow(None, 30);
    drop_out.premises.attrition = invented(0.18);
    agrees("drop-out", &checked(drop_out.clone()), 400, 0.06);
    let mut late = meadow(None, 20);
    late.premises.late_share = invented(0.3);
    agrees("late", &checked(late), 400, 0.06);
    let mut clustered = meadow(None, 12);
    clustered.premises.trap_loss = invented(0.3);
    clustered.premises.departures.loss_clustering = invented(0.5);
    agrees("clustered", &checked(clustered), 400, 0.08);
    let mut all = drop_out;
    (all.plan.sites, all.plan.revisit) = (
        40,
        Some(Revisit::Augmented {
            always: 16,
            panels: 3,
        }),
    );
    all.limits.sites = 40;
    all.premises.late_share = invented(0.1);
    all.premises.trap_loss = invented(0.2);
    all.premises.departures.loss_clustering = invented(0.4);
    agrees("all", &checked(all), 400, 0.08);
}

/// Other questions: two groups, before and after, a shift of an optimum, a claim, occupancy.
#[test]
fn patterns_of_other_questions() {
    for (name, years, sites, revisit) in [
        (
            "meadow-no-worse.json",
            9,
            36,
            Revisit::Alternating { panels: 3 },
        ),
        (
            "mountain-moths.json",
            8,
            48,
            Revisit::Alternating { panels: 2 },
        ),
    ] {
        let mut s = demo(name);
        (s.plan.years, s.plan.sites, s.plan.revisit) = (years, sites, Some(revisit));
        s.limits.sites = s.limits.sites.max(sites);
        s.analysis.test = Test::T;
        agrees(name, &checked(s), 300, 0.1);
    }
    let mut s = demo("meadow-beetles.json");
    s.question.effect =
        serde_json::from_str::<Effect>(r#"{"before_after": {"change_percent": -50.0}}"#).unwrap();
    s.plan.groups = Some(survey::scenario::Groups {
        treated_share: 0.5,
        paired: false,
        before_years: 3,
    });
    s.plan.years = 6;
    (s.plan.sites, s.plan.revisit) = (24, Some(Revisit::Alternating { panels: 2 }));
    s.limits.sites = 24;
    s.analysis.test = Test::T;
    agrees("before and after", &checked(s), 300, 0.1);
}
