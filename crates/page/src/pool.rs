//! A pool of web workers that bytes are posted to and come back from.
//!
//! The pool knows nothing of what the bytes mean and hands out no work by itself: whoever holds it posts
//! to a worker by its number and hears of everything through one callback. A worker that died stays dead
//! until [`Pool::restart`], because only the holder knows what it was working on.
//!
//! Each start of a worker is a new generation. Whatever a former generation still had to say is dropped,
//! so after a restart the holder hears the new worker only, beginning with its first message.

use crate::words::workers as words;
use std::cell::RefCell;
use std::rc::{Rc, Weak};

use js_sys::{Array, Uint8Array};
use wasm_bindgen::prelude::{Closure, JsCast, JsValue};
use wasm_bindgen_futures::spawn_local;
use web_sys::{ErrorEvent, Event, MessageEvent, Worker, WorkerOptions, WorkerType};

/// What happens in the pool.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PoolEvent {
    /// A worker posted bytes.
    Message {
        /// Number of the worker, from 0.
        worker: usize,
        /// What it posted.
        bytes: Vec<u8>,
    },
    /// A worker could not be started, broke down, or could not be reached. It computes no more and is
    /// silent until it is restarted.
    Died {
        /// Number of the worker, from 0.
        worker: usize,
        /// Why, as far as the browser tells.
        reason: String,
    },
}

/// A callback for everything that happens in the pool. It may call the pool, and may be the one that
/// restarts a worker.
pub type OnEvent = Rc<dyn Fn(PoolEvent)>;

/// Workers that run until the last clone of the pool is dropped.
#[derive(Clone)]
pub struct Pool {
    shared: Rc<Shared>,
}

struct Shared {
    url: String,
    on_event: OnEvent,
    places: RefCell<Vec<Place>>,
}

/// The place of one worker in the pool.
#[derive(Default)]
struct Place {
    generation: u64,
    /// Nothing while the worker is dead.
    running: Option<Running>,
}

/// A worker with the closures that listen to it, which live exactly as long.
struct Running {
    worker: Worker,
    _on_message: Closure<dyn FnMut(MessageEvent)>,
    _on_error: Closure<dyn FnMut(Event)>,
}

impl Drop for Running {
    fn drop(&mut self) {
        self.worker.set_onmessage(None);
        self.worker.set_onmessageerror(None);
        self.worker.set_onerror(None);
        self.worker.terminate();
    }
}

impl Pool {
    /// Starts `count` workers, numbered from 0, from the module at `url`, which is relative to the page.
    ///
    /// A worker that cannot be started is reported like one that died. No event arrives before this has
    /// returned.
    pub fn start(count: usize, url: &str, on_event: OnEvent) -> Self {
        let places = (0..count).map(|_| Place::default()).collect();
        let shared = Rc::new(Shared {
            url: url.to_owned(),
            on_event,
            places: RefCell::new(places),
        });
        for worker in 0..count {
            shared.launch(worker);
        }
        Self { shared }
    }

    /// How many workers the pool has, dead ones included.
    pub fn len(&self) -> usize {
        self.shared.places.borrow().len()
    }

    /// Whether the pool was started with no workers at all.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Posts a copy of the bytes to a worker. Before its first message a worker may not listen yet.
    ///
    /// Bytes that cannot be posted, because the worker is dead or the browser refuses, are reported as
    /// [`PoolEvent::Died`] soon after this has returned.
    ///
    /// # Panics
    /// When there is no worker of that number.
    pub fn post(&self, worker: usize, bytes: &[u8]) {
        let failure = match &self.shared.places.borrow()[worker].running {
            None => Some(words::DEAD.to_owned()),
            Some(running) => {
                let array = Uint8Array::from(bytes);
                let handed_over = Array::of1(&array.buffer());
                running
                    .worker
                    .post_message_with_transfer(&array, &handed_over)
                    .err()
                    .map(|error| words::not_posted(&text(&error)))
            }
        };
        if let Some(reason) = failure {
            self.shared.die_soon(worker, reason);
        }
    }

    /// Ends a worker, whatever it is doing, and starts it anew.
    ///
    /// # Panics
    /// When there is no worker of that number.
    pub fn restart(&self, worker: usize) {
        self.shared.launch(worker);
    }
}

impl Shared {
    /// Starts a new generation of a worker in place of the former one.
    fn launch(self: &Rc<Self>, worker: usize) {
        let generation = self.end(worker);
        match self.spawn(worker, generation) {
            Ok(running) => self.places.borrow_mut()[worker].running = Some(running),
            Err(error) => {
                self.die_soon(worker, words::not_started(&text(&error)));
            }
        }
    }

    /// Ends a worker and returns the number of the generation that follows.
    fn end(&self, worker: usize) -> u64 {
        let (former, generation) = {
            let place = &mut self.places.borrow_mut()[worker];
            place.generation += 1;
            (place.running.take(), place.generation)
        };
        drop(former);
        generation
    }

    fn spawn(self: &Rc<Self>, worker: usize, generation: u64) -> Result<Running, JsValue> {
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let started = Worker::new_with_options(&self.url, &options)?;

        // The pool holds the closures, so the closures must not hold the pool.
        let pool = Rc::downgrade(self);
        let on_message = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            let Some(pool) = current(&pool, worker, generation) else {
                return;
            };
            match event.data().dyn_into::<Uint8Array>() {
                Ok(bytes) => (pool.on_event)(PoolEvent::Message {
                    worker,
                    bytes: bytes.to_vec(),
                }),
                Err(_) => pool.die(worker, words::NO_BYTES.to_owned()),
            }
        });
        let pool = Rc::downgrade(self);
        let on_error = Closure::<dyn FnMut(Event)>::new(move |event: Event| {
            if let Some(pool) = current(&pool, worker, generation) {
                pool.die(worker, reason(&event));
            }
        });

        started.set_onmessage(Some(on_message.as_ref().unchecked_ref()));
        started.set_onmessageerror(Some(on_error.as_ref().unchecked_ref()));
        started.set_onerror(Some(on_error.as_ref().unchecked_ref()));
        Ok(Running {
            worker: started,
            _on_message: on_message,
            _on_error: on_error,
        })
    }

    /// Ends a worker and reports it.
    fn die(&self, worker: usize, reason: String) {
        self.end(worker);
        (self.on_event)(PoolEvent::Died { worker, reason });
    }

    /// Reports a worker's death once the caller is done, unless it has been restarted by then.
    fn die_soon(self: &Rc<Self>, worker: usize, reason: String) {
        let generation = self.places.borrow()[worker].generation;
        let pool = Rc::downgrade(self);
        spawn_local(async move {
            if let Some(pool) = current(&pool, worker, generation) {
                pool.die(worker, reason);
            }
        });
    }
}

/// The pool, if it is still there and the worker still of that generation.
fn current(pool: &Weak<Shared>, worker: usize, generation: u64) -> Option<Rc<Shared>> {
    let pool = pool.upgrade()?;
    let same = pool.places.borrow()[worker].generation == generation;
    same.then_some(pool)
}

/// What an error event of a worker says. Only an exception comes with a text; a script that cannot be
/// loaded comes without.
fn reason(event: &Event) -> String {
    let said = event
        .dyn_ref::<ErrorEvent>()
        .map(ErrorEvent::message)
        .filter(|message| !message.is_empty());
    said.unwrap_or_else(|| words::NO_SCRIPT.to_owned())
}

/// What an exception says.
fn text(error: &JsValue) -> String {
    match error.dyn_ref::<js_sys::Error>() {
        Some(error) => String::from(error.message()),
        None => format!("{error:?}"),
    }
}

/// How many workers to start: as many as the browser says there are processors, at least one. The page itself has next
/// to nothing to do while they compute.
pub fn pool_size() -> usize {
    let processors =
        web_sys::window().map_or(1.0, |window| window.navigator().hardware_concurrency());
    // Whole and small, if the browser is sound; the conversion takes care of the rest.
    (processors as usize).max(1)
}
