//! `own`: a scenario without what was invented for a demonstration.

use crate::support::{BEETLES, Folder, PILOT, demo, run};

#[test]
fn a_scenario_of_ones_own_is_written_beside_the_demo_and_runs() {
    let folder = Folder::new("own");
    let path = folder.path("mine.json");
    let told = run(&["own", &demo(BEETLES), &path, "--title", "Our hay"]).answered();
    assert!(told.contains("5 premises were invented"), "{told}");
    assert!(told.contains("shrews"), "{told}");
    let written = std::fs::read_to_string(&path).expect("a scenario");
    assert!(written.contains("\"title\": \"Our hay\"") && !written.contains("invented"));
    let mixed = folder.changed(BEETLES, |_| ());
    let still = "still holds premises that are invented";
    for (into, expected) in [(&path, false), (&mixed, true)] {
        let told = run(&["premises", &demo(PILOT), "--into", into]).answered();
        assert_eq!(told.contains(still), expected, "{told}");
    }
    let answer = run(&["answer", &path, "--json", "--replicates", "40"]).json();
    assert_eq!(answer["toll"]["bycatch"].as_array().map(Vec::len), Some(2));
    // What is there is somebody's.
    let again = run(&["own", &demo(BEETLES), &path, "--title", "Other"]);
    assert_eq!(again.code, 1);
    assert!(again.err.contains("exists already"), "{}", again.err);
}
