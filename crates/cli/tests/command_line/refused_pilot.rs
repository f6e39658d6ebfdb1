//! Pilot tables that are refused: each message names file, row, column and value.

use crate::support::{Folder, PILOT, demo, run};

/// The pilot with one line changed; lines are counted as a text editor counts them.
fn with_line(folder: &Folder, line: usize, change: impl Fn(&str) -> String) -> String {
    let text = std::fs::read_to_string(demo(PILOT)).expect("the pilot");
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    lines[line - 1] = change(&lines[line - 1]);
    folder.file("pilot.csv", &lines.join("\n"))
}

#[test]
fn a_count_that_is_no_count() {
    let folder = Folder::new("pilot-count");
    for wrong in ["many", "-3", "2.5", "50+"] {
        let path = with_line(&folder, 4, |l| l.replace(",20,", &format!(",{wrong},")));
        let value = format!("value \"{wrong}\"");
        run(&["premises", &path]).refused(&["pilot.csv", "row 4", "column count", &value]);
    }
}

#[test]
fn a_day_that_is_none() {
    let folder = Folder::new("pilot-day");
    let path = with_line(&folder, 5, |l| l.replace("2023-05-09", "2023-02-30"));
    run(&["premises", &path]).refused(&[
        "pilot.csv",
        "row 5",
        "column collected",
        "value \"2023-02-30\"",
    ]);
}

#[test]
fn a_column_that_is_missing() {
    let folder = Folder::new("pilot-column");
    let path = with_line(&folder, 3, |l| l.replace("count", "many"));
    run(&["premises", &path]).refused(&["pilot.csv", "count"]);
}

#[test]
fn files_that_are_no_table() {
    let folder = Folder::new("pilot-none");
    run(&["premises", &folder.path("missing.csv")]).refused(&["missing.csv"]);
    let empty = folder.file("empty.csv", "");
    run(&["premises", &empty]).refused(&["empty.csv"]);
    let scenario = demo(crate::support::BEETLES);
    run(&["premises", &scenario]).refused(&["meadow-beetles.json"]);
}
