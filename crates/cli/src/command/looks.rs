//! `leastcatch looks`

use crate::arguments::PicturedSimulation;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, run as running, text};
use engine::{Kind, Report};
use paper::{looks, sentences};

/// The plan's looks: when to stop, how surely, and what that spares.
pub fn run(arguments: &PicturedSimulation) -> Result<(), Failure> {
    let simulation = &arguments.simulation;
    let scenario = files::checked(&simulation.scenario)?;
    let report = running::run(scenario.clone(), Kind::Looks, simulation).map_err(|e| match e {
        Failure::Refused(text) => {
            Failure::Refused(format!("{}: {text}", simulation.scenario.display()))
        }
        other => other,
    })?;
    let Report::Looks(answer) = &report else {
        return Ok(());
    };
    let files = &arguments.files;
    files.write(
        || looks::figure(&scenario, answer).svg(),
        || looks::csv(answer),
    )?;
    if simulation.json {
        return text::json(&report, &scenario, simulation);
    }
    print_line(&sentences::question(&scenario))?;
    print_line(&sentences::plan(&scenario.plan))?;
    if let Some(planned) = &scenario.plan.looks {
        print_line(&looks::asked(&scenario, planned))?;
        print_line(looks::about_boundary(planned.boundary))?;
    }
    print_line("")?;
    for line in looks::rules(&scenario, answer) {
        print_line(&line)?;
    }
    let mut tables = vec![looks::looks_table(&scenario, answer)];
    tables.extend(looks::toll_table(&scenario, answer));
    tables.extend(looks::cost_table(&scenario, answer));
    for table in tables {
        print_line("")?;
        print_line(&table.caption)?;
        print_line(&text::table(&table))?;
    }
    print_line("")?;
    for line in looks::told(&scenario, answer) {
        print_line(&line)?;
    }
    print_line("")?;
    print_line(looks::SCALES)?;
    print_line(looks::WHO_DECIDES)
}
