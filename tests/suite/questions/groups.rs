//! Two groups of sites, against published sample sizes and against simulation.

use leastcatch_tests::small::{answer, by, checked, demo, invented, without_spread};
use numerics::special::normal;
use survey::closed_form::{preview, sites_by_rates, variances_at};
use survey::scenario::{Departures, Difference, Effect, Known, Scenario, Test};

/// Sites for a power of 80 %, two-sided .05, when both variances are the alternative's: Zhu & Lakkis 2014 (Stat. Med.
/// 33:376-387), method 2. Their rate times exposure is the mean of a trap-week here, their kappa 1/k.
#[test]
fn one_year_is_a_negative_binomial_comparison() {
    // Baseline mean, rate ratio, kappa, sites in each group.
    for (mean, ratio, kappa, sites) in [
        (0.8 * 0.75, 0.85, 0.4, 1315.6899),
        (0.8 * 0.75, 0.85, 0.7, 1493.9897),
        (0.8 * 0.75, 0.85, 1.0, 1672.2896),
        (0.8 * 0.75, 0.85, 1.5, 1969.4560),
        (1.0 * 0.75, 0.85, 0.4, 1100.0985),
        (1.4 * 0.75, 0.85, 0.4, 853.7084),
        (20.0, 0.7, 0.5, 69.1885),
    ] {
        let mut s = demo("orchard-hoverflies.json");
        without_spread(&mut s);
        s.question.effect = Effect::Difference(Difference {
            difference_percent: 100.0 * (ratio - 1.0),
        });
        s.premises.target.catch_per_trap_week = invented(mean);
        s.premises.target.dispersion_k = invented(1.0 / kappa);
        s.premises.pair_correlation = None;
        s.plan.groups.as_mut().unwrap().paired = false;
        s.plan.first_week = s.premises.target.season_peak_week.value as u32;
        let p = &mut s.plan;
        (p.sites, p.traps_per_site, p.weeks, p.years) = (100, 1, 1, 1);
        (s.limits.sites, p.exposure_days) = (100, 7.0);
        let s = checked(s);
        let log = f64::ln(ratio);
        let v = variances_at(&s, &s.plan, log.abs());
        let z = normal::quantile(0.975) + normal::quantile(0.8);
        let needed = 50.0 * v.truth * (z / log).powi(2);
        assert!((needed - sites).abs() < 6e-5 * sites, "{needed} {sites}");
        assert_eq!(v.truth, v.believed);
        // Their third method, which the answer tells: as many but for the variance without a difference.
        let told = sites_by_rates(&s, &s.plan).unwrap();
        assert!((told / sites - 1.0).abs() < 0.01, "{told} {sites}");
    }
}

/// Designs of both questions with their power by simulation and by closed form.
fn as_foreseen(s: Scenario, off: f64, name: &str) {
    // The t test, whose degrees of freedom are the design's, holds its level within three standard errors.
    with_alarms(s, off, 0.05 + 0.021, name);
}

fn with_alarms(s: Scenario, off: f64, most_alarms: f64, name: &str) {
    let s = checked(s);
    let (a, p) = (answer(&s, 1000), preview(&s, &s.plan));
    let (power, alarms) = by(&a, "t");
    assert!(
        (a.power.estimate - p.power).abs() < off,
        "{name}: {} {p:?}",
        a.power.estimate
    );
    assert!(alarms < most_alarms, "{name}: {alarms}");
    assert!(power > 0.1, "{name}: {power}");
    assert!(a.fits.failed <= 20, "{name}: {:?}", a.fits);
    assert!(
        a.bias.abs() < 4.0 * a.estimate_sd / 1000f64.sqrt() + 0.02,
        "{name}: {}",
        a.bias
    );
    assert!(
        (a.estimate_sd / p.se - 1.0).abs() < 0.1,
        "{name}: {} {}",
        a.estimate_sd,
        p.se
    );
}

#[test]
fn differences_as_simulated() {
    let base = || {
        let mut s = demo("orchard-hoverflies.json");
        s.question.effect = Effect::Difference(Difference {
            difference_percent: 90.0,
        });
        s
    };
    let unpaired = |share: f64| {
        let mut s = base();
        s.premises.pair_correlation = None;
        let g = s.plan.groups.as_mut().unwrap();
        (g.paired, g.treated_share) = (false, share);
        s
    };
    as_foreseen(base(), 0.09, "pairs");
    as_foreseen(unpaired(0.5), 0.07, "halves");
    as_foreseen(unpaired(0.25), 0.07, "a quarter");
    let mut one_year = unpaired(0.5);
    one_year.plan.years = 1;
    // With one count a site the dispersion is all that tells how much sites differ, and t takes it as known: too many
    // false alarms, which the calibrated test has not.
    with_alarms(one_year, 0.07, 0.11, "one year");
    let mut pairs_of_a_year = base();
    pairs_of_a_year.plan.years = 1;
    as_foreseen(pairs_of_a_year, 0.09, "pairs of one year");
}

#[test]
fn before_and_after_as_simulated() {
    let base = || demo("meadow-mowing.json");
    as_foreseen(base(), 0.07, "halves");
    let mut few = base();
    few.plan.groups.as_mut().unwrap().treated_share = 0.2;
    as_foreseen(few, 0.07, "one in five");
    let mut two = base();
    two.plan.years = 2;
    two.plan.groups.as_mut().unwrap().before_years = 1;
    as_foreseen(two, 0.07, "one year each");
    let mut pairs = base();
    pairs.plan.groups.as_mut().unwrap().paired = true;
    pairs.premises.pair_correlation = Some(invented(0.5));
    as_foreseen(pairs, 0.09, "pairs");
}

/// Good and bad years and a drift of the traps are the same at all sites, and drop out; sites' own changes do not, unless
/// the analysis is told of them.
#[test]
fn what_drops_out_and_what_does_not() {
    let mut s = demo("meadow-mowing.json");
    s.analysis.test = Test::T;
    let se = |s: &Scenario| preview(&checked(s.clone()), &s.plan).se;
    let plain = se(&s);
    s.premises.target.year_sd = invented(0.9);
    assert_eq!(se(&s), plain);
    let departing = |f: fn(&mut Departures)| {
        let mut s = s.clone();
        f(&mut s.premises.departures);
        s
    };
    let drifting = checked(departing(|d| d.detection_drift_percent = invented(-6.0)));
    let a = answer(&drifting, 600);
    assert!(
        a.bias.abs() < 4.0 * a.estimate_sd / 600f64.sqrt() + 0.01,
        "{}",
        a.bias
    );
    let own = departing(|d| d.site_slope_sd = invented(0.15));
    let p = preview(&checked(own.clone()), &own.plan);
    let a = answer(&checked(own.clone()), 600);
    assert!(
        (a.estimate_sd / p.se - 1.0).abs() < 0.1,
        "{} {}",
        a.estimate_sd,
        p.se
    );
    assert!(
        p.false_alarm > 0.08 && a.false_alarm.low > 0.05,
        "{p:?} {a:?}"
    );
    let mut told = own;
    told.analysis.knows.insert(Known::SiteSlopes);
    let told = answer(&checked(told), 400);
    assert!(told.false_alarm.low < 0.05, "{:?}", told.false_alarm);
}

/// Sites near each other: of a checkerboard of treated and other sites much of what they have in common drops out.
#[test]
fn neighbours_as_simulated() {
    let mut s = demo("orchard-hoverflies.json");
    s.premises.pair_correlation = None;
    s.plan.groups.as_mut().unwrap().paired = false;
    let independent = preview(&checked(s.clone()), &s.plan).se;
    s.premises.departures.correlation_length_km = invented(6.0);
    s.premises.departures.region_km2 = invented(100.0);
    let s = checked(s);
    let p = preview(&s, &s.plan);
    let a = answer(&s, 1000);
    assert!(p.se < 0.97 * independent);
    assert!(
        (a.estimate_sd / p.se - 1.0).abs() < 0.08,
        "{} {}",
        a.estimate_sd,
        p.se
    );
}
