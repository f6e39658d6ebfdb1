//! `leastcatch cost`

use crate::arguments::CostArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, text};
use engine::cost::{PlanCost, expected_cost};
use engine::scenario::Scenario;
use paper::{cost as told, sentences};
use serde::Serialize;

#[derive(Serialize)]
struct Told<'a> {
    scenario_digest: String,
    #[serde(flatten)]
    cost: &'a PlanCost,
}

/// Hours and money of the scenario's plan.
pub fn run(arguments: &CostArguments) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    let Some(cost) = expected_cost(&scenario, &scenario.plan) else {
        return Err(Failure::Refused(format!(
            "{}: premises.costs is missing: give a currency and the rates of work and money (see `leastcatch schema`)",
            arguments.scenario.display()
        )));
    };
    let picture = told::figure(&scenario, &cost);
    arguments.files.write(
        || picture.map(|p| p.svg()).unwrap_or_default(),
        || told::all_months(&cost).csv(),
    )?;
    if arguments.json {
        let told = Told {
            scenario_digest: scenario.digest(),
            cost: &cost,
        };
        return print_line(&text::asked(&told, &scenario)?);
    }
    print_line(&lines(&scenario, &cost))
}

fn lines(scenario: &Scenario, cost: &PlanCost) -> String {
    let titled = |table: &figures::Table| format!("{}\n{}", table.caption, text::table(table));
    let total = &cost.total;
    let mut parts = vec![
        sentences::plan(&scenario.plan),
        format!(
            "{} over all years; hours: {}; {} travel days.",
            told::phrase(scenario, total),
            told::by_kind(&total.hours),
            paper::number::count(total.travel_days)
        ),
    ];
    if let (Some(costs), Some(year)) = (&scenario.premises.costs, cost.busiest_year()) {
        parts.push(titled(&told::by_month(costs, year)));
    }
    parts.push(titled(&told::by_year(cost)));
    let stepped = cost.stepped.iter();
    let notes: Vec<String> = stepped
        .map(|s| told::stepped(s, &cost.currency))
        .chain(told::over_staff(cost))
        .chain(told::unsourced(scenario))
        .chain(told::ABOUT.map(String::from))
        .collect();
    parts.push(notes.join("\n"));
    parts.join("\n\n")
}
