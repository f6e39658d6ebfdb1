//! Our side of `cargo xtask bench peers`: the same fits as tests/peers/peers.R and peers.py, one line of JSON for each
//! measurement. One thread; reading the data is not timed, making a design and a fit of it without any start is.

#![allow(clippy::print_stdout, reason = "printing is what it does")]

use engine::{Axis, Job, Kind, Runner};
use leastcatch_tests::{path, scenarios};
use models::glmm::{Design, Family, Fitter, Layout, Likelihood, Model, Terms};
use numerics::maths::ln;
use serde_json::{Value, json};
use std::time::{Duration, Instant};
use survey::evaluate::Evaluator;
use survey::generator::World;

struct Set {
    design: Design,
    counts: Vec<f64>,
    family: Family,
    site_year: bool,
}

/// The columns of a table by name, with codes for texts in order of appearance.
struct Table(Vec<(String, Vec<String>)>);

impl Table {
    fn read(file: &str) -> Self {
        let mut reader = csv::Reader::from_path(path(file)).expect("a table");
        let names = reader.headers().expect("a header").clone();
        let mut columns: Vec<_> = names.iter().map(|n| (n.to_string(), vec![])).collect();
        for row in reader.records() {
            for (cell, column) in row.expect("a row").iter().zip(&mut columns) {
                column.1.push(cell.to_string());
            }
        }
        Self(columns)
    }

    fn texts(&self, name: &str) -> Option<&[String]> {
        let found = self.0.iter().find(|(n, _)| n == name);
        found.map(|(_, column)| column.as_slice())
    }

    fn numbers(&self, name: &str) -> Vec<f64> {
        let texts = self.texts(name).unwrap_or_default().iter();
        texts.map(|t| t.parse().expect("a number")).collect()
    }

    fn codes(&self, name: &str) -> Vec<usize> {
        let mut seen: Vec<&String> = Vec::new();
        let code = |text| {
            seen.iter().position(|s| *s == text).unwrap_or_else(|| {
                seen.push(text);
                seen.len() - 1
            })
        };
        self.texts(name)
            .expect("a column")
            .iter()
            .map(code)
            .collect()
    }
}

/// A set of tests/reference with the model of its scripts/specs.R, or the open tick counts.
fn load(id: &str) -> Set {
    let table = Table::read(&match id {
        "ticks" => "reference/open/grouseticks.csv".to_string(),
        _ => format!("reference/data/{id}.csv"),
    });
    let counts = table.numbers("count");
    let (year, week, pos) = (
        table.numbers("year"),
        table.numbers("week"),
        table.numbers("pos"),
    );
    let ends = year
        .iter()
        .fold((f64::MAX, f64::MIN), |(a, b), &y| (a.min(y), b.max(y)));
    let row = |i: usize| -> Vec<f64> {
        let tc = year[i] - 0.5 * (ends.0 + ends.1);
        match id {
            "ticks" => vec![1.0],
            "c" => {
                let w = week[i] - 2.5;
                vec![1.0, tc, w, w * w]
            }
            "d" => {
                let x = (pos[i] - 500.0) / 250.0;
                vec![1.0, x, x * x, tc, x * tc]
            }
            "e" => vec![1.0, (pos[i] - 500.0) / 250.0, tc],
            _ => vec![1.0, tc],
        }
    };
    let exposure = table.numbers("exposure");
    let design = Design {
        site: table.codes("site"),
        year: table.codes("year"),
        x: (0..counts.len()).flat_map(row).collect(),
        columns: row(0).len(),
        offset: (0..counts.len())
            .map(|i| if id == "c" { ln(exposure[i]) } else { 0.0 })
            .collect(),
        trials: table.numbers("visits"),
    };
    let family = match id {
        "a" | "d" => Family::Poisson,
        "e" => Family::Binomial,
        _ => Family::NegativeBinomial,
    };
    Set {
        design,
        counts,
        family,
        site_year: id == "c",
    }
}

fn fit(set: &Set) -> f64 {
    let terms = Terms {
        site: true,
        year: true,
        site_year: set.site_year,
    };
    let model = Model {
        family: set.family,
        terms,
        likelihood: Likelihood::Maximum,
    };
    let mut fitter = Fitter::new(Layout::new(&set.design).expect("a layout"), model);
    let fit = fitter.fit(&set.counts, None).expect("a fit");
    fit.log_likelihood
}

/// Processor time of this thread so far, where the system tells it (Linux); `None` elsewhere.
fn processor() -> Option<Duration> {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    told.split(' ')
        .next()?
        .parse()
        .ok()
        .map(Duration::from_nanos)
}

/// Milliseconds that `work` takes of the processor, or by the clock where the processor's time is not told.
fn milliseconds(work: impl FnOnce()) -> f64 {
    let (clock, before) = (Instant::now(), processor());
    work();
    let spent = match (before, processor()) {
        (Some(before), Some(after)) => after - before,
        _ => clock.elapsed(),
    };
    1000.0 * spent.as_secs_f64()
}

/// Median milliseconds of a call over five batches, each long enough for the processor's clock, which is coarse.
fn median(mut call: impl FnMut()) -> (f64, u32) {
    let mut calls = 1;
    let mut batch = |calls: u32| milliseconds(|| (0..calls).for_each(|_| call()));
    while batch(calls) < 100.0 {
        calls *= 2;
    }
    let mut batches = [0.0; 5].map(|_| batch(calls));
    batches.sort_by(f64::total_cmp);
    (batches[2] / f64::from(calls), 5 * calls)
}

fn say(line: &Value) {
    println!("{line}");
}

fn main() {
    for id in ["a", "b", "c", "d", "e", "ticks"] {
        let set = load(id);
        let log_likelihood = fit(&set);
        let (ms, calls) = median(|| {
            std::hint::black_box(fit(&set));
        });
        say(
            &json!({ "peer": "ours", "set": id, "ms": ms, "calls": calls, "log_likelihood": log_likelihood }),
        );
    }

    // What a person would otherwise script: draw a survey of set b, fit it, keep the slope and its standard error.
    let scenario = scenarios::checked(scenarios::set_b());
    let (ms, calls) = median(|| {
        let mut evaluator = Evaluator::new(&scenario, &scenario.plan, 1).expect("a design");
        for number in 0..200 {
            std::hint::black_box(evaluator.run(number, World::Change).expect("a survey"));
        }
    });
    say(
        &json!({ "peer": "ours", "set": "200 surveys", "ms": ms, "calls": calls, "log_likelihood": null }),
    );

    // A whole curve: six numbers of sites, 1000 surveys with the change and as many without it for each.
    let ms = milliseconds(|| {
        let curve = Kind::Curve {
            over: Axis::Sites,
            values: vec![10, 20, 30, 40, 50, 60],
        };
        let mut job = Job::new(scenario.clone(), curve, Some(1000)).expect("a job");
        let mut runner = Runner::new(scenario.clone(), 1);
        while let Some(task) = job.ask() {
            let outcome = runner.run(&task).expect("an outcome");
            job.tell(task.id, outcome);
        }
        std::hint::black_box(job.report());
    });
    say(&json!({ "peer": "ours", "set": "curve", "ms": ms, "calls": 1, "log_likelihood": null }));
}
