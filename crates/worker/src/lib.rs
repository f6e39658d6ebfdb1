//! The engine in a web worker: bytes come in, the engine answers, bytes go out.
//!
//! The worker speaks first: once it can answer, it posts [`engine::host::ready`]. What is posted to it
//! before may be lost, so the page waits. A message that is not a `Uint8Array`, and a panic in the
//! engine, end the worker: an exception leaves the message loop, the page sees it as the `error` event
//! of its `Worker`, with the reason, and throws the worker away.
//!
//! Architecture invariant: no statistics and no knowledge of what the bytes mean.

use std::panic;

use engine::host::{self, Host};
use js_sys::{Array, Uint8Array};
use wasm_bindgen::prelude::{Closure, JsCast};
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent};

/// The worker that this program runs in, if it runs in one.
pub fn here() -> Option<DedicatedWorkerGlobalScope> {
    js_sys::global().dyn_into().ok()
}

/// Answers what the page posts, as long as the worker lasts.
pub fn serve(scope: &DedicatedWorkerGlobalScope) {
    // The panic's text becomes the exception, so that the page learns the reason and not only that
    // something unreachable was reached. Nothing runs in this worker after that.
    panic::set_hook(Box::new(|info| {
        wasm_bindgen::throw_str(&info.to_string());
    }));

    let answering = scope.clone();
    let mut host = Host::new();
    let answer = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let Ok(message) = event.data().dyn_into::<Uint8Array>() else {
            wasm_bindgen::throw_str("a message to the worker is not a Uint8Array");
        };
        post(&answering, &host.handle(&message.to_vec()));
    });
    scope.set_onmessage(Some(answer.as_ref().unchecked_ref()));
    // The message loop lasts as long as the worker does.
    answer.forget();

    post(scope, &host::ready());
}

/// Posts the bytes to the page, handing over their buffer instead of copying it once more.
fn post(scope: &DedicatedWorkerGlobalScope, bytes: &[u8]) {
    let array = Uint8Array::from(bytes);
    let handed_over = Array::of1(&array.buffer());
    if let Err(error) = scope.post_message_with_transfer(&array, &handed_over) {
        wasm_bindgen::throw_val(error);
    }
}
