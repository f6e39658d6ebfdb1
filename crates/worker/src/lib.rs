//! The engine in a web worker: a message loop only.
