//! Absence against the formulas of sampling, and against simulation.

use leastcatch_tests::small::{answer, checked, demo, invented, without_spread};
use survey::closed_form::{density_found, preview};
use survey::scenario::{Absence, Effect, Scenario};

/// One week at the season's peak: each trap-week a sample.
fn samples(mean: f64, k: f64, sites: u32) -> Scenario {
    let mut s = demo("orchard-absence.json");
    without_spread(&mut s);
    s.question.effect = Effect::Absence(Absence {
        catch_per_trap_week: mean,
    });
    s.premises.target.dispersion_k = invented(k);
    s.plan.first_week = s.premises.target.season_peak_week.value as u32;
    (
        s.plan.sites,
        s.plan.traps_per_site,
        s.plan.weeks,
        s.plan.years,
    ) = (sites, 1, 1, 1);
    s.limits.sites = sites.max(2);
    s
}

/// Samples for detection with a confidence of 95 %: -ln(1-C)/m for Poisson counts, -ln(1-C)/[k ln(1+m/k)] for negative
/// binomial ones (McArdle 1990, Oikos 57:276; Green & Young 1993, Ecol. Appl. 3:351).
#[test]
fn samples_for_detection() {
    for (mean, k, n) in [
        (0.1, 1e5, 29.957_322_736),
        (0.05, 1e5, 59.914_645_471),
        (0.02, 1e5, 149.786_613_678),
        (0.1, 0.5, 32.862_074_307),
        (0.02, 0.2, 157.156_994_127),
    ] {
        for sites in [10, 40, 160] {
            let s = checked(samples(mean, k, sites));
            let p = preview(&s, &s.plan);
            // n samples have 95 %: -ln of the chance of none grows with their number.
            let want = -(0.05f64.ln()) * f64::from(sites) / n;
            // k = 1e5 is nearly Poisson.
            assert!(
                (p.delta / want - 1.0).abs() < 2e-6,
                "{mean} {k}: {p:?} {want}"
            );
        }
        let s = checked(samples(mean, k, n.ceil() as u32));
        assert!(preview(&s, &s.plan).power >= 0.95);
        let s = checked(samples(mean, k, n.floor() as u32));
        assert!(preview(&s, &s.plan).power < 0.95);
    }
}

/// None in n samples leaves at most 1 - .05^(1/n) of samples with any ("rule of three"), which for Poisson counts is the
/// mean -ln(.05)/n.
#[test]
fn what_finding_none_allows() {
    for n in [10, 30, 100, 300] {
        let s = checked(samples(0.05, 1e5, n));
        let density = density_found(&s, &s.plan, 0.95).unwrap();
        assert!(
            (density * f64::from(n) / -(0.05f64.ln()) - 1.0).abs() < 1e-4,
            "{density}"
        );
        let share = 1.0 - (-density).exp();
        let exact = 1.0 - 0.05f64.powf(1.0 / f64::from(n));
        assert!((share / exact - 1.0).abs() < 1e-4);
    }
}

/// Clumped catches, sites, years and trap points that differ, lost traps, several years: closed form against surveys.
#[test]
fn closed_form_as_simulated() {
    let base = demo("orchard-absence.json");
    let thin = |sites: u32, years: u32, density: f64, year_sd: f64| {
        let mut s = base.clone();
        (s.plan.sites, s.plan.years) = (sites, years);
        s.premises.target.year_sd = invented(year_sd);
        s.question.effect = Effect::Absence(Absence {
            catch_per_trap_week: density,
        });
        checked(s)
    };
    for s in [
        thin(20, 1, 0.01, 0.2),
        thin(5, 1, 0.02, 0.8),
        thin(6, 3, 0.006, 0.6),
        thin(40, 2, 0.002, 0.4),
    ] {
        let a = answer(&s, 3000);
        let p = preview(&s, &s.plan);
        let error = 3.0 * (p.power * (1.0 - p.power) / 3000.0f64).sqrt() + 0.01;
        assert!(p.power > 0.3 && p.power < 0.97, "{p:?}");
        assert!((a.power.estimate - p.power).abs() < error, "{a:?} {p:?}");
        assert_eq!((a.false_alarm.estimate, a.question), (0.0, "absence"));
        let (got, want) = (a.smallest_change.unwrap().estimate, p.smallest_change);
        assert!((got / want - 1.0).abs() < 0.12, "{got} {want}");
        assert!(a.comparison.is_empty() && a.no_worse.is_none());
    }
}

/// More sites exclude less density with fewer animals than more traps at the same sites, where sites differ.
#[test]
fn sites_are_worth_more_than_traps() {
    let mut s = demo("orchard-absence.json");
    (s.plan.sites, s.plan.traps_per_site) = (10, 6);
    let few = checked(s.clone());
    (s.plan.sites, s.plan.traps_per_site) = (60, 1);
    let many = checked(s);
    let density = |s| density_found(s, &s.plan, 0.95).unwrap();
    assert!(
        density(&many) < 0.9 * density(&few),
        "{} {}",
        density(&many),
        density(&few)
    );
}
