//! `leastcatch gentle`

use crate::arguments::GentleArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, text};
use engine::gentle::{Gentle, gentle};
use engine::scenario::Checked;
use paper::{gentle as told, sentences};
use serde::Serialize;

#[derive(Serialize)]
struct Told<'a> {
    scenario_digest: String,
    #[serde(flatten)]
    gentle: &'a Gentle,
    /// What the traps take of the animals in their reach; left out where these have no end.
    #[serde(skip_serializing_if = "Option::is_none")]
    removed: Option<engine::closed_form::Removed>,
}

/// Many light samples against few heavy ones.
pub fn run(arguments: &GentleArguments) -> Result<(), Failure> {
    let scenario = files::checked(&arguments.scenario)?;
    let g = gentle(&scenario);
    let figure = told::figure(&scenario, &g);
    let pictures = &arguments.files;
    pictures.write(|| figure.svg(), || told::csv(&g))?;
    let removed = engine::closed_form::removed(&scenario, &scenario.plan);
    if arguments.json {
        let told = Told {
            scenario_digest: scenario.digest(),
            gentle: &g,
            removed,
        };
        return print_line(&text::asked(&told, &scenario)?);
    }
    let mut parts = vec![
        sentences::question(&scenario),
        sentences::plan(&scenario.plan),
        told::sentences(&scenario, &g).join("\n"),
    ];
    parts.extend(removed.as_ref().map(told::removed));
    parts.extend(tables(&scenario, &g));
    parts.push(format!("{}\n{}", told::WHY, told::CAUTION));
    print_line(&parts.join("\n\n"))
}

fn tables(scenario: &Checked, g: &Gentle) -> Vec<String> {
    let titled = |table: &figures::Table| format!("{}\n{}", table.caption, text::table(table));
    let mut parts = vec![
        titled(&told::lighter_table(scenario, g)),
        titled(&told::sub_sampling_table(scenario, g)),
    ];
    if !g.traps.is_empty() {
        parts.push(titled(&told::traps_table(scenario, g)));
        for option in &scenario.as_written().premises.trap_options {
            let lines = told::option_lines(option).join("\n  ");
            parts.push(format!("{}\n  {lines}", option.name));
        }
    }
    parts
}
