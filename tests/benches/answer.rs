//! What a user waits for: the closed-form preview, a whole answer of the demo on one thread, the frontier's closed
//! forms, and one simulated survey.

use criterion::{Criterion, criterion_group, criterion_main};
use engine::scenario::{Checked, Revisit, read};
use engine::{Job, Kind, Runner};
use std::hint::black_box;
use survey::closed_form::preview;
use survey::cost::CostOver;
use survey::generator::{Drawn, Generator, World};
use survey::search::{screen, week_sets};

fn demo(name: &str) -> Checked {
    let path = leastcatch_tests::project(&format!("demo-data/{name}.json"));
    read(&std::fs::read_to_string(path).unwrap())
        .unwrap()
        .check()
        .unwrap()
}

fn answer(scenario: &Checked, replicates: u64) -> Job {
    let mut job = Job::new(scenario.clone(), Kind::Answer, Some(replicates)).unwrap();
    let mut runner = Runner::new(scenario.clone(), 1);
    while let Some(task) = job.ask() {
        let outcome = runner.run(&task).unwrap();
        job.tell(task.id, outcome);
    }
    job
}

/// The least money of all plans within the limits.
fn cheapest(scenario: &Checked) -> Option<f64> {
    let limits = &scenario.limits;
    let sets = week_sets(scenario);
    let over = CostOver::new(scenario, 2, sets.clone())?;
    let mut least = f64::INFINITY;
    for sites in 2..=limits.sites {
        let mut at = over.at(sites);
        for traps in 1..=limits.traps_per_site {
            for set in 0..sets.len() {
                least = least.min(at.totals(traps, set).money);
            }
        }
    }
    Some(least)
}

fn waits(c: &mut Criterion) {
    for name in ["meadow-beetles", "mountain-moths"] {
        let scenario = demo(name);
        c.bench_function(&format!("preview {name}"), |b| {
            b.iter(|| preview(black_box(&scenario), black_box(&scenario.plan)));
        });
        let generator = Generator::new(&scenario, &scenario.plan);
        let mut drawn = Drawn::default();
        let mut i = 0;
        c.bench_function(
            &format!("one simulated survey with by-catch, {name}"),
            |b| {
                b.iter(|| {
                    i += 1;
                    generator.draw(1, i, World::Change, true, &mut drawn);
                });
            },
        );
    }
    let scenario = demo("meadow-beetles");
    let mut group = c.benchmark_group("long");
    group.sample_size(10);
    group.bench_function(
        "answer of the demo, 1000 surveys and as many nulls, one thread",
        |b| {
            b.iter(|| answer(&scenario, 1000).report());
        },
    );
    group.bench_function("closed forms of all plans within the demo's limits", |b| {
        b.iter(|| screen(&scenario))
    });
    let mut many = scenario.clone().into_inner();
    (
        many.limits.sites,
        many.limits.traps_per_site,
        many.limits.weeks,
    ) = (500, 10, 20);
    let many = many.check().unwrap();
    group.bench_function("closed forms of 100,000 plans", |b| {
        b.iter(|| screen(&many))
    });
    // 3540 plans whose sites come every second year, 1800 in two panels, 3540 that are all visited every year.
    let mut patterns = scenario.clone().into_inner();
    patterns.limits.revisits = vec![
        None,
        Some(Revisit::EveryK { years: 2 }),
        Some(Revisit::Alternating { panels: 2 }),
    ];
    let patterns = patterns.check().unwrap();
    group.bench_function(
        "closed forms of the demo's plans under three patterns",
        |b| b.iter(|| screen(&patterns)),
    );
    group.bench_function("costs of 100,000 plans", |b| b.iter(|| cheapest(&many)));
    group.finish();
}

criterion_group!(benches, waits);
criterion_main!(benches);
