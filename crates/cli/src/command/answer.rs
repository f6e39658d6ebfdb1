//! `leastcatch answer`

use crate::arguments::Simulation;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, run as running, text};
use engine::{Kind, Report};

/// Power, false alarms, smallest change and toll of the plan.
pub fn run(arguments: &Simulation) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    let report = running::run(scenario.clone(), Kind::Answer, arguments)?;
    if arguments.json {
        return text::json(&report, &scenario, arguments);
    }
    if let Report::Answer(answer) = &report {
        print_line(&paper::sentences::question(&scenario))?;
        print_line(&paper::sentences::plan(&answer.plan))?;
        print_line("")?;
        print_line(&text::answer(&scenario, answer))?;
    }
    Ok(())
}
