//! `leastcatch returns`

use crate::arguments::ClosedArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, text};
use engine::returns::Returns;
use paper::{returns, sentences};
use serde::Serialize;

#[derive(Serialize)]
struct Told {
    scenario_digest: String,
    #[serde(flatten)]
    returns: Returns,
}

/// What losses, drop-out and late samples cost.
pub fn run(arguments: &ClosedArguments) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    if arguments.files.svg.is_some() {
        return Err(Failure::Usage(
            "--svg: returns has a table and no picture; use --csv".into(),
        ));
    }
    let told = engine::returns::returns(&scenario);
    let table = returns::table(&scenario, &told);
    arguments.files.write(String::new, || table.csv())?;
    if arguments.json {
        let told = Told {
            scenario_digest: scenario.digest(),
            returns: told,
        };
        return print_line(&text::asked(&told, &scenario)?);
    }
    let mut parts = vec![
        sentences::question(&scenario),
        format!("{}.", sentences::plan(&scenario.plan)),
        format!("{}\n{}", table.caption, text::table(&table)),
    ];
    if let Some(recruit) = &told.recruit {
        parts.push(returns::recruit(&scenario.plan, recruit).join("\n"));
    }
    parts.push(returns::SOURCES.into());
    print_line(&parts.join("\n\n"))
}
