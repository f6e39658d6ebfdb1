//! The engine's tasks and what they take outside of a browser, for `cargo xtask bench browser`: the messages of a job as
//! bytes, the milliseconds a simulated survey with its fit, and digests of the answers.

#![allow(clippy::print_stdout)]

use engine::host::{Host, ToWorker, encode};
use engine::scenario::{read, write};
use engine::{Size, Task, Work, World};
use serde_json::{Value, json};
use sha2::{Digest, Sha256};
use std::time::Instant;

/// Surveys of each world in a task, and tasks.
const SURVEYS: u64 = 50;

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

fn measure(name: &str) -> Value {
    let path = leastcatch_tests::project(&format!("demo-data/{name}.json"));
    let scenario = read(&std::fs::read_to_string(path).unwrap()).unwrap();
    let size = Size::of(&scenario.plan);
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
                        size,
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
    let surveys = SURVEYS * tasks.len() as u64;
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
    let names = ["meadow-beetles", "mountain-moths"];
    let all: serde_json::Map<String, Value> = names
        .into_iter()
        .map(|name| (name.to_owned(), measure(name)))
        .collect();
    println!("{}", Value::Object(all));
}
