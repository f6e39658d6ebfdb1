//! `leastcatch ignoring`

use crate::arguments::Simulation;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, run as running, text};
use engine::{Kind, Report};
use paper::sentences;

/// What it costs when the analysis is not told of what the world holds.
pub fn run(arguments: &Simulation) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    let report = running::run(scenario.clone(), Kind::Ignoring, arguments)?;
    if arguments.json {
        return text::json(&report, &scenario, arguments);
    }
    let Report::Ignoring(ignoring) = &report else {
        return Ok(());
    };
    print_line(&sentences::plan(&scenario.plan))?;
    print_line("")?;
    if ignoring.costs.is_empty() && ignoring.not_compared.is_empty() {
        return print_line(sentences::NOTHING_TO_IGNORE);
    }
    if !ignoring.costs.is_empty() {
        print_line(&text::table(&sentences::costs_table(&ignoring.costs)))?;
        print_line("")?;
    }
    for cost in &ignoring.costs {
        print_line(&sentences::cost(cost))?;
    }
    for n in &ignoring.not_compared {
        print_line(&format!(
            "Not compared: {}: {}",
            sentences::known(n.of),
            n.why
        ))?;
    }
    Ok(())
}
