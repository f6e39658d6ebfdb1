//! `leastcatch patterns`

use crate::arguments::ClosedArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, text};
use engine::patterns::Pattern;
use paper::{revisit, sentences};
use serde::Serialize;

#[derive(Serialize)]
struct Told {
    scenario_digest: String,
    patterns: Vec<Pattern>,
}

/// The same yearly effort under each pattern.
pub fn run(arguments: &ClosedArguments) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    if let Some(why) = revisit::no_patterns(&scenario) {
        return Err(Failure::Refused(format!(
            "{}: {why}",
            arguments.scenario.display()
        )));
    }
    let patterns = revisit::compare(&scenario);
    let table = revisit::patterns_table(&patterns);
    let calendar = revisit::calendar(&scenario.plan);
    arguments.files.write(|| calendar.svg(), || table.csv())?;
    if arguments.json {
        let told = Told {
            scenario_digest: scenario.digest(),
            patterns,
        };
        return print_line(&text::asked(&told, &scenario)?);
    }
    let parts = [
        sentences::question(&scenario),
        format!("{}.", sentences::plan(&scenario.plan)),
        format!("{}\n{}", table.caption, text::table(&table)),
        revisit::PATTERNS_NOTE.into(),
    ];
    print_line(&parts.join("\n\n"))
}
