//! `leastcatch stop-lines`

use crate::arguments::StopArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, text};
use engine::scenario::Scenario;
use engine::stop_lines::{StopPlan, stop_plan};
use paper::{sentences, stop_lines};
use serde::Serialize;

#[derive(Serialize)]
struct Told<'a> {
    scenario_digest: String,
    #[serde(flatten)]
    plan: &'a StopPlan,
}

/// The lines of the scenario's rule to stop.
pub fn run(arguments: &StopArguments) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    let plan = stop_plan(&scenario)
        .map_err(|e| Failure::Refused(format!("{}: {e}", arguments.scenario.display())))?;
    let figure = stop_lines::figure(&scenario, &plan);
    let pictures = &arguments.files;
    pictures.write(|| figure.svg(), || stop_lines::csv(&plan))?;
    if let Some(path) = &arguments.card {
        files::write(path, &stop_lines::card(&scenario, &plan))?;
    }
    if arguments.json {
        let told = Told {
            scenario_digest: scenario.digest(),
            plan: &plan,
        };
        return print_line(&text::asked(&told, &scenario)?);
    }
    print_line(&told(&scenario, &plan, &figure.table()))
}

fn told(scenario: &Scenario, plan: &StopPlan, totals: &figures::Table) -> String {
    let titled = |table: &figures::Table| format!("{}\n{}", table.caption, text::table(table));
    let mut parts = vec![
        sentences::question(scenario),
        format!(
            "{}. {}",
            stop_lines::name(&plan.rule),
            stop_lines::rule(plan)
        ),
        stop_lines::sample(scenario, plan),
    ];
    parts.extend(stop_lines::verdict(plan));
    parts.extend(stop_lines::warnings(scenario, plan));
    parts.push(titled(&stop_lines::fixed(plan)));
    parts.push(titled(&stop_lines::means(plan)));
    parts.extend(plan.means.iter().filter_map(|m| {
        let why = m.not_exact.as_ref()?;
        Some(format!("No exact form at a mean of {:.4}: {why}.", m.mean))
    }));
    parts.push(titled(totals));
    parts.push(stop_lines::CAUTIONS.join("\n"));
    parts.push(stop_lines::sources(&plan.rule).into());
    parts.join("\n\n")
}
