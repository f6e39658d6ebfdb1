//! The tables of times and of log likelihoods, in Markdown.

use super::{Line, OURS};

/// What is timed: its name in the lines and in the table.
const TASKS: &[(&str, &str)] = &[
    ("a", "a: Poisson, 20 sites x 6 years"),
    ("b", "b: NB2, 30 x 10"),
    ("c", "c: NB2 with site by year, 1440 samples"),
    ("d", "d: Poisson on a gradient, 40 x 8"),
    ("e", "e: binomial, 30 x 8"),
    ("ticks", "open tick counts: NB2, 403 chicks"),
    ("200 surveys", "draw and fit 200 surveys of set b"),
    ("curve", "curve of set b: 6 plans x 2000 surveys"),
];
/// The task that a peer's curve is reckoned from, with the surveys of each.
const RECKONED: (&str, &str, f64) = ("curve", "200 surveys", 12_000.0 / 200.0);

/// Times of all peers with their ratio to ours, log likelihoods less ours, versions, and what is missing.
pub(super) fn tables(lines: &[Line], machine: &str) -> String {
    let mut out = vec![
        format!(
            "{machine}; {}. Milliseconds of processor time on one thread, median of several calls (times ours).",
            versions(lines)
        ),
        String::new(),
    ];
    out.extend(pivot(lines, &|peer, task| time(lines, peer, task)));
    out.extend([
        String::new(),
        "Log likelihood at the optimum, less ours.".into(),
        String::new(),
    ]);
    out.extend(pivot(lines, &|peer, task| difference(lines, peer, task)));
    let missing = lines.iter().filter_map(|line| match line {
        Line::Missing { missing, install } => {
            Some(format!("Not installed: {missing} ({install})."))
        }
        _ => None,
    });
    let missing: Vec<String> = missing.collect();
    if !missing.is_empty() {
        out.push(String::new());
        out.extend(missing);
    }
    out.join("\n")
}

/// A table with a row for each task that anybody did and a column for each peer, ours first.
fn pivot(lines: &[Line], cell: &dyn Fn(&str, &str) -> String) -> Vec<String> {
    let mut peers: Vec<&str> = Vec::new();
    for line in lines {
        if let Line::Measured { peer, .. } = line
            && !peers.contains(&peer.as_str())
        {
            peers.push(peer);
        }
    }
    let mut rows = vec![
        format!("| fit | {} |", peers.join(" | ")),
        format!("|---|{}", "---:|".repeat(peers.len())),
    ];
    for (task, name) in TASKS {
        let cells: Vec<String> = peers.iter().map(|peer| cell(peer, task)).collect();
        if cells.iter().any(|c| !c.is_empty()) {
            rows.push(format!("| {name} | {} |", cells.join(" | ")));
        }
    }
    rows
}

/// Milliseconds and log likelihood of a peer's task.
fn found(lines: &[Line], who: &str, what: &str) -> Option<(f64, Option<f64>)> {
    lines.iter().find_map(|line| match line {
        Line::Measured {
            peer,
            set,
            ms,
            log_likelihood,
            ..
        } if peer == who && set == what => Some((*ms, *log_likelihood)),
        _ => None,
    })
}

fn time(lines: &[Line], peer: &str, task: &str) -> String {
    let measured = found(lines, peer, task).map(|(ms, _)| (ms, ""));
    let (curve, from, times) = RECKONED;
    let reckoned = || {
        let (ms, _) = found(lines, peer, from).filter(|_| task == curve)?;
        Some((ms * times, "about "))
    };
    let Some((ms, about)) = measured.or_else(reckoned) else {
        return String::new();
    };
    match found(lines, OURS, task) {
        Some((ours, _)) if peer != OURS => {
            format!("{about}{} ({})", number(ms), number(ms / ours))
        }
        _ => format!("{about}{}", number(ms)),
    }
}

fn difference(lines: &[Line], peer: &str, task: &str) -> String {
    let (Some((_, Some(theirs))), Some((_, Some(ours)))) =
        (found(lines, peer, task), found(lines, OURS, task))
    else {
        return String::new();
    };
    if peer == OURS {
        return format!("{ours:.6}");
    }
    format!("{:+.1e}", theirs - ours)
}

fn versions(lines: &[Line]) -> String {
    let named = lines.iter().filter_map(|line| match line {
        Line::Version { version, is } => Some(format!("{version} {is}")),
        _ => None,
    });
    named.collect::<Vec<_>>().join(", ")
}

/// Two digits that count, thousands apart.
fn number(value: f64) -> String {
    let rounded: f64 = format!("{value:.1e}").parse().unwrap_or(value);
    match rounded {
        v if v >= 10.0 => thousands(v as u64),
        v if v >= 1.0 => format!("{v:.1}"),
        v if v >= 0.1 => format!("{v:.2}"),
        v => format!("{v:.3}"),
    }
}

fn thousands(whole: u64) -> String {
    let text = whole.to_string();
    let mut out = String::new();
    for (i, digit) in text.chars().enumerate() {
        if i > 0 && (text.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measured(peer: &str, set: &str, ms: f64, log_likelihood: Option<f64>) -> Line {
        Line::Measured {
            peer: peer.into(),
            set: set.into(),
            ms,
            calls: 5,
            log_likelihood,
        }
    }

    #[test]
    fn numbers_have_two_digits_that_count() {
        for (value, text) in [
            (0.0412, "0.041"),
            (0.41, "0.41"),
            (1.26, "1.3"),
            (9.96, "10"),
            (83.4, "83"),
            (348.0, "350"),
            (68_412.0, "68,000"),
            (4_104_000.0, "4,100,000"),
        ] {
            assert_eq!(number(value), text);
        }
    }

    #[test]
    fn times_ratios_differences_and_what_is_missing() {
        let lines = [
            measured(OURS, "b", 0.5, Some(-945.25)),
            measured(OURS, "200 surveys", 100.0, None),
            measured(OURS, "curve", 6000.0, None),
            measured("glmmTMB", "b", 350.0, Some(-945.25 + 2e-6)),
            measured("glmmTMB", "200 surveys", 70_000.0, None),
            measured("statsmodels", "b", 5.0, None),
            Line::Version {
                version: "R".into(),
                is: "4.2.2".into(),
            },
            Line::Missing {
                missing: "lme4".into(),
                install: "apt-get install r-cran-lme4".into(),
            },
        ];
        let text = tables(&lines, "A Processor 9, 2 cores");
        for wanted in [
            "A Processor 9, 2 cores; R 4.2.2.",
            "| fit | ours | glmmTMB | statsmodels |",
            "| b: NB2, 30 x 10 | 0.50 | 350 (700) | 5.0 (10) |",
            "| draw and fit 200 surveys of set b | 100 | 70,000 (700) |  |",
            // Nobody waits for a peer's curve: it is reckoned from its 200 surveys, and says so.
            "| curve of set b: 6 plans x 2000 surveys | 6,000 | about 4,200,000 (700) |  |",
            "| b: NB2, 30 x 10 | -945.250000 | +2.0e-6 |  |",
            "Not installed: lme4 (apt-get install r-cran-lme4).",
        ] {
            assert!(text.contains(wanted), "{wanted:?} in\n{text}");
        }
        assert!(!text.contains("a: Poisson"), "nobody did it:\n{text}");
    }

    #[test]
    fn without_peers_ours_stand_alone() {
        let text = tables(&[measured(OURS, "a", 0.2, Some(-1.0))], "machine");
        assert!(text.contains("| fit | ours |") && text.contains("| 0.20 |"));
        assert!(!text.contains("Not installed"));
    }
}
