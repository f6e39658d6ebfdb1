//! `leastcatch inventory`

use crate::arguments::InventoryArguments;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files, text};
use engine::inventory::{Form, Report, report};
use engine::pilot;
use engine::scenario::{Checked, Effect, Scenario, write};
use paper::sentences;
use std::path::Path;

/// What the pilot of an inventory tells; its species from the scenario, or from a table.
pub fn run(arguments: &InventoryArguments) -> Result<(), Failure> {
    let path = arguments.into.as_ref().or(arguments.scenario.as_ref());
    let Some(path) = path else {
        return Err(Failure::Usage("give a scenario file".into()));
    };
    let mut scenario = files::scenario(path)?;
    let mut notes = Vec::new();
    if let Some(table) = &arguments.table {
        notes = take(table, &mut scenario)?;
    }
    let scenario = checked(path, scenario)?;
    if !matches!(scenario.question.effect, Effect::Inventory(_)) {
        return Err(Failure::Refused(format!(
            "{}: question.effect is {}: give a scenario that asks for an inventory",
            path.display(),
            scenario.question.effect.key()
        )));
    }
    let Some(told) = report(&scenario, arguments.further) else {
        return Err(Failure::Refused(format!(
            "{}: premises.community tells nothing",
            path.display()
        )));
    };
    if let Some(into) = &arguments.into {
        files::write(into, &write(scenario.as_written()))?;
    }
    if let Some(form) = told.individuals.as_ref().or(told.incidences.as_ref()) {
        pictures(arguments, &scenario, &told, form)?;
    }
    if arguments.json {
        return print_line(&text::asked(&told, &scenario)?);
    }
    print_line(&lines(&scenario, &told, &notes))?;
    if let Some(into) = &arguments.into {
        print_line(&format!("\nPut into {}.", into.display()))?;
    }
    Ok(())
}

/// Puts a table's species in the place of the scenario's; what the reader should know of it.
fn take(table: &Path, scenario: &mut Scenario) -> Result<Vec<String>, Failure> {
    let bytes = files::bytes(table)?;
    let read = pilot::species_table(&bytes, &table.display().to_string()).map_err(|errors| {
        let lines: Vec<String> = errors.iter().map(ToString::to_string).collect();
        Failure::Refused(lines.join("\nleastcatch: "))
    })?;
    read.put_into(scenario);
    Ok(read.notes)
}

fn checked(path: &Path, scenario: Scenario) -> Result<Checked, Failure> {
    scenario.check().map_err(|faults| {
        let lines: Vec<String> = faults
            .iter()
            .map(|f| format!("{}: {f}", path.display()))
            .collect();
        Failure::Refused(lines.join("\nleastcatch: "))
    })
}

fn pictures(
    arguments: &InventoryArguments,
    scenario: &Scenario,
    told: &Report,
    form: &Form,
) -> Result<(), Failure> {
    arguments.files.write(
        || paper::inventory_figure(scenario, told, form).svg(),
        || paper::inventory_csv(form),
    )
}

fn lines(scenario: &Scenario, told: &Report, notes: &[String]) -> String {
    let mut lines = vec![sentences::question(scenario), String::new()];
    lines.extend(sentences::inventory(told));
    for form in [&told.individuals, &told.incidences].into_iter().flatten() {
        let table = paper::inventory_table(form);
        lines.extend([String::new(), table.caption.clone(), text::table(&table)]);
    }
    if !told.next_trap_week.is_empty() {
        let table = paper::gain_table(told);
        lines.extend([
            String::new(),
            table.caption.clone(),
            text::table(&table),
            String::new(),
        ]);
        lines.extend(sentences::further(told));
    }
    lines.extend(notes.iter().map(|n| format!("Note: {n}")));
    lines.join("\n")
}
