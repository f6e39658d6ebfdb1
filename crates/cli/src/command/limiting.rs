//! `leastcatch limiting`

use crate::arguments::ClosedArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, text};
use engine::limiting::Limiting;
use paper::{limiting, sentences};
use serde::Serialize;

#[derive(Serialize)]
struct Told {
    scenario_digest: String,
    #[serde(flatten)]
    limiting: Limiting,
}

/// What limits the plan.
pub fn run(arguments: &ClosedArguments) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    let told = engine::limiting::limiting(&scenario).map_err(|_| {
        Failure::Refused(format!(
            "{}: {}",
            arguments.scenario.display(),
            limiting::NOT_TOLD
        ))
    })?;
    let figure = limiting::figure(&scenario, &told);
    let table = figure.table();
    arguments.files.write(|| figure.svg(), || table.csv())?;
    if arguments.json {
        let told = Told {
            scenario_digest: scenario.digest(),
            limiting: told,
        };
        return print_line(&text::asked(&told, &scenario)?);
    }
    let parts = [
        sentences::question(&scenario),
        format!("{}.", sentences::plan(&scenario.plan)),
        limiting::sentences(&scenario, &told).join("\n"),
        format!("{}\n{}", table.caption, text::table(&table)),
        limiting::meaning(&told),
        limiting::SOURCES.into(),
    ];
    print_line(&parts.join("\n\n"))
}
