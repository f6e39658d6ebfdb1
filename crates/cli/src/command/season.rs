//! `leastcatch season`

use crate::arguments::SeasonArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, text};
use engine::scenario::Scenario;
use engine::season::{SeasonReport, Weights, season_report};
use paper::{season, sentences};
use serde::Serialize;

#[derive(Serialize)]
struct Told<'a> {
    scenario_digest: String,
    #[serde(flatten)]
    report: &'a SeasonReport,
}

/// The season by week, the best weeks, and what a moving season does to them.
pub fn run(arguments: &SeasonArguments) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    let weights = match &arguments.weigh {
        Some(text) => weights(text)?,
        None => Weights::default(),
    };
    let number = arguments.weeks.unwrap_or(scenario.plan.weeks);
    if number < 2 && scenario.by_occupancy() {
        return Err(Failure::Refused(format!(
            "--weeks is {number}: give at least 2 weeks, since sites are occupied or not only by repeated visits"
        )));
    }
    let report = season_report(&scenario, number, weights);
    let figure = season::figure(&scenario, &report.weeks, &weights);
    arguments.files.write(|| figure.svg(), || figure.csv())?;
    if arguments.json {
        let told = Told {
            scenario_digest: scenario.digest(),
            report: &report,
        };
        return print_line(&text::asked(&told, &scenario)?);
    }
    print_line(&told(&scenario, &report, &figure.table()))
}

fn told(scenario: &Scenario, report: &SeasonReport, by_week: &figures::Table) -> String {
    let titled = |table: &figures::Table| format!("{}\n{}", table.caption, text::table(table));
    let name = &scenario.premises.target.name;
    [
        sentences::question(scenario),
        sentences::plan(&scenario.plan),
        titled(by_week),
        titled(&season::sets(name, &report.plan, &report.best)),
        season::search(&report.plan, report.number, &report.best),
        titled(&season::robustness(&report.robustness)),
        season::CAUTIONS.join("\n"),
    ]
    .join("\n\n")
}

/// Weights from text such as `vertebrate=10,protected=100`.
fn weights(text: &str) -> Result<Weights, Failure> {
    let mut weights = Weights::default();
    for part in text.split(',') {
        let wrong = |why: &str| Failure::Usage(format!("--weigh {part:?}: {why}"));
        let Some((kind, value)) = part.split_once('=') else {
            return Err(wrong("give a kind and its weight, such as vertebrate=10"));
        };
        let weight = match kind.trim() {
            "target" => &mut weights.target,
            "arthropod" => &mut weights.arthropod,
            "vertebrate" => &mut weights.vertebrate,
            "protected" => &mut weights.protected,
            "reproductive" => &mut weights.reproductive,
            _ => {
                return Err(wrong(
                    "give one of target, arthropod, vertebrate, protected, reproductive",
                ));
            }
        };
        *weight = match value.trim().parse::<f64>() {
            Ok(v) if (0.0..=1e6).contains(&v) => v,
            _ => return Err(wrong("give a number from 0 to 1000000")),
        };
    }
    Ok(weights)
}
