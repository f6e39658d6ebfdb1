//! `leastcatch answer`

use crate::arguments::Simulation;
use crate::failure::Failure;
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
        println!("{}", paper::sentences::question(&scenario));
        println!("{}", paper::sentences::plan(&answer.plan));
        println!();
        println!("{}", text::answer(&scenario, answer));
    }
    Ok(())
}
