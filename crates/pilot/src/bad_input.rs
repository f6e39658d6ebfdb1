//! Tests: what is refused, with which words, and what thin files still tell.

use super::{Columns, Options, PilotError, PilotPremises, Problem, Role, SiteYear, premises};
use survey::scenario::Source;

fn options() -> Options {
    Options {
        file: "p.csv".into(),
        ..Options::default()
    }
}

fn refused(text: &str) -> Vec<PilotError> {
    premises(text.as_bytes(), &options()).unwrap_err()
}

fn told(text: &str) -> PilotPremises {
    premises(text.as_bytes(), &options()).unwrap()
}

#[track_caller]
fn says(errors: &[PilotError], message: &str) {
    let found: Vec<String> = errors.iter().map(ToString::to_string).collect();
    assert!(found.iter().any(|e| e.contains(message)), "{found:#?}");
}

#[track_caller]
fn notes(p: &PilotPremises, words: &str) {
    assert!(p.notes.iter().any(|n| n.contains(words)), "{:#?}", p.notes);
}

/// Four sites, three traps, five weeks of one year; `count` gives each count.
fn table(header: &str, row: impl Fn(usize, usize, usize) -> String) -> String {
    let mut text = format!("{header}\n");
    for site in 0..4 {
        for trap in 0..3 {
            for week in 20..25 {
                text.push_str(&row(site, trap, week));
                text.push('\n');
            }
        }
    }
    text
}

fn count(site: usize, trap: usize, week: usize) -> usize {
    (site * 7 + trap * 5 + week * 11 + site * trap * week) % 9
}

fn plain() -> String {
    table("site,trap,year,week,count", |s, t, w| {
        format!("S{s},{t},2024,{w},{}", count(s, t, w))
    })
}

#[test]
fn a_cell_is_named_with_file_row_column_value_and_remedy() {
    let text = "# invented\nsite,trap,year,week,count\nA,1,2024,20,50+\nA,2,2024,20,1\n";
    assert_eq!(
        refused(text)[0].to_string(),
        "p.csv, row 3, column count, value \"50+\": a bound or an estimate is not a count: give the number counted, or leave the cell empty for not counted"
    );
}

#[test]
fn twenty_errors_and_how_many_more() {
    let text = table("site,count", |s, _, _| format!("S{s},many"));
    let errors = refused(&text);
    assert_eq!(errors.len(), 21);
    assert_eq!(
        errors[20].to_string(),
        "p.csv: and 40 more like these: correct them and read the file again"
    );
}

#[test]
fn cells_that_are_refused() {
    let one = |row: &str, p: Problem| {
        let text = format!("site,trap,date,effort,taxon,count\nA,1,2024-05-06,1,x,2\n{row}\n");
        let e = refused(&text);
        assert_eq!((e[0].row, &e[0].problem), (Some(3), &p), "{row}: {}", e[0]);
    };
    one("A,2,2024-05-06,0,x,2", Problem::Effort);
    one("A,2,2024-05-06,,x,2", Problem::Effort);
    one("A,2,2024-05-06,0,x,0", Problem::Effort);
    one("A,2,2024-05-06,1,,2", Problem::NoTaxon);
    one("A,2,45123,1,x,2", Problem::DateSerial);
    one("A,2,2024-05,1,x,2", Problem::DatePartial);
    one("A,2,2024-02-30,1,x,2", Problem::DateImpossible);
    one("A,2,03/04/2024,1,x,2", Problem::DayOrMonth);
    one("A,,2024-05-06,1,x,2", Problem::Blank { role: Role::Trap });
    one(",2,2024-05-06,1,x,2", Problem::Blank { role: Role::Site });
    one("Total,2,2024-05-06,1,x,2", Problem::Totals);
    one("A,1,2024-05-06,1,x,2", Problem::Duplicate { other: 2 });
    one("A,1,2024-05-06,1,x,5", Problem::Duplicate { other: 2 });
    one("A,1,2024-05-06,2,y,5", Problem::EffortAtOdds { other: 2 });
    one("A,2,2024-05-06,1,x", Problem::Fields { got: 5, want: 6 });
}

#[test]
fn days_of_setting_and_collecting() {
    let e = refused("site,trap,set,collected,n\nA,1,2024-05-13,2024-05-06,3\n");
    says(
        &e,
        "collected on 2024-05-06, not after the day of setting 2024-05-13",
    );
    let e = refused("site,year,date,n\nA,2023,2024-05-06,3\n");
    assert_eq!(e[0].problem, Problem::YearAtOdds { year: 2024 });
    let e = refused("site,date,n\nA,13/05/2024,3\nA,05/14/2024,3\n");
    assert_eq!(e[0].problem, Problem::DatesMixed { other: 3 });
}

#[test]
fn day_first_as_told_or_shown() {
    let text = table("site,trap,date,n", |s, t, w| {
        format!("S{s},{t},0{}/05/2024,{}", w - 19, count(s, t, w))
    });
    let e = premises(text.as_bytes(), &options()).unwrap_err();
    assert_eq!(e[0].problem, Problem::DayOrMonth);
    let mut o = options();
    o.day_first = Some(true);
    let p = premises(text.as_bytes(), &o).unwrap();
    assert_eq!((p.counts.weeks, p.counts.years), (1, 1));
    notes(
        &p,
        "Dates are read as day, month, year (as set in the options).",
    );
    o.day_first = Some(false);
    assert_eq!(premises(text.as_bytes(), &o).unwrap().counts.weeks, 5);
}

#[test]
fn columns_are_asked_for() {
    let e = refused("site,trap,n,ticks\nA,1,2,3\n");
    says(
        &e,
        "more than one column could be the count: n, ticks. Rename the others in the file, or say which at the command line: --column count=n",
    );
    let mut o = options();
    o.columns = Columns {
        count: Some("ticks".into()),
        ..Columns::default()
    };
    let text = table("site,n,ticks", |s, t, w| {
        format!("S{s},x,{}", count(s, t, w))
    });
    let p = premises(text.as_bytes(), &o).unwrap();
    assert_eq!(p.target.name, "ticks");
}

#[test]
fn semicolons_decimal_commas_and_mixed_decimals() {
    let comma = table("\u{feff}Site;Trap;Year;Week;Trap_weeks;Count", |s, t, w| {
        format!("S{s};{t};2024;{w};0,5;{}\r", count(s, t, w))
    });
    let point = plain();
    let (half, whole) = (told(&comma), told(&point));
    let ratio = half.target.catch_per_trap_week.value / whole.target.catch_per_trap_week.value;
    assert!((ratio - 2.0).abs() < 1e-4, "{ratio}");
    notes(&half, "decimal commas");
    let e = refused("site;effort;n\nA;0,5;1\nA;0.5;1\n");
    assert_eq!(e[0].problem, Problem::MixedDecimals { other: 2 });
}

#[test]
fn effort_in_days_by_header_or_option() {
    let days = plain().replace("week,count", "week,trap_days,count");
    let days: String = days
        .lines()
        .map(|l| match l.rsplit_once(',') {
            Some((a, b)) if b != "count" => format!("{a},7,{b}\n"),
            _ => format!("{l}\n"),
        })
        .collect();
    let p = told(&days);
    let close = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-9, "{a} {b}");
    let want = told(&plain()).target.catch_per_trap_week.value;
    close(p.target.catch_per_trap_week.value, want);
    let mut o = options();
    o.effort_unit = super::EffortUnit::TrapDays;
    let p = premises(days.replace("trap_days", "effort").as_bytes(), &o).unwrap();
    close(p.target.catch_per_trap_week.value, want);
    notes(&p, "read as trap-days");
}

#[test]
fn zeros_are_added_and_counted_but_not_for_what_was_not_counted() {
    let mut text = table("site,trap,year,week,taxon,count", |s, t, w| {
        format!("S{s},{t},2024,{w},beetles,{}", count(s, t, w))
    });
    text.push_str("S0,0,2024,20,bees,3\nS1,0,2024,20,bees,4\nS2,0,2024,20,bees,NA\n");
    // A lost trap, a lost trap without its week, and a sample with nothing in it.
    text.push_str("S0,3,2024,20,,\nS0,3,2024,,,\nS0,4,2024,20,,0\n");
    let p = told(&text);
    let bees = &p.bycatch[0];
    assert_eq!((bees.name.as_str(), bees.animals), ("bees", 7.0));
    // 60 samples less the one not counted, and the empty one.
    assert_eq!(bees.rows, 60);
    assert_eq!(p.target.rows, 61);
    assert_eq!(p.counts.zeros_added, 57);
    assert_eq!((p.counts.samples, p.counts.not_counted), (61, 3));
    notes(&p, "bees: 57 zeros added");
}

#[test]
fn zeros_of_lost_traps_are_pointed_out() {
    let text = plain().replace("week,count", "week,count,remarks");
    let text: String = text
        .lines()
        .enumerate()
        .map(|(i, l)| match i {
            0 => format!("{l}\n"),
            1 => "S0,0,2024,20,0,trap lost\n".to_owned(),
            _ => format!("{l},\n"),
        })
        .collect();
    notes(
        &told(&text),
        "1 row with a count of 0 beside a word such as lost",
    );
}

#[test]
fn replicates_without_trap_or_time_are_samples() {
    let text = table("site,year,count", |s, t, w| {
        format!("S{s},2024,{}", count(s, t, w))
    });
    let p = told(&text);
    assert_eq!((p.target.rows, p.counts.samples), (60, 60));
    assert_eq!(p.target.season_peak_week, None);
    notes(&p, "the file tells no weeks");
}

#[test]
fn one_year_cannot_tell_years() {
    let p = told(&plain());
    for e in [p.target.year_sd, p.target.site_year_sd, p.target.trap_sd] {
        assert_eq!(e.source, Source::CommonPractice);
    }
    assert_eq!(p.target.site_sd.source, Source::Pilot);
    notes(&p, "one year: the SD of years is common practice");
}

#[test]
fn one_site_one_visit_and_one_count_a_site() {
    let text: String = (0..6).fold("site,trap,year,week,n\n".into(), |t, i| {
        t + &format!("A,{i},2024,20,{}\n", [3, 9, 1, 0, 14, 6][i])
    });
    let p = told(&text);
    assert_eq!(p.target.site_sd.source, Source::CommonPractice);
    assert_eq!(p.target.dispersion_k.source, Source::Pilot);
    notes(&p, "one site:");
    notes(&p, "1 different weeks are too few for a season");
    let text: String = (0..6).fold("site,n\n".into(), |t, i| {
        t + &format!("S{i},{}\n", [3, 9, 1, 0, 14, 6][i])
    });
    notes(&told(&text), "one count for each site");
    says(
        &refused("site,n\nA,3\nB,1\n"),
        "n has 2 counts: at least 3 are needed",
    );
}

#[test]
fn nothing_caught_or_counted() {
    let text = table("site,trap,year,week,count", |s, t, w| {
        format!("S{s},{t},2024,{w},0")
    });
    says(
        &refused(&text),
        "every count of count is 0 in 60.0 trap-weeks",
    );
    let text = table("site,trap,year,week,count", |s, t, w| {
        format!("S{s},{t},2024,{w},NA")
    });
    says(&refused(&text), "not one row has a count");
    let mut o = options();
    o.target = Some("wasps".into());
    let text = "site,taxon,n\nA,bees,3\nA,ants,4\nB,bees,1\n";
    says(
        &premises(text.as_bytes(), &o).unwrap_err(),
        "the target \"wasps\" is not in the file; its groups are ants, bees",
    );
}

#[test]
fn less_spread_than_poisson_is_told() {
    let text = table("site,trap,year,week,count", |s, t, w| {
        format!("S{s},{t},2024,{w},{}", 5 + (s + t + w) % 2)
    });
    let p = told(&text);
    assert_eq!(p.target.dispersion_k.value, 100_000.0);
    notes(&p, "no more spread than Poisson");
}

#[test]
fn one_dominant_catch_is_told() {
    let text = table("site,trap,year,week,count", |s, t, w| {
        let n = if (s, t, w) == (1, 1, 22) {
            900
        } else {
            count(s, t, w)
        };
        format!("S{s},{t},2024,{w},{n}")
    });
    notes(&told(&text), "one count of 900 is more than half of all");
}

#[test]
fn rare_bycatch_comes_from_totals() {
    let mut text = table("site,trap,year,week,taxon,count", |s, t, w| {
        format!("S{s},{t},2024,{w},beetles,{}", count(s, t, w))
    });
    text.push_str("S0,0,2024,20,newts,0\nS0,0,2024,21,mice,2\n");
    let p = told(&text);
    let (mice, newts) = (&p.bycatch[0], &p.bycatch[1]);
    assert_eq!(newts.catch_per_trap_week.value, 0.0);
    // Means over sites and years become medians: common practice SDs .6 and .2, exp(-(.36 + .04)/2).
    let median = numerics::maths::exp(-0.2);
    assert!((newts.catch_per_trap_week.high.unwrap() - 3.0 / 60.0 * median).abs() < 1e-12);
    assert!((mice.catch_per_trap_week.value - 2.0 / 60.0 * median).abs() < 1e-12);
    // No season can be told from two mice: a flat one, so that no week's catch is lost from the toll.
    assert_eq!(
        (
            mice.season_width_weeks.value,
            mice.season_width_weeks.source
        ),
        (60.0, Source::Guess)
    );
    assert_eq!(mice.dispersion_k.source, Source::CommonPractice);
    notes(&p, "none caught does not mean none there");
}

#[test]
fn names_that_differ_in_case_are_pointed_out() {
    let text = plain().replace("S3,2", "s3,2");
    notes(&told(&text), "Sites S3 and s3 are taken as different");
}

#[test]
fn site_year_needs_several_years_and_counts() {
    let mut o = options();
    o.site_year = SiteYear::On;
    let p = premises(plain().as_bytes(), &o).unwrap();
    assert_eq!(p.target.site_year_sd.source, Source::CommonPractice);
    notes(
        &p,
        "without several years the SD of a site's own year is common practice",
    );
}

#[test]
fn the_order_of_rows_does_not_matter() {
    let text = plain();
    let mut lines: Vec<&str> = text.lines().collect();
    lines[1..].reverse();
    assert_eq!(told(&lines.join("\n")), told(&text));
}

#[test]
fn no_text_makes_it_panic() {
    for text in [
        "",
        "\n\n",
        "site,n",
        "site,n\n",
        ",\n,\n",
        "site,n\nA,1\n",
        "\"",
        "site,n\n\"A,1\n",
        "sep=;\n",
        "#",
        "site;n\nA;1\nA;2\nA;3\n",
        "site,n\nA,0\nA,0\nA,9\n",
        "site,week,n\nA,1,5\nA,53,5\nA,20,1\nA,30,7\nB,2,2\n",
        "site,year,week,n\nA,2020,1,5\nA,2021,2,5\nA,2022,3,1\nA,2023,4,7\n",
    ] {
        let _ = premises(text.as_bytes(), &options());
    }
}
