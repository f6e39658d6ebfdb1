//! A page for the browser tests: answers scenarios by two real workers and writes down the reports.
//!
//! The event `answer` on the window carries JSON: `seed`, `replicates` and the texts of `scenarios`. Each report
//! becomes a list entry in the body, as the JSON that the command line writes, in the order of the scenarios.

use std::cell::{OnceCell, RefCell};
use std::collections::VecDeque;
use std::rc::Rc;

use super::write;
use engine::host::{FromWorker, ToWorker, decode, encode};
use engine::scenario::read;
use engine::{Job, Kind};
use page::pool::{OnEvent, Pool, PoolEvent};
use wasm_bindgen::prelude::{Closure, JsCast};
use web_sys::CustomEvent;

const WORKERS: usize = 2;
/// So few that both workers have a part in every answer.
const CHUNK: u64 = 2;

#[derive(Default)]
struct Desk {
    seed: u64,
    /// Numbered jobs with the texts of their scenarios, the running one first.
    jobs: VecDeque<(u64, Job, String)>,
    up: [bool; WORKERS],
    busy: [bool; WORKERS],
    begun: [u64; WORKERS],
}

impl Desk {
    fn take(&mut self, detail: &str) {
        let asked: serde_json::Value = serde_json::from_str(detail).expect("JSON");
        self.seed = asked["seed"].as_u64().expect("a seed");
        let texts = asked["scenarios"].as_array().expect("scenarios");
        for (text, number) in texts.iter().zip(1..) {
            let text = text.as_str().expect("a text").to_string();
            let scenario = read(&text).expect("a scenario").check().expect("in bounds");
            let job = Job::new(scenario, Kind::Answer, asked["replicates"].as_u64());
            let job = job.expect("a job").in_chunks_of(CHUNK);
            self.jobs.push_back((number, job, text));
        }
    }

    /// What to post to an idle worker for the running job.
    fn next(&mut self, worker: usize) -> Vec<ToWorker> {
        let Some((job, running, text)) = self.jobs.front_mut() else {
            return vec![];
        };
        if !self.up[worker] || self.busy[worker] {
            return vec![];
        }
        let Some(task) = running.ask() else {
            return vec![];
        };
        self.busy[worker] = true;
        let (job, scenario, seed) = (*job, text.clone(), self.seed);
        let mut posts = vec![];
        if std::mem::replace(&mut self.begun[worker], job) != job {
            posts.push(ToWorker::Begin {
                job,
                scenario,
                seed,
            });
        }
        posts.push(ToWorker::Run { job, task });
        posts
    }

    /// Takes what a worker said; a report when that finishes the running job, or what is wrong.
    fn hear(&mut self, worker: usize, said: FromWorker) -> Option<String> {
        match said {
            FromWorker::Ready => self.up[worker] = true,
            FromWorker::Problem { text, .. } => return Some(format!("problem: {text}")),
            other => {
                self.busy[worker] = false;
                let (_, id, outcome) = other.outcome().expect("an outcome");
                let (_, job, _) = self.jobs.front_mut().expect("a running job");
                job.tell(id, outcome);
                if job.finished() {
                    let (_, job, _) = self.jobs.pop_front()?;
                    return Some(serde_json::to_string(&job.report()).expect("JSON"));
                }
            }
        }
        None
    }
}

/// Starts the workers and answers.
pub fn begin() {
    let window = web_sys::window().expect("this runs in a page");
    let document = window.document().expect("a page has a document");

    let desk: Rc<RefCell<Desk>> = Rc::default();
    let place: Rc<OnceCell<Pool>> = Rc::default();
    let pump = {
        let (desk, place) = (Rc::clone(&desk), Rc::clone(&place));
        Rc::new(move || {
            let pool = place.get().expect("no event before the start");
            for worker in 0..WORKERS {
                for message in desk.borrow_mut().next(worker) {
                    pool.post(worker, &encode(&message));
                }
            }
        })
    };
    let on_event: OnEvent = {
        let (desk, pump) = (Rc::clone(&desk), Rc::clone(&pump));
        Rc::new(move |event| {
            let line = match event {
                PoolEvent::Message { worker, bytes } => {
                    let said = decode(&bytes).expect("a message");
                    desk.borrow_mut().hear(worker, said)
                }
                PoolEvent::Died { reason, .. } => Some(format!("died: {reason}")),
            };
            if let Some(line) = line {
                write(&document, &line);
            }
            pump();
        })
    };
    place.get_or_init(|| Pool::start(WORKERS, "../worker.js", on_event));

    let obey = Closure::<dyn Fn(CustomEvent)>::new(move |event: CustomEvent| {
        let detail = event.detail().as_string().expect("a text");
        desk.borrow_mut().take(&detail);
        pump();
    });
    window
        .add_event_listener_with_callback("answer", obey.as_ref().unchecked_ref())
        .expect("a listener");
    obey.forget();
}
