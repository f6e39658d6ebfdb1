//! The job of several species: what is told depends on neither chunks nor order, and the target's part is its own answer.

use engine::scenario::{Checked, Control, Scenario, read};
use engine::summary::Several;
use engine::{Job, Kind, Outcome, Refusal, Report, Runner, Size, Task, about, species};
use numerics::random::Stream;

const DEMO: &str = include_str!("../../../demo-data/meadow-several.json");
const N: u64 = 12;
const SEED: u64 = 5;

fn small(change: impl Fn(&mut Scenario)) -> Checked {
    let mut s = read(DEMO).expect("the demo");
    (s.plan.sites, s.plan.traps_per_site) = (8, 2);
    (s.plan.weeks, s.plan.years) = (2, 5);
    change(&mut s);
    s.check().expect("in bounds")
}

/// Runs a job with `workers` tasks out at a time, told in an order that `shuffle` decides.
fn run(scenario: &Checked, kind: Kind, chunk: Option<u64>, workers: usize, shuffle: u64) -> Report {
    let mut job = Job::new(scenario.clone(), kind, Some(N)).expect("a job");
    if let Some(chunk) = chunk {
        job = job.in_chunks_of(chunk);
    }
    let mut runner = Runner::new(scenario.clone(), SEED);
    let mut luck = Stream::new(shuffle, 0);
    let mut out: Vec<(Task, Outcome)> = Vec::new();
    while !job.finished() {
        while out.len() < workers
            && let Some(task) = job.ask()
        {
            let outcome = runner.run(&task).expect("an outcome");
            out.push((task, outcome));
        }
        let next = (luck.uniform() * out.len() as f64) as usize;
        let (task, outcome) = out.swap_remove(next);
        job.tell(task.id, outcome);
        // What is told half way can always be told.
        let _ = job.report();
    }
    assert_eq!(job.progress().done, job.progress().total);
    job.report()
}

fn several(scenario: &Checked, chunk: Option<u64>, workers: usize, shuffle: u64) -> Several {
    match run(scenario, Kind::Several, chunk, workers, shuffle) {
        Report::Several(several) => *several,
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_target_s_part_is_its_own_answer() {
    let scenario = small(|_| ());
    let told = several(&scenario, None, 1, 0);
    let Report::Answer(answer) = run(&scenario, Kind::Answer, None, 1, 0) else {
        panic!("an answer");
    };
    let first = &told.species[0];
    assert_eq!(first.result_digest, answer.result_digest);
    assert_eq!(
        (first.power, first.false_alarm),
        (answer.power, answer.false_alarm)
    );
    assert_eq!(first.smallest_change, answer.smallest_change);
    assert_eq!(told.toll, answer.toll);
    assert_eq!(told.species.len() as u32, species(&scenario));
    let digests: std::collections::BTreeSet<_> =
        told.species.iter().map(|s| &s.result_digest).collect();
    assert_eq!((digests.len(), told.result_digest.len()), (4, 16));
}

/// The other species' part is the answer of the scenario about it, under the species' own seed.
#[test]
fn another_s_part_is_the_answer_about_it() {
    let scenario = small(|_| ());
    let told = several(&scenario, None, 1, 0);
    let alone = about(&scenario, 2).expect("a species");
    assert_eq!(alone.premises.target.name, told.species[2].name);
    assert_eq!(alone.premises.others[1].name, told.species[0].name);
    let of = |target| Size {
        target,
        ..Size::of(&scenario.plan)
    };
    let mut job = Job::new(alone.clone(), Kind::Answer, Some(N)).expect("a job");
    let mut runner = Runner::new(alone, of(2).seed(SEED));
    while let Some(task) = job.ask() {
        let outcome = runner.run(&task).expect("an outcome");
        job.tell(task.id, outcome);
    }
    let Report::Answer(answer) = job.report() else {
        panic!("an answer");
    };
    assert_eq!(answer.result_digest, told.species[2].result_digest);
    assert_eq!(of(0).seed(SEED), SEED);
    assert!(about(&scenario, 4).is_none());
}

/// Nothing hangs on workers, chunks or the order of arrival; nor where two species are alike, are their surveys.
#[test]
fn chunks_and_order_change_nothing() {
    for control in Control::ALL {
        let scenario = small(|s| {
            s.premises.others[0] = s.premises.target.clone();
            s.premises.others[0].name = "the same again".into();
            if let Some(several) = &mut s.question.several {
                several.control = control;
            }
        });
        // As text, in which NaN equals NaN.
        let first = format!("{:?}", several(&scenario, None, 1, 0));
        for (chunk, workers, shuffle) in [(Some(1), 1, 1), (Some(5), 3, 2), (Some(100), 7, 3)] {
            let other = format!("{:?}", several(&scenario, chunk, workers, shuffle));
            assert_eq!(first, other, "{chunk:?} {workers}");
        }
        let told = several(&scenario, None, 1, 0);
        assert_ne!(told.species[0].result_digest, told.species[1].result_digest);
        assert_eq!(told.under_control.is_some(), control != Control::None);
    }
}

#[test]
fn one_species_is_not_several() {
    let scenario = small(|s| {
        s.premises.others.clear();
        s.question.several = None;
    });
    let refusal = Job::new(scenario, Kind::Several, Some(N)).expect_err("one species");
    assert_eq!(refusal, Refusal::OneSpecies);
    assert!(refusal.to_string().contains("premises.others"));
}
