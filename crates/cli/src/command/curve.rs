//! `leastcatch curve`

use crate::arguments::CurveArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, run as running, text};
use engine::{Axis, Kind, Report};
use paper::sentences::stand_in;

/// Power and toll along an axis.
pub fn run(arguments: &CurveArguments) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.simulation.scenario)?;
    let (over, values) = match &arguments.over {
        Some(text) => Axis::parse(text).map_err(Failure::Usage)?,
        None => (Axis::Sites, Axis::Sites.around(&scenario)),
    };
    if !over.belongs_to(&scenario) {
        let has: Vec<&str> = Axis::of_scenario(&scenario)
            .into_iter()
            .map(Axis::key)
            .collect();
        return Err(Failure::Refused(format!(
            "--over {}: the plan has none; it has {}",
            over.key(),
            has.join(", ")
        )));
    }
    let report = running::run(
        scenario.clone(),
        Kind::Curve { over, values },
        &arguments.simulation,
    )?;
    if let Report::Curve(curve) = &report {
        let figure = paper::curve_figure(&scenario, curve);
        let files = &arguments.files;
        files.write(|| figure.svg(), || figure.csv())?;
        if !arguments.simulation.json {
            print_line(&paper::sentences::question(&scenario))?;
            print_line(&paper::sentences::plan(&scenario.plan))?;
            print_line("")?;
            print_line(&text::table(&figure.table()))?;
            let costs = text::costs(&scenario, curve);
            if !costs.is_empty() {
                print_line(&costs)?;
            }
            let last = curve.points.last();
            let note = last.and_then(|p| stand_in(&p.test, p.false_alarm.replicates));
            if let Some(note) = note {
                print_line(&note)?;
            }
        }
    }
    if arguments.simulation.json {
        return text::json(&report, &scenario, &arguments.simulation);
    }
    Ok(())
}
