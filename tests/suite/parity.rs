//! A result depends on (scenario, seed, replicates) alone: not on the number of workers, the size of chunks or the
//! order of arrival; for every question, every analysis and every other choice of the format.

use engine::{Axis, Job, Kind, Report, Runner, Task};
use leastcatch_tests::variants::{
    Variant, analysed, choosing, departing, looking, questions, several,
};
use numerics::random::Stream;
use survey::scenario::{Checked, read};

const SEED: u64 = 20;

/// How a job is run.
#[derive(Clone, Copy, Debug)]
struct Way {
    /// Each with its own runner, as threads and web workers have.
    workers: usize,
    /// Replicates in a chunk; the engine's own choice when `None`.
    chunk: Option<u64>,
    /// Decides which worker is done next.
    luck: u64,
}

const ONE: Way = Way {
    workers: 1,
    chunk: None,
    luck: 0,
};

/// One, two, three and seven workers; chunks from a single replicate to more than all.
const WAYS: [Way; 5] = [
    Way {
        workers: 1,
        chunk: Some(1),
        luck: 0,
    },
    Way {
        workers: 2,
        chunk: Some(3),
        luck: 1,
    },
    Way {
        workers: 3,
        chunk: Some(4),
        luck: 2,
    },
    Way {
        workers: 7,
        chunk: Some(1),
        luck: 3,
    },
    Way {
        workers: 2,
        chunk: Some(1000),
        luck: 4,
    },
];

/// Runs a job with tasks out at every worker, told back in an order that luck decides.
fn run(scenario: &Checked, kind: Kind, replicates: u64, way: Way) -> Report {
    let kind_told = format!("{kind:?}");
    let mut job = Job::new(scenario.clone(), kind, Some(replicates)).unwrap();
    if let Some(chunk) = way.chunk {
        job = job.in_chunks_of(chunk);
    }
    let mut runners: Vec<Runner> = (0..way.workers)
        .map(|_| Runner::new(scenario.clone(), SEED))
        .collect();
    let mut luck = Stream::new(way.luck, 0);
    let mut desks: Vec<Option<Task>> = vec![None; way.workers];
    while !job.finished() {
        for desk in desks.iter_mut().filter(|d| d.is_none()) {
            *desk = job.ask();
        }
        let busy: Vec<usize> = (0..way.workers).filter(|&w| desks[w].is_some()).collect();
        assert!(
            !busy.is_empty(),
            "a job that waits for nothing: {kind_told} {:?}",
            job.report()
        );
        let next = busy[(luck.uniform() * busy.len() as f64) as usize];
        let task = desks[next].take().unwrap();
        let outcome = runners[next].run(&task).unwrap();
        // Now and then a worker dies with its task, and another one does it anew.
        if luck.uniform() < 0.1 {
            job.give_back(task.id);
        } else {
            job.tell(task.id, outcome);
        }
    }
    job.report()
}

/// The whole report, digests included, as it is told.
fn told(report: &Report) -> String {
    serde_json::to_string(report).unwrap()
}

fn same_in_every_way(variants: &[Variant]) {
    for Variant { name, scenario } in variants {
        let wanted = run(scenario, Kind::Answer, 8, ONE);
        let Report::Answer(answer) = &wanted else {
            panic!("{name}")
        };
        assert_eq!(answer.power.replicates, 8, "{name}");
        assert_eq!(answer.result_digest.len(), 16, "{name}");
        for way in WAYS {
            let other = run(scenario, Kind::Answer, 8, way);
            assert_eq!(told(&wanted), told(&other), "{name} {way:?}");
        }
    }
}

/// The surveys to look at are the first of those behind the answer, in every way of running them.
#[test]
fn futures_are_the_surveys_behind_the_answer() {
    for (name, example) in questions() {
        let scenario = read(&example.to_string()).unwrap().check().unwrap();
        let wanted = run(&scenario, Kind::Futures, 24, ONE);
        let Report::Futures(futures) = &wanted else {
            panic!("{name}")
        };
        assert_eq!(
            (futures.change.len(), futures.still.len()),
            (20, 20),
            "{name}"
        );
        let Report::Answer(answer) = run(&scenario, Kind::Answer, 20, ONE) else {
            panic!("{name}")
        };
        // As many found as the answer of these twenty says (its test has too few nulls to be calibrated, as theirs has).
        let found = |f: &survey::futures::Future| {
            matches!(
                f.stamp,
                survey::futures::Stamp::Found | survey::futures::Stamp::WrongWay
            )
        };
        let share = futures.change.iter().filter(|f| found(f)).count() as f64 / 20.0;
        assert!((share - answer.power.estimate).abs() < 1e-12, "{name}");
        assert!(
            futures
                .change
                .iter()
                .all(|f| f.lines.iter().all(|l| l.iter().any(Option::is_some))),
            "{name}"
        );
        for way in WAYS {
            assert_eq!(
                told(&wanted),
                told(&run(&scenario, Kind::Futures, 24, way)),
                "{name} {way:?}"
            );
        }
    }
}

#[test]
fn every_question_with_every_analysis() {
    let variants = analysed();
    assert!(variants.len() >= 16, "{}", variants.len());
    same_in_every_way(&variants);
}

#[test]
fn every_other_choice_and_departure() {
    let variants = departing();
    assert!(variants.len() >= 20, "{}", variants.len());
    same_in_every_way(&variants);
}

/// The plans of a curve over sites or years are drawn together where they can be: each has the very results it has by
/// itself, for every question, analysis and departure, and over every axis. How many were compared.
fn compared_with_plans_alone(variants: impl Iterator<Item = Variant>) -> usize {
    let mut compared = 0;
    for Variant { name, scenario } in variants {
        for over in Axis::of_scenario(&scenario) {
            let around = over.around(&scenario);
            let own = around[around.len() / 2];
            let values = vec![around[0], own, around[around.len() - 1]];
            let kind = Kind::Curve { over, values };
            let Report::Curve(curve) = run(&scenario, kind, 3, WAYS[1]) else {
                panic!("{name}")
            };
            for point in curve.points {
                let mut alone = scenario.clone().into_inner();
                alone.plan = over.set(&scenario.plan, point.value());
                let alone = alone.check().unwrap();
                let Report::Answer(answer) = run(&alone, Kind::Answer, 3, ONE) else {
                    panic!("{name}")
                };
                let about = format!("{name}, {} = {}", over.key(), point.value());
                assert_eq!(point.result_digest, answer.result_digest, "{about}");
                assert_eq!(point.power, answer.power, "{about}");
                assert_eq!(point.false_alarm, answer.false_alarm, "{about}");
                assert_eq!(point.fits, answer.fits, "{about}");
                assert_eq!(point.toll, answer.toll, "{about}");
                assert_eq!(point.test, answer.test, "{about}");
                compared += 1;
            }
        }
    }
    compared
}

/// In parts, which run side by side.
fn every_third_analysis(from: usize) {
    let compared = compared_with_plans_alone(analysed().into_iter().skip(from).step_by(3));
    assert!(compared > MANY, "{compared}");
}

/// Plans compared in each part, at least.
const MANY: usize = 75;

#[test]
fn a_plan_on_a_curve_is_that_plan_alone() {
    every_third_analysis(0);
}

#[test]
fn a_plan_on_a_curve_is_that_plan_alone_by_further_analyses() {
    every_third_analysis(1);
}

#[test]
fn a_plan_on_a_curve_is_that_plan_alone_by_the_other_analyses() {
    every_third_analysis(2);
}

#[test]
fn a_plan_on_a_curve_is_that_plan_alone_under_departures() {
    let compared = compared_with_plans_alone(departing().into_iter());
    assert!(compared > MANY, "{compared}");
}

#[test]
fn curves_and_searches() {
    let mut seen = Vec::new();
    for Variant { name, scenario } in analysed() {
        // One analysis of each question.
        let question = name.split(' ').next().unwrap().to_string();
        if seen.contains(&question) {
            continue;
        }
        seen.push(question);
        let curve = Kind::Curve {
            over: Axis::Sites,
            values: vec![4, 6, 8],
        };
        for (kind, replicates) in [(curve, 8), (Kind::Least, 60)] {
            let wanted = told(&run(&scenario, kind.clone(), replicates, ONE));
            for way in WAYS {
                let other = told(&run(&scenario, kind.clone(), replicates, way));
                assert_eq!(wanted, other, "{name} {kind:?} {way:?}");
            }
        }
    }
}

/// Searches that choose among patterns, schemes and places, of one question each and of an edge.
#[test]
fn searches_with_lists() {
    let wanted = [
        "decline revisits",
        "occupancy schemes",
        "decline places",
        "range_shift places",
        "range_shift of an edge places",
    ];
    let mut seen = 0;
    for Variant { name, scenario } in choosing() {
        if !wanted.contains(&name.as_str()) {
            continue;
        }
        seen += 1;
        let first = told(&run(&scenario, Kind::Least, 40, ONE));
        for way in WAYS {
            let other = told(&run(&scenario, Kind::Least, 40, way));
            assert_eq!(first, other, "{name} {way:?}");
        }
    }
    assert_eq!(seen, wanted.len());
}

/// All species of a list at once, under every control; the target's part is its answer alone.
#[test]
fn several_species_at_once() {
    let variants = several();
    assert!(variants.len() >= 16, "{}", variants.len());
    for Variant { name, scenario } in variants {
        let wanted = run(&scenario, Kind::Several, 8, ONE);
        let Report::Several(told) = &wanted else {
            panic!("{name}")
        };
        let Report::Answer(answer) = run(&scenario, Kind::Answer, 8, ONE) else {
            panic!("{name}")
        };
        assert_eq!(
            told.species[0].result_digest, answer.result_digest,
            "{name}"
        );
        assert_eq!(told.toll, answer.toll, "{name}");
        for way in WAYS {
            let other = run(&scenario, Kind::Several, 8, way);
            assert_eq!(self::told(&wanted), self::told(&other), "{name} {way:?}");
        }
    }
}

/// Planned looks, with every line and rule; the whole survey's part is the answer of the plan.
#[test]
fn planned_looks() {
    for Variant { name, scenario } in looking() {
        let wanted = run(&scenario, Kind::Looks, 8, ONE);
        let Report::Looks(looks) = &wanted else {
            panic!("{name}")
        };
        let Report::Answer(answer) = run(&scenario, Kind::Answer, 8, ONE) else {
            panic!("{name}")
        };
        assert_eq!(looks.fixed.power, answer.power, "{name}");
        assert_eq!(looks.fixed.false_alarm, answer.false_alarm, "{name}");
        let toll = looks.change.toll.as_ref().unwrap();
        let mean = answer.toll.unwrap().total.mean;
        assert!((toll.total.fixed / mean - 1.0).abs() < 1e-9, "{name}");
        for way in WAYS {
            let other = run(&scenario, Kind::Looks, 8, way);
            assert_eq!(told(&wanted), told(&other), "{name} {way:?}");
        }
    }
}

/// Another seed is another result: the tests above would see a difference.
#[test]
fn another_seed_is_another_result() {
    let Variant { scenario, .. } = &analysed()[0];
    let run = |seed| {
        let mut job = Job::new(scenario.clone(), Kind::Answer, Some(8)).unwrap();
        let mut runner = Runner::new(scenario.clone(), seed);
        while let Some(task) = job.ask() {
            let outcome = runner.run(&task).unwrap();
            job.tell(task.id, outcome);
        }
        told(&job.report())
    };
    assert_ne!(run(1), run(2));
    assert_eq!(run(1), run(1));
}
