//! How far a long job is, for a person at a terminal: one line on standard error that is written over and wiped out at
//! the end. Where standard error is no terminal nothing is written.

use engine::Progress;
use paper::number::count;
use std::io::{IsTerminal, Write};
use std::time::{Duration, Instant};

/// Between two lines.
pub const EVERY: Duration = Duration::from_millis(500);
/// A job that is done sooner says nothing.
const AT_FIRST: Duration = Duration::from_secs(1);
/// To the beginning of the line, and nothing after it.
const WIPE: &str = "\r\x1b[K";

/// The line of one job.
pub struct Line {
    begun: Instant,
    written: bool,
    wanted: bool,
    /// Whether it is known from the first how many surveys there will be.
    known: bool,
}

impl Line {
    /// A job begins now, of which it is known how many surveys it simulates or (a search) not.
    pub fn new(known: bool) -> Self {
        Self {
            begun: Instant::now(),
            written: false,
            wanted: std::io::stderr().is_terminal(),
            known,
        }
    }

    /// Writes how far the job is, once it has taken a while.
    pub fn show(&mut self, progress: Progress) {
        let spent = self.begun.elapsed();
        if self.wanted && spent >= AT_FIRST {
            self.written = true;
            write(&format!("{WIPE}{}", told(progress, self.known, spent)));
        }
    }
}

impl Drop for Line {
    fn drop(&mut self) {
        if self.written {
            write(WIPE);
        }
    }
}

/// A line that cannot be written is no reason to stop.
fn write(text: &str) {
    let mut out = std::io::stderr().lock();
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}

/// The line: surveys simulated, and where their number is known their share and the time left at the pace so far.
fn told(progress: Progress, known: bool, spent: Duration) -> String {
    let Progress { done, total } = progress;
    if done == 0 || total == 0 {
        return "No survey simulated yet ...".into();
    }
    if !known {
        return format!("{} surveys simulated, searching ...", count(done as f64));
    }
    let share = (100 * done / total).min(100);
    let left = spent.as_secs_f64() / done as f64 * total.saturating_sub(done) as f64;
    let left = match left.ceil() as u64 {
        0 | 1 => "1 second".into(),
        seconds if seconds < 100 => format!("{seconds} seconds"),
        seconds => format!("{} minutes", seconds.div_ceil(60)),
    };
    format!("{share} % of the surveys simulated, about {left} left")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tells_how_far_and_how_long() {
        let after = |done, total, seconds| {
            told(Progress { done, total }, true, Duration::from_secs(seconds))
        };
        assert_eq!(after(0, 0, 3), "No survey simulated yet ...");
        assert_eq!(after(0, 9000, 3), "No survey simulated yet ...");
        assert_eq!(
            after(500, 2000, 4),
            "25 % of the surveys simulated, about 12 seconds left"
        );
        assert_eq!(
            after(1, 2000, 1),
            "0 % of the surveys simulated, about 34 minutes left"
        );
        assert_eq!(
            after(2000, 2000, 8),
            "100 % of the surveys simulated, about 1 second left"
        );
        let searched = |done| {
            told(
                Progress { done, total: 9000 },
                false,
                Duration::from_secs(3),
            )
        };
        assert_eq!(searched(0), "No survey simulated yet ...");
        assert_eq!(searched(4321), "4,321 surveys simulated, searching ...");
    }
}
