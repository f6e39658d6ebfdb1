//! `leastcatch map`

use crate::arguments::MapArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, text};
use engine::Axis;
use engine::heat::{Map, Work, usual_axes};
use paper::{heat, sentences};
use serde::Serialize;

#[derive(Serialize)]
struct Told {
    scenario_digest: String,
    #[serde(flatten)]
    map: Map,
}

/// The numbers asked for on an axis, rising.
fn numbers(axis: Axis, asked: &str) -> Result<Vec<u32>, Failure> {
    let (_, mut numbers) = Axis::parse(&format!("{}={asked}", axis.key()))
        .map_err(|why| Failure::Usage(format!("--{} {asked:?}: {why}", axis.key())))?;
    numbers.sort_unstable();
    numbers.dedup();
    Ok(numbers)
}

/// The smallest change over years and sites.
pub fn run(arguments: &MapArguments) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    let mut axes = usual_axes(&scenario);
    if let Some(asked) = &arguments.years {
        axes.years = numbers(Axis::Years, asked)?;
    }
    if let Some(asked) = &arguments.sites {
        axes.sites = numbers(Axis::Sites, asked)?;
    }
    let map = Work::new(&scenario, axes).map_err(Failure::Usage)?.finish();
    let figure = heat::figure(&scenario, &map);
    let table = figure.table();
    arguments.files.write(|| figure.svg(), || table.csv())?;
    if arguments.json {
        let told = Told {
            scenario_digest: scenario.digest(),
            map,
        };
        return print_line(&text::asked(&told, &scenario)?);
    }
    let parts = [
        sentences::question(&scenario),
        format!("{}.", sentences::plan(&scenario.plan)),
        heat::sentences(&scenario, &map).join("\n"),
        format!("{}\n{}", table.caption, text::table(&table)),
        heat::MEANING.into(),
    ];
    print_line(&parts.join("\n\n"))
}
