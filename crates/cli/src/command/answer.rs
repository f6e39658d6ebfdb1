//! `leastcatch answer`

use crate::arguments::PicturedSimulation;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, run as running, text};
use engine::summary::Answer;
use engine::{Kind, Report};
use serde::Serialize;

#[derive(Serialize)]
struct Told<'a> {
    #[serde(flatten)]
    answer: &'a Answer,
    /// The answer in one sentence.
    verdict: String,
    /// What a survey that makes a claim may write afterwards; `null` for questions that make none.
    claim: Option<String>,
}

/// Power, false alarms, smallest change and toll of the plan.
pub fn run(arguments: &PicturedSimulation) -> Result<(), Failure> {
    let PicturedSimulation {
        simulation: arguments,
        files: pictures,
    } = arguments;
    let scenario = files::checked(&arguments.scenario)?;
    let report = running::run(scenario.clone(), Kind::Answer, arguments)?;
    if let Report::Answer(answer) = &report {
        if let Some(toll) = &answer.toll {
            let figure = paper::toll_figure::figure(&scenario, toll);
            pictures.write(|| figure.svg(), || figure.table().csv())?;
        }
        if arguments.json {
            let told = Told {
                answer,
                verdict: paper::sentences::verdict(&scenario, answer),
                claim: paper::sentences::claim(&scenario, answer),
            };
            return text::json(&told, &scenario, arguments);
        }
        print_line(&paper::sentences::question(&scenario))?;
        print_line(&paper::sentences::plan(&answer.plan))?;
        print_line("")?;
        print_line(&text::answer(&scenario, answer))?;
    }
    Ok(())
}
