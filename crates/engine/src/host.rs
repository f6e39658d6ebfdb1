//! The engine as a worker sees it: bytes in, bytes out.

/// Runs chunks for one worker.
#[derive(Default)]
pub struct Host;

impl Host {
    /// A host that has been told nothing yet.
    pub fn new() -> Self {
        Self
    }

    /// Answers one message.
    pub fn handle(&mut self, message: &[u8]) -> Vec<u8> {
        message.to_vec()
    }
}

/// What a worker says first.
pub fn ready() -> Vec<u8> {
    Vec::new()
}
