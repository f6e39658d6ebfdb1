//! `leastcatch futures`

use crate::arguments::FuturesArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, run as running, text};
use engine::{Kind, Report};
use paper::{futures_figure, sentences};

/// The plan's first simulated surveys, one by one, each with what it comes to.
pub fn run(arguments: &FuturesArguments) -> Result<(), Failure> {
    let simulation = &arguments.simulation;
    let scenario = files::checked(&simulation.scenario)?;
    let report = running::run(scenario.clone(), Kind::Futures, simulation)?;
    let Report::Futures(futures) = &report else {
        return Ok(());
    };
    let figure = futures_figure(&scenario, futures);
    let files = &arguments.files;
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
