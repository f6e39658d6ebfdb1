//! `leastcatch several`

use crate::arguments::Simulation;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, run as running, text};
use engine::{Kind, Report};
use paper::sentences;

/// Power, false alarms and toll of the plan for several species at once.
pub fn run(arguments: &Simulation) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    let report = running::run(scenario.clone(), Kind::Several, arguments)?;
    if arguments.json {
        return text::json(&report, &scenario, arguments);
    }
    let Report::Several(several) = &report else {
        return Ok(());
    };
    print_line(&sentences::question(&scenario))?;
    if let Some(asked) = sentences::asked_of_several(&scenario) {
        print_line(&asked)?;
    }
    print_line(&sentences::plan(&several.plan))?;
    print_line("")?;
    print_line(&text::table(&sentences::species_table(&scenario, several)))?;
    print_line("")?;
    for line in sentences::several(&scenario, several) {
        print_line(&line)?;
    }
    if let Some(toll) = &several.toll {
        print_line("")?;
        print_line(&text::toll(&scenario, toll))?;
    }
    if let Some(cost) = &several.cost {
        let told = paper::cost::phrase(&scenario, cost);
        print_line(&format!("cost, all years: {told}"))?;
    }
    Ok(())
}
