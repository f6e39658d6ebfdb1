//! Runs the program and makes scenario files to run it on.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

pub const BEETLES: &str = "meadow-beetles.json";
pub const MOTHS: &str = "mountain-moths.json";
pub const OCCUPANCY: &str = "mountain-occupancy.json";
pub const BASELINE: &str = "orchard-baseline.json";
pub const PILOT: &str = "meadow-beetles-pilot.csv";

/// What the program did.
pub struct Done {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Done {
    /// Its output, when it did not complain.
    #[track_caller]
    pub fn answered(self) -> String {
        assert_eq!((self.code, self.err.as_str()), (0, ""), "{}", self.out);
        self.out
    }

    /// Its output as JSON.
    #[track_caller]
    pub fn json(self) -> Value {
        serde_json::from_str(&self.answered()).expect("JSON")
    }

    /// Checks that it refused, said nothing on standard output, and said all of `words` in one line.
    #[track_caller]
    pub fn refused(self, words: &[&str]) {
        assert_eq!((self.code, self.out.as_str()), (1, ""), "{}", self.err);
        let told = |line: &str| words.iter().all(|w| line.contains(w));
        assert!(self.err.lines().any(told), "{words:?} in {}", self.err);
    }
}

/// Runs the program with nothing to read from standard input.
pub fn run(arguments: &[&str]) -> Done {
    let done = Command::new(env!("CARGO_BIN_EXE_leastcatch"))
        .args(arguments)
        .stdin(Stdio::null())
        .output()
        .expect("the program runs");
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    Done {
        code: done.status.code().expect("an exit code"),
        out: text(done.stdout),
        err: text(done.stderr),
    }
}

/// Path of a file of the demonstration data.
pub fn demo(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo-data")
        .join(name);
    path.to_str().expect("a plain path").to_owned()
}

/// A demonstration scenario as JSON.
pub fn scenario(name: &str) -> Value {
    let text = std::fs::read_to_string(demo(name)).expect("a demo");
    serde_json::from_str(&text).expect("JSON")
}

/// A folder for one test, removed with it.
pub struct Folder(PathBuf);

impl Folder {
    pub fn new(test: &str) -> Self {
        let name = format!("leastcatch-cli-{}-{test}", std::process::id());
        let folder = std::env::temp_dir().join(name);
        std::fs::create_dir_all(&folder).expect("a folder");
        Self(folder)
    }

    pub fn path(&self, name: &str) -> String {
        let path = self.0.join(name);
        path.to_str().expect("a plain path").to_owned()
    }

    /// Writes a file and returns its path.
    pub fn file(&self, name: &str, text: &str) -> String {
        let path = self.path(name);
        std::fs::write(&path, text).expect("a file");
        path
    }

    /// Writes a demonstration scenario after a change to it.
    pub fn changed(&self, demo: &str, change: impl FnOnce(&mut Value)) -> String {
        let mut scenario = scenario(demo);
        change(&mut scenario);
        self.file("changed.json", &scenario.to_string())
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // What cannot be removed now is left to the system.
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// The number at a JSON pointer.
#[track_caller]
pub fn number(value: &Value, pointer: &str) -> f64 {
    let found = value.pointer(pointer).and_then(Value::as_f64);
    found.unwrap_or_else(|| panic!("no number at {pointer} of {value}"))
}

/// Checks a share: an estimate within its interval, over the replicates asked for.
#[track_caller]
pub fn assert_share(value: &Value, replicates: u64) {
    let (low, mid, high) = (
        number(value, "/low"),
        number(value, "/estimate"),
        number(value, "/high"),
    );
    assert!(0.0 <= low && low <= mid && mid <= high && high <= 1.0);
    assert!(low < high, "{value}");
    assert_eq!(value["replicates"], replicates);
}

/// Checks a number of animals with its interval.
#[track_caller]
pub fn assert_spread(value: &Value) {
    let (low, high) = (number(value, "/low"), number(value, "/high"));
    assert!(0.0 <= low && low <= high, "{value}");
    assert!(number(value, "/mean") > 0.0, "{value}");
}
