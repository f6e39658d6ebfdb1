//! Many light samples against few heavy ones: sentences, tables and the picture.

use crate::number::{count, decimals, percent, plain, power_with_alarms, rounded};
use figures::{Column, Group, Line, LineStyle, PairedPanels, Point, Rule, Spread, Table};
use survey::closed_form::Removed;
use survey::gentle::{Gentle, Needed, factors};
use survey::scenario::{Scenario, TrapOption};

/// Where the trade-off comes from.
pub const WHY: &str = "A sample of which the share f is kept has the relative variance 1/(f × mean catch) + 1/k: where the catch is several times the dispersion k, the second part stays and catching less costs next to no power. A shorter exposure or a smaller trap kills fewer animals. Sorting a part of what was caught spares hours and no animal.";

/// What a reader should know about the numbers.
pub const CAUTION: &str = "All by closed form: simulate the plan that you choose. A smaller trap may catch other animals as well as fewer, and a shorter exposure may miss some species: tell it as an option with factors of its own. A pilot with both kinds of trap side by side is the way to know.";

fn share(f: f64) -> String {
    percent(f)
}

fn needed(n: Option<Needed>, own: u32) -> String {
    match n {
        None => "not reached".into(),
        Some(n) if n.number == own => format!("{own} (as it is)"),
        Some(n) => n.number.to_string(),
    }
}

fn saved(n: Option<Needed>) -> String {
    n.map_or("–".into(), |n| spared(n.saved))
}

/// Animals spared, or how many more are killed.
fn spared(saved: f64) -> String {
    if saved.abs() < 0.5 {
        "0".into()
    } else if saved > 0.0 {
        count(saved)
    } else {
        format!("{} more killed", count(-saved))
    }
}

/// The sentences, plainest first.
pub fn sentences(scenario: &Scenario, g: &Gentle) -> Vec<String> {
    let name = &scenario.premises.target.name;
    let s = &g.sample;
    let ratio = s.mean_catch / s.dispersion_k;
    let verdict = if ratio >= 2.0 {
        "the catch is heavy: lighter samples would tell nearly as much"
    } else if ratio >= 0.5 {
        "the catch is neither heavy nor light: lighter samples spare animals, and more of them are needed"
    } else {
        "the catch is light already: every animal counts, and lighter samples cost power"
    };
    let mut lines = vec![format!(
        "One trap catches {} {name} in a week on average, {} times the dispersion k of {}; {verdict}.",
        count(s.mean_catch),
        plain((ratio * 100.0).round() / 100.0),
        plain(s.dispersion_k)
    )];
    if let Some(half) = g.lighter.iter().find(|l| l.share == 0.5) {
        let mut line = format!(
            "Caught half as much with the same sites and traps, the survey would kill {} animals instead of {} and have a power of {} instead of {}.",
            rounded(half.toll),
            rounded(g.toll),
            percent(half.power),
            percent(g.power)
        );
        if let Some(n) = half.sites.filter(|n| n.number != scenario.plan.sites) {
            line.push_str(&format!(
                " With {} sites instead of {} it would have the power of the plan as it is, and {}.",
                n.number,
                scenario.plan.sites,
                if n.saved > 0.5 {
                    format!("spare {} animals", rounded(n.saved))
                } else {
                    "spare none".into()
                }
            ));
        }
        lines.push(line);
    }
    if s.others_per_target.is_finite() {
        lines.push(format!(
            "For each one of the target {} other animals are killed; an animal killed now tells {} of what the first one told.",
            count(s.others_per_target),
            percent(s.information_per_animal)
        ));
    }
    let best = g
        .traps
        .iter()
        .filter(|t| !t.used && t.power.is_some_and(|p| p >= g.power - 0.02))
        .filter_map(|t| Some((t, g.toll - t.toll?)))
        .filter(|(_, saved)| *saved > 0.5)
        .max_by(|a, b| a.1.total_cmp(&b.1));
    if let Some((kind, saved)) = best {
        lines.push(format!(
            "With {} the same plan would spare {} animals at a power of {}.",
            kind_name(kind.option.as_deref()),
            rounded(saved),
            percent(kind.power.unwrap_or(f64::NAN))
        ));
    }
    lines
}

fn kind_name(option: Option<&str>) -> String {
    option.map_or("the trap of the premises".into(), |n| format!("“{n}”"))
}

/// Lighter samples: shorter exposure or smaller traps.
pub fn lighter_table(scenario: &Scenario, g: &Gentle) -> Table {
    let p = &scenario.plan;
    let row = |l: &survey::gentle::Lighter| {
        vec![
            share(l.share),
            l.exposure_days.map_or("a smaller trap".into(), |d| {
                plain((d * 100.0).round() / 100.0)
            }),
            decimals(l.cv_squared, 2),
            power_with_alarms(l.power, l.false_alarm),
            count(l.toll),
            spared(g.toll - l.toll),
            decimals(l.information_per_animal, 2),
            needed(l.sites, p.sites),
            saved(l.sites),
            needed(l.traps, p.traps_per_site),
            saved(l.traps),
        ]
    };
    Table {
        caption: "Lighter samples, by a shorter exposure or a smaller trap: animals are spared"
            .into(),
        headers: [
            "catch kept",
            "days a week",
            "relative variance of a sample",
            "power (false alarms), same numbers",
            "animals killed, same numbers",
            "spared, same numbers",
            "information per animal killed, over the plan's",
            "sites for the same power",
            "spared with these sites",
            "traps per site for the same power",
            "spared with these traps",
        ]
        .map(Into::into)
        .to_vec(),
        rows: g.lighter.iter().map(row).collect(),
    }
}

/// Sub-sampling: hours alone.
pub fn sub_sampling_table(scenario: &Scenario, g: &Gentle) -> Table {
    let row = |l: &survey::gentle::SubSampled| {
        vec![
            share(l.share),
            power_with_alarms(l.power, l.false_alarm),
            count(l.toll),
            needed(l.sites, scenario.plan.sites),
            l.hours_for_same_power.map_or("–".into(), share),
            l.sites.map_or("–".into(), |n| count(n.toll)),
        ]
    };
    Table {
        caption: "Sorting a part of each sample after the catch: hours are spared, and no animal"
            .into(),
        headers: [
            "sorted (share of the hours)",
            "power (false alarms), same numbers",
            "animals killed, same numbers",
            "sites for the same power",
            "sorting hours with these sites",
            "animals killed with these sites",
        ]
        .map(Into::into)
        .to_vec(),
        rows: g.sub_sampling.iter().map(row).collect(),
    }
}

/// Kinds of trap side by side; without rows where the scenario has no options.
pub fn traps_table(scenario: &Scenario, g: &Gentle) -> Table {
    let row = |k: &survey::gentle::Kind| {
        let number = |v: Option<f64>, f: fn(f64) -> String| v.map_or("–".into(), f);
        let name = k.option.clone().unwrap_or("as the premises say".into());
        vec![
            if k.used {
                format!("{name} (used)")
            } else {
                name
            },
            k.refused.clone().map_or_else(
                || {
                    let both = k.power.zip(k.false_alarm);
                    both.map_or("–".into(), |(p, a)| power_with_alarms(p, a))
                },
                |why| format!("refused: {why}"),
            ),
            number(k.target, count),
            number(k.toll, count),
            k.toll.map_or("–".into(), |t| spared(g.toll - t)),
            needed(k.sites, scenario.plan.sites),
            number(k.money, count),
        ]
    };
    Table {
        caption: "Kinds of trap, with the plan's numbers of sites, traps, weeks and years".into(),
        headers: [
            "trap",
            "power (false alarms)",
            "target killed",
            "animals killed",
            "spared",
            "sites for the power of the plan",
            "money for the traps",
        ]
        .map(Into::into)
        .to_vec(),
        rows: g.traps.iter().map(row).collect(),
    }
}

/// All of it for a spreadsheet: one row for each share, full digits.
pub fn csv(g: &Gentle) -> String {
    let number = |n: Option<f64>| n.map_or(String::new(), |n| n.to_string());
    let of = |n: Option<Needed>| match n {
        Some(n) => [n.number.to_string(), n.toll.to_string()],
        None => [String::new(), String::new()],
    };
    let row = |l: &survey::gentle::Lighter| {
        let mut row = vec![
            l.share.to_string(),
            number(l.exposure_days),
            l.cv_squared.to_string(),
            l.power.to_string(),
            l.false_alarm.to_string(),
            l.toll.to_string(),
            l.information_per_animal.to_string(),
        ];
        row.extend(of(l.sites));
        row.extend(of(l.traps));
        row
    };
    Table {
        caption: String::new(),
        headers: [
            "share",
            "exposure_days",
            "cv_squared",
            "power",
            "false_alarm",
            "toll",
            "information_per_animal",
            "sites_same_power",
            "toll_sites_same_power",
            "traps_same_power",
            "toll_traps_same_power",
        ]
        .map(Into::into)
        .to_vec(),
        rows: g.lighter.iter().map(row).collect(),
    }
    .csv()
}

/// Power kept and animals killed as the catch becomes lighter, with the same sites and traps.
pub fn figure(scenario: &Scenario, g: &Gentle) -> PairedPanels {
    let point = |x: f64, y: f64| Point {
        x,
        y,
        low: None,
        high: None,
    };
    let x = |share: f64| 100.0 * share;
    PairedPanels {
        id: "gentle".into(),
        title: "Lighter samples: power kept, animals killed (closed form)".into(),
        show_title: true,
        description: sentences(scenario, g).join(" "),
        x_label: "catch kept, % of the plan's".into(),
        upper_label: "power, same sites and traps".into(),
        lower_label: "animals killed, all years".into(),
        total_label: "all animals".into(),
        lines: vec![Line {
            label: "power".into(),
            style: LineStyle::Main,
            spread: Spread::Bars,
            points: g
                .lighter
                .iter()
                .map(|l| point(x(l.share), l.power))
                .collect(),
        }],
        rules: vec![Rule {
            label: "power of the plan".into(),
            y: g.power,
        }],
        columns: g
            .lighter
            .iter()
            .map(|l| Column {
                x: x(l.share),
                parts: vec![l.toll],
                low: f64::NAN,
                high: f64::NAN,
            })
            .collect(),
        groups: vec![Group {
            label: "all animals".into(),
        }],
        highlight: Some((100.0, "this plan".into())),
        width: 640.0,
        height: 440.0,
    }
}

/// What an option multiplies and where each number comes from, in one line each.
pub fn option_lines(option: &TrapOption) -> Vec<String> {
    let mut lines: Vec<String> = factors(option)
        .into_iter()
        .map(|(whom, p)| {
            let cited = p
                .citation
                .as_ref()
                .map_or(String::new(), |c| format!(", {c}"));
            format!("{whom} × {} ({}{cited})", plain(p.value), p.source.word())
        })
        .collect();
    if !option.notes.is_empty() {
        lines.push(option.notes.clone());
    }
    lines
}

/// What the traps take of the animals in their reach, in words.
pub fn removed(r: &Removed) -> String {
    let mut text = format!(
        "Of the animals in reach of a site's traps {} are caught in the first year; were there no end of them the same traps would catch {} times as many.",
        percent(r.share_removed),
        plain((100.0 / r.kept_of_catch).round() / 100.0)
    );
    if r.present_in_last_year < 1.0 {
        text.push_str(&format!(
            " At the beginning of the last year {} of them are there: the traps' own taking changes the catch by {} % a year, which looks like a decline.",
            percent(r.present_in_last_year),
            decimals(r.apparent_change_percent_a_year, 1)
        ));
    } else {
        text.push_str(" All have come back by the next year: an assumption.");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::gentle::gentle;
    use survey::scenario::{read, trap_presets};

    #[test]
    fn tables_figure_and_sentences_agree() {
        let mut s = read(include_str!("../../../demo-data/meadow-beetles.json")).unwrap();
        s.premises.trap_options = trap_presets();
        let s = s.check().unwrap();
        let g = gentle(&s);
        let (light, sub, traps) = (
            lighter_table(&s, &g),
            sub_sampling_table(&s, &g),
            traps_table(&s, &g),
        );
        assert_eq!(
            (light.rows.len(), sub.rows.len(), traps.rows.len()),
            (5, 5, 7)
        );
        for table in [&light, &sub, &traps] {
            assert!(table.rows.iter().all(|r| r.len() == table.headers.len()));
        }
        assert!(light.rows[0][7].contains("as it is"));
        assert_eq!(csv(&g).lines().count(), 6);
        let told = sentences(&s, &g).join(" ");
        for words in [
            "times the dispersion k",
            "Caught half as much",
            "would spare",
        ] {
            assert!(told.contains(words), "{words} in {told}");
        }
        let svg = figure(&s, &g).svg();
        assert!(svg.contains("this plan") && svg.contains("<desc"));
        let lines = option_lines(&trap_presets()[0]);
        assert!(lines[1].contains("all vertebrates × 0.333"), "{lines:?}");
        assert!(
            lines[1].contains("published, Lange et al. 2011"),
            "{lines:?}"
        );
    }
}
