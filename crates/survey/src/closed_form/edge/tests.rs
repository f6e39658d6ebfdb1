use super::*;
use crate::scenario::{EdgeBy, Likelihood, Premise, Scenario, Source, read};

fn demo(change: impl Fn(&mut Scenario)) -> Checked {
    let mut s = read(include_str!("../../../../../demo-data/mountain-edge.json")).unwrap();
    change(&mut s);
    s.check().unwrap()
}

fn invented(value: f64) -> Premise {
    Premise::new(value, Source::Invented)
}

/// One trap for one week, lost in half of the site-years: half as many sites without losses, good and bad years of all
/// sites among them, which no number of sites makes smaller.
#[test]
fn lost_site_years_are_fewer_sites() {
    let plan = |sites: u32, loss: f64| {
        let s = demo(|s| {
            (s.plan.sites, s.limits.sites) = (sites, sites);
            (s.plan.traps_per_site, s.plan.weeks) = (1, 1);
            s.premises.trap_loss = invented(loss);
        });
        let plan = s.plan.clone();
        variances(&s, &plan, 200.0)
    };
    let (lost, fewer) = (plan(256, 0.5), plan(128, 0.0));
    for (a, b) in [
        (lost.truth, fewer.truth),
        (lost.believed, fewer.believed),
        (lost.floor, fewer.floor),
    ] {
        assert!(b > 0.0 && (a / b - 1.0).abs() < 1e-9, "{lost:?} {fewer:?}");
    }
}

/// Sites so far within the range that their chance to be occupied is 1 to the last digit tell detection, as those do
/// of which it is all but 1.
#[test]
fn sites_far_within_tell_detection() {
    let s = demo(|s| {
        s.analysis.edge = EdgeBy::Detection;
        s.analysis.likelihood = Likelihood::Restricted;
    });
    let plan = s.plan.clone();
    let of = |inner: f64| {
        let mut seen = Seen::new(&s, &plan, 200.0).unwrap();
        for (i, psi) in seen.psi.iter_mut().enumerate() {
            let at = i / seen.years;
            *psi = if at < 20 { inner } else { psi.min(0.9) };
        }
        let beta = seen.axis.coefficients(&s, &plan, 200.0);
        detection::variances(&seen, &beta, plan.weeks, false).unwrap()
    };
    let (sure, all_but, nowhere) = (of(1.0), of(1.0 - 1e-11), of(0.0));
    assert!((sure.believed / all_but.believed - 1.0).abs() < 1e-6);
    assert!((sure.truth / all_but.truth - 1.0).abs() < 1e-6);
    assert!(
        sure.believed < nowhere.believed * (1.0 - 1e-4),
        "{sure:?} {nowhere:?}"
    );
}
