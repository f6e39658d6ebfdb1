//! What ignoring costs: each departure does to an analysis that is not told of it what theory says, and less to one
//! that is.

use engine::{Ignoring, Job, Kind, Report};
use leastcatch_tests::runs::finish;
use leastcatch_tests::scenarios::{checked, set_b};
use survey::scenario::{Departures, Known, Likelihood, Premise, Scenario, Source};

fn run(scenario: Scenario, replicates: u64, chunk: u64) -> Ignoring {
    let scenario = checked(scenario);
    let job = Job::new(scenario.clone(), Kind::Ignoring, Some(replicates)).unwrap();
    match finish(job.in_chunks_of(chunk), &scenario) {
        Report::Ignoring(ignoring) => ignoring,
        other => panic!("{other:?}"),
    }
}

fn world(change: impl Fn(&mut Departures)) -> Scenario {
    let mut s = set_b();
    s.plan.sites = 16;
    s.plan.years = 8;
    s.analysis.likelihood = Likelihood::Restricted;
    s.premises.target.year_sd.value = 0.1;
    change(&mut s.premises.departures);
    s
}

fn guess(value: f64) -> Premise {
    Premise::new(value, Source::Guess)
}

#[test]
fn a_drift_that_is_told_no_longer_biases() {
    let s = world(|d| d.detection_drift_percent = guess(-5.0));
    let found = run(s, 250, 50);
    assert_eq!(found.costs.len(), 1);
    let c = &found.costs[0];
    assert_eq!(c.of, Known::DetectionDrift);
    // ln .95 a year where the analysis does not know; the slope's standard error is about .04, of the mean .0025.
    let drift = 0.95f64.ln();
    assert!((c.untold.bias - drift).abs() < 0.01, "{}", c.untold.bias);
    assert!(c.told.bias.abs() < 0.01, "{}", c.told.bias);
    assert!(c.untold.false_alarm.low > c.told.false_alarm.high);
}

#[test]
fn slopes_of_sites_that_are_not_told_raise_false_alarms() {
    let s = world(|d| d.site_slope_sd = guess(0.25));
    let found = run(s, 250, 100);
    let c = &found.costs[0];
    assert_eq!((found.costs.len(), c.of), (1, Known::SiteSlopes));
    assert!(c.untold.false_alarm.low > 0.1, "{:?}", c.untold.false_alarm);
    assert!(c.told.false_alarm.low < 0.05, "{:?}", c.told.false_alarm);
    assert!(c.power_lost.is_some());
}

#[test]
fn the_same_whatever_the_chunks_and_nothing_where_nothing_is_ignored() {
    let s = world(|d| d.year_autocorrelation = guess(0.5));
    let mut s = s;
    s.premises.trap_loss.value = 0.2;
    let (one, other) = (run(s.clone(), 30, 7), run(s, 30, 30));
    let of: Vec<Known> = one.costs.iter().map(|c| c.of).collect();
    assert_eq!(of, [Known::Losses, Known::YearAutocorrelation]);
    assert_eq!(format!("{one:?}"), format!("{other:?}"));
    assert!(run(world(|_| ()), 10, 10).costs.is_empty());
}

#[test]
fn what_is_too_large_to_be_told_says_so() {
    let mut s = world(|d| {
        d.correlation_length_km = guess(5.0);
        d.region_km2 = guess(400.0);
    });
    (s.plan.sites, s.limits.sites) = (200, 200);
    let found = run(s, 5, 5);
    assert!(found.costs.is_empty());
    assert_eq!(found.not_compared[0].of, Known::SiteCorrelation);
    assert!(found.not_compared[0].why.contains("1000"), "{found:?}");
}
