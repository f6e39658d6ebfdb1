//! Answers as text and JSON.

use crate::arguments::Simulation;
use crate::failure::Failure;
use crate::output::print_line;
use engine::scenario::{Checked, Scenario};
use engine::summary::{Answer, Curve, Point, Toll};
use paper::number::percent;
use paper::sentences;
use serde::Serialize;

#[derive(Serialize)]
struct Told<'a, R> {
    scenario_digest: String,
    seed: u64,
    replicates: u64,
    #[serde(flatten)]
    report: &'a R,
}

/// Prints a report as JSON.
pub fn json<R: Serialize>(
    report: &R,
    scenario: &Checked,
    arguments: &Simulation,
) -> Result<(), Failure> {
    let told = Told {
        scenario_digest: scenario.digest(),
        seed: arguments.seed,
        replicates: arguments.replicates,
        report,
    };
    let text = serde_json::to_string_pretty(&told).map_err(|e| Failure::Refused(e.to_string()))?;
    print_line(&text)?;
    Ok(())
}

/// The answer in lines.
pub fn answer(scenario: &Scenario, answer: &Answer) -> String {
    let share = |s: &engine::summary::Share| {
        format!(
            "{} (95 % interval {} to {}, {} surveys)",
            percent(s.estimate),
            percent(s.low),
            percent(s.high),
            s.replicates
        )
    };
    let mut lines = vec![
        sentences::verdict(scenario, answer),
        String::new(),
        format!("power            {}", share(&answer.power)),
        format!(
            "{:<16} {}",
            sentences::false_alarms(scenario),
            share(&answer.false_alarm)
        ),
        format!("smallest change  {}", smallest(scenario, answer)),
        format!("preview          power {}", percent(answer.preview.power)),
    ];
    for c in &answer.comparison {
        let (p, a) = (percent(c.power.estimate), percent(c.false_alarm.estimate));
        lines.push(format!("  by {:<17} power {p}, false alarms {a}", c.test));
    }
    lines.extend(sentences::notes(scenario, answer));
    if let Some(t) = &answer.toll {
        lines.push(String::new());
        lines.push(toll(scenario, t));
    }
    if let Some(cost) = &answer.cost {
        lines.push(String::new());
        lines.push(format!(
            "cost, all years  {}",
            paper::cost::phrase(scenario, &cost.total)
        ));
        lines.push(format!(
            "  hours          {}",
            paper::cost::by_kind(&cost.total.hours)
        ));
        lines.extend(paper::cost::over_staff(cost));
    }
    lines.join("\n")
}

/// The toll in lines: the target, what else is killed, and all.
pub fn toll(scenario: &Scenario, t: &Toll) -> String {
    // Where nothing can change, there is no other toll.
    let which = match t.if_nothing_changes {
        Some(_) => format!(", {}", sentences::with_effect(scenario)),
        None => String::new(),
    };
    let mut lines = vec![format!("toll, all years{which}: mean (90 % interval)")];
    lines.push(format!(
        "  {:<30} {}",
        scenario.premises.target.name,
        sentences::spread(&t.target)
    ));
    for g in &t.bycatch {
        lines.push(format!(
            "  {:<30} {}  [{}]",
            g.group,
            sentences::group(g),
            sentences::class(g.class)
        ));
    }
    lines.push(format!(
        "  {:<30} {}",
        "all animals",
        sentences::spread(&t.total)
    ));
    lines.extend(sentences::reproductives(&scenario.premises.target.name, t));
    lines.extend(t.removed.as_ref().map(paper::gentle::removed));
    lines.join("\n")
}

/// What the plans of a curve cost, a line each; empty when no costs are stated.
pub fn costs(scenario: &Scenario, curve: &Curve) -> String {
    let key = curve.over.key();
    let line = |p: &Point| {
        let told = paper::cost::phrase(scenario, p.cost.as_ref()?);
        Some(format!("  {key} {:>4}: {told}", p.value()))
    };
    let lines: Vec<String> = curve.points.iter().filter_map(line).collect();
    if lines.is_empty() {
        String::new()
    } else {
        format!("\ncost, all years\n{}", lines.join("\n"))
    }
}

fn smallest(scenario: &Scenario, answer: &Answer) -> String {
    let wanted = percent(scenario.question.wanted_power);
    match sentences::smallest(scenario, answer) {
        Some(s) => format!("{}: {} {}, with power {wanted}", s.name, s.value, s.of),
        None => format!("no change is found with power {wanted}"),
    }
}

/// A table in aligned columns.
pub fn table(table: &figures::Table) -> String {
    let mut widths: Vec<usize> = table.headers.iter().map(|h| h.chars().count()).collect();
    for row in &table.rows {
        for (w, cell) in widths.iter_mut().zip(row) {
            *w = (*w).max(cell.chars().count());
        }
    }
    let line = |row: &[String]| {
        let cells = row.iter().zip(&widths).map(|(c, &w)| format!("{c:>w$}"));
        cells.collect::<Vec<_>>().join("  ")
    };
    std::iter::once(line(&table.headers))
        .chain(table.rows.iter().map(|r| line(r)))
        .collect::<Vec<_>>()
        .join("\n")
}
