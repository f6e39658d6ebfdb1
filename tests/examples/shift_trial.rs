use leastcatch_tests::simulate::replicates;
use survey::closed_form::{self, preview};
use survey::scenario::*;
use survey::summary::{Evidence, summarise};
fn q(mut v: Vec<f64>, s: f64) -> f64 {
    v.sort_by(f64::total_cmp);
    numerics::quantile::of_sorted(&v, s)
}
fn main() {
    let text = include_str!("../../demo-data/mountain-edge.json");
    let n: u64 = std::env::args().nth(1).map_or(400, |a| a.parse().unwrap());
    let only = std::env::args().nth(2);
    println!(
        "{:40} power preview | alarm prev | t/z alarms | rSD  se | medSE believed | fail sing bound | cover profile | bias s",
        ""
    );
    for by in [EdgeBy::Presence, EdgeBy::Detection] {
        for test in [Test::Calibrated, Test::LikelihoodRatio] {
            for (name, ch) in [
                ("demo", (|_s: &mut Scenario| {}) as fn(&mut Scenario)),
                ("300 m", |s| {
                    if let Effect::RangeShift(r) = &mut s.question.effect {
                        r.distance_per_decade = 300.0
                    }
                }),
                ("300 m no turnover", |s| {
                    if let Effect::RangeShift(r) = &mut s.question.effect {
                        r.distance_per_decade = 300.0
                    };
                    s.premises
                        .gradient
                        .as_mut()
                        .unwrap()
                        .edge
                        .as_mut()
                        .unwrap()
                        .redrawn_each_year
                        .value = 0.0;
                }),
                ("300 m all redrawn", |s| {
                    if let Effect::RangeShift(r) = &mut s.question.effect {
                        r.distance_per_decade = 300.0
                    };
                    s.premises
                        .gradient
                        .as_mut()
                        .unwrap()
                        .edge
                        .as_mut()
                        .unwrap()
                        .redrawn_each_year
                        .value = 1.0;
                }),
                ("300 m all redrawn, high catch", |s| {
                    if let Effect::RangeShift(r) = &mut s.question.effect {
                        r.distance_per_decade = 300.0
                    };
                    s.premises.target.catch_per_trap_week.value = 8.0;
                    s.premises.target.catch_per_trap_week.high = None;
                    s.premises
                        .gradient
                        .as_mut()
                        .unwrap()
                        .edge
                        .as_mut()
                        .unwrap()
                        .redrawn_each_year
                        .value = 1.0;
                }),
                ("300 m high catch", |s| {
                    if let Effect::RangeShift(r) = &mut s.question.effect {
                        r.distance_per_decade = 300.0
                    };
                    s.premises.target.catch_per_trap_week.value = 8.0;
                    s.premises.target.catch_per_trap_week.high = None;
                }),
                ("300 m low catch", |s| {
                    if let Effect::RangeShift(r) = &mut s.question.effect {
                        r.distance_per_decade = 300.0
                    };
                    s.premises.target.catch_per_trap_week.value = 0.3;
                    s.premises.target.catch_per_trap_week.low = None;
                }),
                ("400 m few sites", |s| {
                    if let Effect::RangeShift(r) = &mut s.question.effect {
                        r.distance_per_decade = 400.0
                    };
                    s.plan.sites = 16;
                }),
                ("100 m many sites dense", |s| {
                    s.plan.sites = 100;
                    s.limits.sites = 100;
                    s.plan.transect.as_mut().unwrap().placing = Placing::DenseAtEdge;
                }),
            ] {
                if only.as_ref().is_some_and(|o| !name.contains(o.as_str())) {
                    continue;
                }
                let mut s = read(text).unwrap();
                s.premises.bycatch.clear();
                s.analysis.edge = by;
                s.analysis.test = test;
                if std::env::args().nth(3).is_some() && by == EdgeBy::Presence
                    || test == Test::LikelihoodRatio && by == EdgeBy::Presence
                {
                    s.analysis.likelihood = Likelihood::Maximum;
                }
                ch(&mut s);
                let s = s.check().unwrap();
                let t0 = std::time::Instant::now();
                let (c, z) = replicates(&s, 5, n as _);
                let secs = t0.elapsed().as_secs_f64();
                let a = summarise(&s, &s.plan, &Evidence::whole(&c, &z));
                let p = preview(&s, &s.plan);
                let v = closed_form::variances_at(&s, &s.plan, closed_form::effect_size(&s));
                let est: Vec<f64> = c
                    .iter()
                    .map(|r| r.finding.estimate)
                    .filter(|e| e.is_finite())
                    .collect();
                let se: Vec<f64> = c
                    .iter()
                    .map(|r| r.finding.se)
                    .filter(|e| e.is_finite())
                    .collect();
                let rsd = (q(est.clone(), 0.75) - q(est.clone(), 0.25)) / 1.349;
                let by_test = |t: &str| {
                    a.comparison
                        .iter()
                        .find(|c| c.test == t)
                        .map_or(f64::NAN, |c| c.false_alarm.estimate)
                };
                println!(
                    "{:40} {:.3} {:.3} | {:.3} {:.3} | {:.3} {:.3} | {:.1} {:.1} | {:.1} {:.1} | {} {} {} | {:.3} {:.3} | {:.1} {:.2}",
                    format!("{by:?} {test:?} {name}"),
                    a.power.estimate,
                    p.power,
                    a.false_alarm.estimate,
                    p.false_alarm,
                    by_test("t"),
                    by_test("z"),
                    rsd,
                    v.truth.sqrt(),
                    q(se, 0.5),
                    v.believed.sqrt(),
                    a.fits.failed,
                    a.fits.singular,
                    a.fits.at_bound,
                    a.coverage.estimate,
                    a.range_shift
                        .as_ref()
                        .and_then(|r| r.profile_coverage)
                        .map_or(f64::NAN, |s| s.estimate),
                    q(est, 0.5) - closed_form::truth(&s),
                    secs * 1000.0 / n as f64
                );
            }
        }
    }
}
