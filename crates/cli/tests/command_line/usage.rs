//! Wrong arguments end with code 2, and help and version with 0.

use crate::support::{BEETLES, demo, run};

#[test]
fn wrong_arguments_end_with_code_2_and_say_what_is_wrong() {
    let file = demo(BEETLES);
    for (arguments, words) in [
        (vec![], "Usage"),
        (vec!["guess"], "guess"),
        (vec!["answer"], "SCENARIO"),
        (vec!["answer", &file, "--sede", "1"], "--sede"),
        (vec!["answer", &file, "--seed", "-1"], "-1"),
        (vec!["answer", &file, "--seed", "1.5"], "1.5"),
        (vec!["answer", &file, "--replicates", "many"], "many"),
        (vec!["answer", &file, "--threads", "0"], "--threads is 0"),
        (vec!["curve", &file, "--over", "birds=1..3"], "birds"),
        (vec!["curve", &file, "--over", "sites=9..3"], "empty"),
        (vec!["curve", &file, "--over", "sites=3..9:0"], "empty"),
        (vec!["curve", &file, "--over", "sites"], "no '='"),
        (vec!["curve", &file, "--over", "sites=2.5"], "2.5"),
        (vec!["premises", &file, "--column", "site"], "ROLE=HEADER"),
        (vec!["premises", &file, "--column", "plot=x"], "plot=x"),
        (vec!["premises", &file, "--site-year", "maybe"], "maybe"),
        (
            vec!["premises", &file, "--day-first", "--month-first"],
            "--month-first",
        ),
    ] {
        let done = run(&arguments);
        assert_eq!((done.code, done.out.as_str()), (2, ""), "{arguments:?}");
        assert!(done.err.contains(words), "{words:?} in {}", done.err);
    }
}

#[test]
fn replicates_out_of_bounds_are_refused_with_the_bound() {
    let file = demo(BEETLES);
    for wrong in ["0", "100001"] {
        run(&["answer", &file, "--replicates", wrong])
            .refused(&[&format!("replicates is {wrong}"), "1 to 100000"]);
    }
}

#[test]
fn help_names_every_command() {
    let text = run(&["--help"]).answered();
    for command in ["answer", "curve", "least", "premises", "schema"] {
        assert!(text.contains(command), "{command}");
    }
    assert!(run(&["--version"]).answered().starts_with("leastcatch "));
}
