//! What limits a plan, in words and as bars.

mod names;
#[cfg(test)]
mod tests;

pub use names::{KINDS, kind, name};

use crate::number::{percent, plain};
use crate::sentences::{smallest_name, smallest_preview};
use figures::{ShareBar, ShareBars, Table};
use names::{dropped, no_floor, remedy};
use survey::limiting::{FEWEST_SITES, Limiting, MOST_YEARS, Measure, Part, Source};
use survey::scenario::{Effect, Scenario};

/// Where the formulas come from.
pub const SOURCES: &str = "Variance of a slope and what years leave of it: Larsen et al. 2001 (BioScience 51:1069), Urquhart, Paulsen & Larsen 1998 (Ecological Applications 8:246). Independent traps: n/(1 + (m - 1) ICC) with m traps at a site (Kish 1965, Survey Sampling). All by closed form: no survey is simulated here.";

/// Why an inventory has no such bars.
pub const NOT_TOLD: &str = "What limits an inventory is how many species are still to come, which no variance tells: see what the pilot's species list says of it.";

/// How the bars are meant.
pub fn meaning(l: &Limiting) -> String {
    let what = match l.measure {
        Measure::Variance => {
            "A bar is the part by which the doubt (the variance of the estimate) falls when that source alone is taken away, at the same mean catch."
        }
        Measure::SmallestDensity => {
            "A bar is the part by which the smallest density that finding none excludes falls when that source alone is taken away. What remains is that few animals may be missed by chance."
        }
    };
    let sum = match l.measure {
        Measure::Variance if l.additive => " The bars are parts of a whole.".to_string(),
        Measure::Variance => format!(
            " The sources act on each other, so that the bars need not make a whole: they add up to {}.",
            percent(l.sum)
        ),
        Measure::SmallestDensity => String::new(),
    };
    format!("{what}{sum}")
}

/// A share in words: "two thirds".
fn fraction(share: f64) -> String {
    let near = |low: f64, high: f64| (low..high).contains(&share);
    let words = if share >= 0.95 {
        "Nearly all"
    } else if near(0.72, 0.78) {
        "Three quarters"
    } else if near(0.64, 0.70) {
        "Two thirds"
    } else if near(0.47, 0.53) {
        "Half"
    } else if near(0.31, 0.36) {
        "A third"
    } else if near(0.23, 0.27) {
        "A quarter"
    } else {
        return percent(share);
    };
    words.into()
}

fn with_share(l: &Limiting) -> Vec<(&Part, f64)> {
    let parts = l.parts.iter();
    parts.filter_map(|p| Some((p, p.share?))).collect()
}

/// The smallest change in words; "none" when there is none.
fn change(s: &Scenario, value: Option<f64>) -> String {
    let told = value.and_then(|v| smallest_preview(s, v));
    told.map_or("none".into(), |t| t.value)
}

/// All that is said of it, the plainest first.
pub fn sentences(s: &Scenario, l: &Limiting) -> Vec<String> {
    let mut lines = largest(l);
    lines.extend(floor(s, l));
    lines.extend(traps(s, l));
    lines.extend(clusters(s, l));
    let losses = l.losses.and_then(|p| Some((p.share?, p)));
    if let Some((share, losses)) = losses.filter(|(share, _)| *share >= 0.005) {
        lines.push(format!(
            "Were nothing lost, late or given up, {} would be {} smaller ({} {} instead of {}).",
            doubt(l),
            percent(share),
            smallest_name(s),
            change(s, losses.smallest_without),
            change(s, l.smallest)
        ));
    }
    let out = with_share(l)
        .into_iter()
        .filter(|(_, share)| *share < 0.0005);
    let out: Vec<String> = out.map(|(p, _)| dropped(s, p.source)).collect();
    if !out.is_empty() {
        lines.push(format!("No part of it: {}.", out.join("; ")));
    }
    lines
}

fn doubt(l: &Limiting) -> &'static str {
    match l.measure {
        Measure::Variance => "the doubt",
        Measure::SmallestDensity => "the smallest density that finding none excludes",
    }
}

fn largest(l: &Limiting) -> Vec<String> {
    let parts = with_share(l);
    let Some(&(first, share)) = parts.first().filter(|(_, share)| *share >= 0.0005) else {
        return Vec::new();
    };
    let whole = l.additive && l.measure == Measure::Variance;
    let mut lines = vec![if whole {
        format!(
            "{} of the doubt comes from {}: {}.",
            fraction(share),
            name(first.source),
            remedy(first.source)
        )
    } else {
        format!(
            "Without {} {} would be {} smaller: {}.",
            name(first.source),
            doubt(l),
            percent(share),
            remedy(first.source)
        )
    }];
    if let Some(&(second, share)) = parts.get(1).filter(|(_, share)| *share >= 0.1) {
        lines.push(if whole {
            format!(
                "Another {} comes from {}: {}.",
                percent(share),
                name(second.source),
                remedy(second.source)
            )
        } else {
            format!(
                "Without {} it would be {} smaller: {}.",
                name(second.source),
                percent(share),
                remedy(second.source)
            )
        });
    }
    lines
}

fn floor(s: &Scenario, l: &Limiting) -> Option<String> {
    if let Some(why) = l.no_floor {
        return Some(no_floor(why).into());
    }
    let floor = l.floor.as_ref()?;
    let years = s.plan.years;
    let needed = match floor.years_needed {
        Some(n) if n == years => "no fewer would do".to_string(),
        Some(n) => format!("the fewest years in which they could are {n}"),
        None => format!("nor would {MOST_YEARS} years be enough"),
    };
    let Some(at) = floor.smallest.and_then(|v| smallest_preview(s, v)) else {
        return Some(format!(
            "In {years} years no number of traps and sites finds any change with the wanted power; {needed}."
        ));
    };
    let a_year = floor.percent_a_year.map_or(String::new(), |p| {
        format!(", that is {} % a year", plain((p * 10.0).round() / 10.0))
    });
    let what = match s.question.effect {
        Effect::NoWorse(_) => "can claim a margin",
        _ => "finds a fall",
    };
    let wanted = change(s, Some(l.wanted));
    let verdict = if floor.reached {
        format!("The wanted {wanted} lies above that floor; {needed}.")
    } else {
        format!(
            "The wanted {wanted} lies below that floor: more traps and sites cannot find it in {years} years; {needed}."
        )
    };
    let alike = if s.premises.departures.correlation_length_km.value > 0.0 {
        format!(
            " Sites that are alike by their distance are part of it, taken at {} of them.",
            FEWEST_SITES.max(s.plan.sites)
        )
    } else {
        String::new()
    };
    Some(format!(
        "No number of traps and sites {what} of less than {} {}{a_year}, in {years} years of trapping: good and bad years look like a change. {verdict}{alike}",
        at.value, at.of
    ))
}

fn traps(s: &Scenario, l: &Limiting) -> Option<String> {
    let with = l.unlimited_traps?;
    let now = l.smallest?;
    let (name, sites) = (smallest_name(s), s.plan.most_sites_in_a_year());
    Some(format!(
        "With unlimited traps at the same {sites} sites the {name} would be {} instead of {}.",
        change(s, Some(with)),
        change(s, Some(now))
    ))
}

fn count(n: f64) -> String {
    if n < 9.95 {
        plain((n * 10.0).round() / 10.0)
    } else {
        format!("{n:.0}")
    }
}

fn clusters(s: &Scenario, l: &Limiting) -> Vec<String> {
    let Some(c) = &l.clustering else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    if c.traps_per_site > 1 {
        lines.push(format!(
            "For how much is caught in a year the {} traps count as {} independent ones: the {} traps of a site have {} of their variance in common (on the log scale).",
            c.traps,
            count(c.level.effective),
            c.traps_per_site,
            percent(c.level.icc)
        ));
        if let Some(change) = &c.change {
            lines.push(format!(
                "For how the catch changes, where sites are their own controls, they count as {} ({} in common).",
                count(change.effective),
                percent(change.icc)
            ));
        }
    } else {
        lines
            .push("With one trap at each site every trap counts in full beside the others.".into());
    }
    if let Some(sites) = c.sites {
        lines.push(format!(
            "Sites that are near to each other are alike: the {} sites tell as much about a mean as {} that are independent.",
            s.plan.sites,
            count(sites)
        ));
    }
    lines
}

/// What unlimited traps and sites would find, by years; `None` where years set no floor.
pub fn floor_table(s: &Scenario, l: &Limiting) -> Option<Table> {
    let floor = l.floor.as_ref()?;
    let rows = floor.by_years.iter().map(|f| {
        let own = if f.years == s.plan.years {
            " (this plan)"
        } else {
            ""
        };
        vec![
            format!("{}{own}", f.years),
            change(s, f.smallest),
            percent(f.power),
        ]
    });
    Some(Table {
        caption: "What unlimited traps and sites would find, by years of trapping".into(),
        headers: vec![
            "years".into(),
            smallest_name(s).into(),
            format!("chance of finding the wanted {}", change(s, Some(l.wanted))),
        ],
        rows: rows.collect(),
    })
}

/// A bar for each source.
pub fn figure(s: &Scenario, l: &Limiting) -> ShareBars {
    let share_header = match l.measure {
        Measure::Variance => "part of the doubt (variance)",
        Measure::SmallestDensity => "part of the smallest density",
    };
    let bars = l.parts.iter().map(|p| {
        let share = p.share.map(|v| v.max(0.0));
        let without = match p.source {
            Source::Occupied => "—".into(),
            Source::Detection if s.edge().is_some() => "—".into(),
            _ => change(s, p.smallest_without),
        };
        ShareBar {
            label: name(p.source).into(),
            share: share.unwrap_or(f64::NAN),
            value: share.map_or("not known".into(), percent),
            kind: kind(p.source),
            more: vec![without],
        }
    });
    ShareBars {
        id: "limiting".into(),
        title: "What limits the plan".into(),
        show_title: true,
        description: format!(
            "Horizontal bars, one for each source of doubt, the longest first. {}",
            largest(l).join(" ")
        ),
        kinds: KINDS.map(Into::into).to_vec(),
        bars: bars.collect(),
        headers: vec![
            "source".into(),
            share_header.into(),
            "what lowers it".into(),
            format!(
                "{} without it (now {})",
                smallest_name(s),
                change(s, l.smallest)
            ),
        ],
        width: 640.0,
    }
}
