//! A page for the browser tests: a pool of two workers, driven by events and writing down what it hears.
//!
//! The event `pool` on the window carries `post WORKER BYTE` or `restart WORKER`. Every [`PoolEvent`]
//! becomes a list entry in the body. A message that begins with [`RESTART`] makes the callback itself
//! restart the worker, which is the hardest place to do it from.

use std::cell::OnceCell;
use std::rc::Rc;

use super::write;
use page::pool::{OnEvent, Pool, PoolEvent};
use wasm_bindgen::prelude::{Closure, JsCast};
use web_sys::CustomEvent;

const RESTART: u8 = 9;

/// Starts the pool and obeys.
pub fn begin() {
    let window = web_sys::window().expect("this runs in a page");
    let document = window.document().expect("a page has a document");

    let place: Rc<OnceCell<Pool>> = Rc::default();
    let own = Rc::clone(&place);
    let on_event: OnEvent = Rc::new(move |event| match event {
        PoolEvent::Message { worker, bytes } => {
            write(&document, &format!("message {worker} {bytes:?}"));
            if bytes.first() == Some(&RESTART) {
                own.get()
                    .expect("no event before the start")
                    .restart(worker);
            }
        }
        PoolEvent::Died { worker, reason } => write(&document, &format!("died {worker} {reason}")),
    });
    let url = window.location().search().expect("a page has an address");
    let url = url.trim_start_matches('?');
    let pool = place.get_or_init(|| Pool::start(2, url, on_event)).clone();

    let obey = Closure::<dyn Fn(CustomEvent)>::new(move |event: CustomEvent| {
        let command = event.detail().as_string().expect("a command is a text");
        let words: Vec<&str> = command.split(' ').collect();
        let number = |at: usize| words[at].parse::<usize>().expect("a number");
        match words[0] {
            "post" => pool.post(number(1), &[number(2) as u8]),
            "restart" => pool.restart(number(1)),
            other => panic!("unknown command {other}"),
        }
    });
    window
        .add_event_listener_with_callback("pool", obey.as_ref().unchecked_ref())
        .expect("a listener");
    obey.forget();
}
