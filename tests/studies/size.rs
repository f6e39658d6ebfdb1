//! False alarms of every test, cell by cell: surveys in which nothing changes, analysed by each, and the share that
//! is significant all the same.
//!
//! Sites 10, 30, 100; years 5, 8, 10, 20; year SD 0, .1, .2, .4; dispersion k .5, 2 and Poisson; the mean catch of a
//! site-year is 12, the site SD .8. Nominal level .05, two-sided. The table goes to tests/reference/size/size.csv.
//!
//! Words: `--nulls N` (4000), `--threads N` (2), `--out FILE`.

#![allow(
    clippy::print_stderr,
    clippy::print_stdout,
    reason = "a study says how far it is"
)]

use leastcatch_tests::size_study::{Cell, cells, measure, write};
use std::sync::Mutex;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let word = |name: &str| {
        let at = words.iter().position(|w| w == name)?;
        words.get(at + 1).cloned()
    };
    let number = |name: &str, usual: u64| match word(name) {
        None => usual,
        Some(w) => w.parse().unwrap_or_else(|_| {
            eprintln!("{name} {w}: give a whole number");
            std::process::exit(2)
        }),
    };
    let nulls = number("--nulls", 4000);
    // A critical value is taken from nine tenths of them.
    if nulls < 250 {
        eprintln!("--nulls {nulls}: give at least 250");
        std::process::exit(2);
    }
    let threads = number("--threads", 2);
    let groups = cells();
    let next = Mutex::new(groups.iter().enumerate());
    let done = Mutex::new(vec![Vec::new(); groups.len()]);
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let Some((i, group)) = next.lock().unwrap().next() else {
                        return;
                    };
                    let rows = measure(group, nulls);
                    let Cell {
                        sites, years, k, ..
                    } = group[0];
                    eprintln!("{sites} sites, {years} years, k {k}");
                    done.lock().unwrap()[i] = rows;
                }
            });
        }
    });
    let rows: Vec<_> = done.into_inner().unwrap().into_iter().flatten().collect();
    let out = word("--out").map_or_else(
        || leastcatch_tests::path("reference/size/size.csv"),
        std::path::PathBuf::from,
    );
    write(&out, &rows).unwrap_or_else(|e| {
        eprintln!("{}: {e}", out.display());
        std::process::exit(1)
    });
    println!("{} cells of {nulls} nulls: {}", rows.len(), out.display());
}
