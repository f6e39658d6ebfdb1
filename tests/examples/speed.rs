//! The engine's tasks and what they take outside of a browser, for `cargo xtask bench browser`: the messages of a job as
//! bytes, the milliseconds a simulated survey with its fit, and digests of the answers.

#![allow(clippy::print_stdout)]

use engine::host::{Host, ToWorker, encode};
use engine::scenario::{read, write};
use engine::{Size, Task, Work, World};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::time::Instant;

/// Surveys of each world in a task.
const SURVEYS: u64 = 50;

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

/// The demo's own plan, or those with `sites` drawn together.
fn measure(name: &str, sites: &[u32]) -> Value {
    let path = leastcatch_tests::project(&format!("demo-data/{name}.json"));
    let scenario = read(&std::fs::read_to_string(path).unwrap()).unwrap();
    let own = Size::of(&scenario.plan);
    let sizes: Vec<Size> = if sites.is_empty() {
        vec![own]
    } else {
        let with = |&sites: &u32| {
            let mut size = own.clone();
            size.plan.sites = sites;
            size
        };
        sites.iter().map(with).collect()
    };
    let begin = encode(&ToWorker::Begin {
        job: 1,
        scenario: write(&scenario),
        seed: 1,
    });
    let tasks: Vec<Vec<u8>> = [World::Change, World::Still]
        .into_iter()
        .enumerate()
        .map(|(id, world)| {
            encode(&ToWorker::Run {
                job: 1,
                task: Task {
                    id: id as u64,
                    work: Work::Simulate {
                        sizes: sizes.clone(),
                        world,
                        first: 0,
                        count: SURVEYS,
                    },
                },
            })
        })
        .collect();
    let mut host = Host::new();
    host.handle(&begin);
    let digests: Vec<String> = tasks
        .iter()
        .map(|task| hex(&Sha256::digest(host.handle(task))))
        .collect();
    let surveys = SURVEYS * (tasks.len() * sizes.len()) as u64;
    let best = (0..8)
        .map(|_| {
            let from = Instant::now();
            tasks.iter().for_each(|task| {
                std::hint::black_box(host.handle(task));
            });
            from.elapsed().as_secs_f64() * 1e3 / surveys as f64
        })
        .fold(f64::INFINITY, f64::min);
    json!({
        "begin": hex(&begin),
        "tasks": tasks.iter().map(|t| hex(t)).collect::<Vec<_>>(),
        "surveys": surveys,
        "native": best,
        "digests": digests,
    })
}

fn main() {
    let twelve: Vec<u32> = (1..=12).map(|i| 5 * i).collect();
    let jobs = [
        ("meadow-beetles", "meadow-beetles", &[][..]),
        ("mountain-moths", "mountain-moths", &[]),
        ("curve over 5 to 60 sites", "meadow-beetles", &twelve),
    ];
    let all: serde_json::Map<String, Value> = jobs
        .into_iter()
        .map(|(name, demo, sites)| (name.to_owned(), measure(demo, sites)))
        .collect();
    println!("{}", Value::Object(all));
}
