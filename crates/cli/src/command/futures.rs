//! `leastcatch futures`

use crate::arguments::{PlansArguments, Simulation};
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, run as running, text};
use engine::scenario::Checked;
use engine::{Beside, Futures, Kind, Report, beside};
use paper::{PlanFutures, futures_beside, futures_figure, sentences};
use serde_json::json;

/// The plan's first simulated surveys, one by one, each with what it comes to.
pub fn run(arguments: &PlansArguments) -> Result<(), Failure> {
    let simulation = &arguments.futures.simulation;
    let scenario = files::checked(&simulation.scenario)?;
    if arguments.beside {
        return compared(arguments, &scenario);
    }
    let report = running::run(scenario.clone(), Kind::Futures, simulation)?;
    let Report::Futures(futures) = &report else {
        return Ok(());
    };
    let figure = futures_figure(&scenario, futures);
    let files = &arguments.futures.files;
    files.write(|| figure.svg(), || figure.table().csv())?;
    if simulation.json {
        return text::json(&report, &scenario, simulation);
    }
    print_line(&sentences::question(&scenario))?;
    print_line(&sentences::plan(&scenario.plan))?;
    print_line("")?;
    print_line(&sentences::futures(&scenario, futures))?;
    if let Some(cost) = &futures.cost {
        let told = paper::cost::phrase(&scenario, cost);
        print_line(&format!("Cost, all years: {told}."))?;
    }
    print_line("")?;
    print_line(&figure.value_label)?;
    print_line(&text::table(&figure.table()))
}

fn futures_of(scenario: &Checked, simulation: &Simulation) -> Result<Option<Futures>, Failure> {
    let report = running::run(scenario.clone(), Kind::Futures, simulation)?;
    Ok(match report {
        Report::Futures(futures) => Some(*futures),
        _ => None,
    })
}

/// The same surveys under each plan.
fn compared(arguments: &PlansArguments, scenario: &Checked) -> Result<(), Failure> {
    let simulation = &arguments.futures.simulation;
    let mut plans: Vec<(Option<Beside>, Checked)> = vec![(None, scenario.clone())];
    plans.extend(
        beside(scenario, None)
            .into_iter()
            .map(|(b, s)| (Some(b), s)),
    );
    let mut told = Vec::new();
    for (beside, s) in plans {
        if let Some(futures) = futures_of(&s, simulation)? {
            let plan = s.as_written().plan.clone();
            told.push(PlanFutures {
                beside,
                plan,
                futures,
            });
        }
    }
    let Some(figure) = futures_beside(scenario, &told, engine::FUTURES as usize) else {
        return Ok(());
    };
    let files = &arguments.futures.files;
    files.write(|| figure.svg(), || figure.table().csv())?;
    if simulation.json {
        let of =
            |p: &PlanFutures| json!({ "beside": p.beside, "plan": p.plan, "futures": p.futures });
        let plans: Vec<_> = told.iter().map(of).collect();
        return text::json(&json!({ "plans": plans }), scenario, simulation);
    }
    print_line(&sentences::question(scenario))?;
    print_line("")?;
    for row in &figure.rows {
        print_line(&row.heading)?;
    }
    print_line("")?;
    print_line(&figure.value_label)?;
    print_line(&text::table(&figure.table()))
}
