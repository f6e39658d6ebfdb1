//! The race of plans against the wanted power, with made-up replicates of known power: where a plan stops, and what the
//! search makes of it.

use engine::least::{Least, RACE_ERROR, Side};
use engine::scenario::{Checked, Plan, Test, read};
use engine::{Job, Kind, Outcome, Report, Runner, Size, Task, Work, World, closed_form};
use numerics::random::Stream;
use survey::evaluate::{Ending, Finding, Replicate};

const N: u64 = 400;

fn scenario() -> Checked {
    let text = include_str!("../../../demo-data/meadow-beetles.json");
    let mut s = read(text).expect("the demo");
    (s.limits.sites, s.limits.traps_per_site, s.limits.weeks) = (60, 2, 4);
    s.question.effect = engine::scenario::Effect::Decline(engine::scenario::Decline {
        change_percent: 50.0,
        over_years: 10.0,
    });
    s.premises.bycatch.clear();
    // A test that needs no nulls, of which none are made up here.
    s.analysis.test = Test::T;
    s.check().expect("in bounds")
}

/// For a plan, which replicates of the world of change are significant.
type Significant<'a> = &'a dyn Fn(&Checked, &Plan) -> Box<dyn Fn(u64) -> bool>;

/// Significant with the closed form's power less `off`.
fn by_luck(off: f64) -> impl Fn(&Checked, &Plan) -> Box<dyn Fn(u64) -> bool> {
    move |scenario, plan| {
        let power = closed_form::preview(scenario, plan).power - off;
        Box::new(move |number| Stream::new(3, number).uniform() < power)
    }
}

fn replicate(significant: bool, years: usize) -> Replicate {
    Replicate {
        finding: Finding {
            estimate: if significant { -1.0 } else { 0.0 },
            se: 0.05,
            df: f64::NAN,
            root: f64::NAN,
            from_truth: f64::NAN,
            ending: Ending::Converged,
            index: (f64::NAN, f64::NAN),
            truth: f64::NAN,
        },
        killed: vec![1.0; years],
        bycatch: vec![],
    }
}

fn outcome(scenario: &Checked, task: &Task, significant: Significant) -> Outcome {
    let Work::Simulate {
        sizes,
        world,
        first,
        count,
    } = &task.work
    else {
        // Closed forms are the real ones.
        let mut runner = Runner::new(scenario.clone(), 1);
        return runner.run(task).expect("closed forms");
    };
    let each = sizes.iter().map(|size| {
        let plan = size.plan.clone();
        let significant = significant(scenario, &plan);
        let one = |number| {
            let hit = *world == World::Change && significant(number);
            replicate(hit, plan.years as usize)
        };
        (*first..first + count).map(one).collect()
    });
    Outcome::Replicates(each.collect())
}

/// Runs a search with `workers` tasks out at a time, told in an order that `shuffle` decides.
fn search(significant: Significant, chunk: Option<u64>, workers: usize, shuffle: u64) -> Least {
    let scenario = scenario();
    let mut job = Job::new(scenario.clone(), Kind::Least, Some(N)).expect("a job");
    if let Some(chunk) = chunk {
        job = job.in_chunks_of(chunk);
    }
    let mut out: Vec<Task> = Vec::new();
    let mut luck = Stream::new(shuffle, 0);
    while !job.finished() {
        while out.len() < workers
            && let Some(task) = job.ask()
        {
            out.push(task);
        }
        let next = (luck.uniform() * out.len() as f64) as usize;
        let task = out.swap_remove(next);
        let outcome = outcome(&scenario, &task, significant);
        job.tell(task.id, outcome);
    }
    // What was still out when all was known changes nothing.
    let before = job.report();
    for task in out {
        let outcome = outcome(&scenario, &task, significant);
        job.tell(task.id, outcome);
    }
    assert!(job.finished());
    let (before, after) = (text(&before), text(&job.report()));
    assert_eq!(before, after);
    match job.report() {
        Report::Least(least) => *least,
        other => panic!("{other:?}"),
    }
}

/// As text, in which NaN equals NaN.
fn text(report: &impl std::fmt::Debug) -> String {
    format!("{report:?}")
}

#[test]
fn plans_far_from_the_wanted_power_are_stopped_and_the_least_plan_is_not() {
    // The search begins where the closed form thinks the least plan is, and has far to go.
    let least = search(&by_luck(0.15), None, 1, 1);
    let power = least.power.expect("a least plan");
    assert_eq!(power.replicates, N);
    assert!(power.estimate >= 0.8 && power.estimate < 0.87, "{power:?}");
    assert!(least.stopped >= 2, "{least:?}");
    let saved = 2 * N * least.simulated as u64 - least.surveys;
    assert!(saved >= N, "{saved} of {}", least.surveys);
    for p in &least.smaller {
        match p.stopped {
            Some(s) => {
                assert_eq!((s.side, s.of, s.error_rate), (Side::Below, N, RACE_ERROR));
                let shares = (p.power.replicates, p.false_alarm.replicates);
                assert_eq!(shares, (s.after, s.after));
                assert!(p.power.high < 0.8 && p.power.low < p.power.estimate);
            }
            None => assert_eq!(p.power.replicates, N),
        }
    }
}

/// Nothing hangs on workers, chunks or the order of arrival.
#[test]
fn a_search_depends_on_the_replicates_alone() {
    for off in [-0.15, 0.0, 2.0] {
        let first = text(&search(&by_luck(off), None, 1, 1));
        for (chunk, workers, shuffle) in [(Some(1), 1, 1), (Some(64), 7, 4), (None, 7, 6)] {
            let other = text(&search(&by_luck(off), chunk, workers, shuffle));
            assert_eq!(first, other, "{off} {chunk:?} {workers}");
        }
    }
}

/// A plan whose first surveys deceive, so that the race calls it sufficient, is found out by its full simulation, and
/// a larger one takes its place.
#[test]
fn a_least_plan_that_the_race_flattered_is_given_up() {
    let honest = search(&by_luck(0.0), None, 1, 1);
    let flattered = Size::of(&honest.smaller[0].plan);
    let deceptive = |s: &Checked, plan: &Plan| -> Box<dyn Fn(u64) -> bool> {
        if Size::of(plan) == flattered {
            Box::new(|number| number < 100)
        } else {
            by_luck(0.0)(s, plan)
        }
    };
    let least = search(&deceptive, None, 1, 1);
    assert_eq!(least.plan, honest.plan);
    let told = &least.smaller[0];
    assert_eq!(Size::of(&told.plan), flattered);
    assert_eq!((told.stopped, told.power.estimate), (None, 0.25));
}

/// When no plan answers, the surest one is simulated in full: what would help is scaled to it.
#[test]
fn the_surest_plan_is_simulated_in_full() {
    let least = search(&by_luck(0.6), None, 2, 1);
    assert!(least.plan.is_none());
    let surest = least.shortfall.expect("why").surest;
    assert_eq!((surest.stopped, surest.power.replicates), (None, N));
    assert!(surest.power.estimate < 0.8);
    assert!(least.stopped >= 1, "{}", least.stopped);
}

/// A curve is never raced: all its points have all their replicates.
#[test]
fn answers_and_curves_are_not_raced() {
    let scenario = scenario();
    let kind = Kind::Curve {
        over: engine::Axis::Sites,
        values: vec![2, 60],
    };
    let mut job = Job::new(scenario.clone(), kind, Some(N)).expect("a job");
    while let Some(task) = job.ask() {
        job.tell(
            task.id,
            outcome(&scenario, &task, &|_, _| Box::new(|_| false)),
        );
    }
    let Report::Curve(curve) = job.report() else {
        panic!("a curve");
    };
    assert!(job.finished());
    assert!(curve.points.iter().all(|p| p.power.replicates == N));
}
