//! `leastcatch premises`

use crate::arguments::PilotArguments;
use crate::failure::Failure;
use crate::files;
use crate::output::print_line;
use engine::pilot::{self, Columns, EffortUnit, Estimate, Options, PilotPremises, Role, SiteYear};
use engine::scenario::write;
use paper::number::plain;
use std::path::Path;

/// Premises from pilot catches.
pub fn run(arguments: &PilotArguments) -> Result<(), Failure> {
    let options = options(arguments)?;
    let text = files::bytes(&arguments.pilot)?;
    let premises = pilot::premises(&text, &options).map_err(|errors| {
        Failure::Refused(
            errors
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
                .join("\nleastcatch: "),
        )
    })?;
    let mut inventions = 0;
    if let Some(path) = &arguments.into {
        inventions = put_into(path, &premises)?;
    }
    if arguments.json {
        let text =
            serde_json::to_string_pretty(&premises).map_err(|e| Failure::Refused(e.to_string()))?;
        print_line(&text)?;
    } else {
        print_line(&told(&premises))?;
        if let Some(path) = &arguments.into {
            print_line(&format!("\nPut into {}.", path.display()))?;
            if inventions > 0 {
                print_line(&format!(
                    "It still holds premises that are invented for a demonstration: {inventions}. `leastcatch own` takes out what is invented and keeps what the pilot told."
                ))?;
            }
        }
    }
    Ok(())
}

fn options(arguments: &PilotArguments) -> Result<Options, Failure> {
    let mut columns = Columns::default();
    for text in &arguments.columns {
        let roles = || Role::ALL.map(Role::name).join(", ");
        let usage = || {
            Failure::Usage(format!(
                "--column {text:?}: write it as ROLE=HEADER, with a role of {}",
                roles()
            ))
        };
        let (role, header) = text.split_once('=').ok_or_else(usage)?;
        columns.choose(Role::named(role).ok_or_else(usage)?, header);
    }
    let day_first = match (arguments.day_first, arguments.month_first) {
        (true, _) => Some(true),
        (_, true) => Some(false),
        _ => None,
    };
    Ok(Options {
        file: arguments.pilot.display().to_string(),
        columns,
        target: arguments.target.clone(),
        effort_unit: if arguments.effort_unit == "trap-days" {
            EffortUnit::TrapDays
        } else {
            EffortUnit::TrapWeeks
        },
        day_first,
        site_year: match arguments.site_year.as_str() {
            "on" => SiteYear::On,
            "off" => SiteYear::Off,
            _ => SiteYear::Auto,
        },
    })
}

/// The scenario file is written only when the result is a scenario that runs. How many of its premises are invented.
fn put_into(path: &Path, premises: &PilotPremises) -> Result<usize, Failure> {
    let scenario = premises.into_scenario(files::scenario(path)?);
    match scenario.clone().check() {
        Ok(_) => {
            files::write(path, &write(&scenario))?;
            Ok(scenario.inventions())
        }
        Err(faults) => {
            let lines: Vec<String> = faults
                .iter()
                .map(|f| format!("with these premises {}: {f}", path.display()))
                .collect();
            Err(Failure::Refused(lines.join("\nleastcatch: ")))
        }
    }
}

fn line(name: &str, e: &Estimate) -> String {
    let se =
        e.se.map_or(String::new(), |se| format!(", SE {}", plain(se)));
    let range = match (e.low, e.high) {
        (Some(low), Some(high)) => format!(" ({} to {})", plain(low), plain(high)),
        _ => String::new(),
    };
    format!(
        "  {name:<22} {}{range}{se}  [{}]",
        plain(e.value),
        e.source.word()
    )
}

fn told(p: &PilotPremises) -> String {
    let c = &p.counts;
    let mut lines = vec![format!(
        "{} counted rows, {} samples, {} sites, {} traps, {} years, {} groups",
        c.rows,
        c.samples,
        c.sites,
        c.traps,
        c.years,
        p.bycatch.len() + 1
    )];
    let t = &p.target;
    lines.push(format!("\n{} (target; {})", t.name, t.outcome));
    lines.push(line("catch per trap-week", &t.catch_per_trap_week));
    lines.push(line("dispersion k", &t.dispersion_k));
    lines.push(line("site SD", &t.site_sd));
    lines.push(line("year SD", &t.year_sd));
    lines.push(line("site-by-year SD", &t.site_year_sd));
    lines.push(line("trap SD", &t.trap_sd));
    lines.extend(
        t.season_peak_week
            .as_ref()
            .map(|e| line("season's peak, week", e)),
    );
    lines.push(line("season's width, weeks", &t.season_width_weeks));
    for g in &p.bycatch {
        lines.push(format!("\n{} (by-catch; {})", g.name, g.outcome));
        lines.push(line("catch per trap-week", &g.catch_per_trap_week));
        lines.push(line("dispersion k", &g.dispersion_k));
        lines.push(line("site SD", &g.site_sd));
        lines.push(line("year SD", &g.year_sd));
        lines.extend(
            g.season_peak_week
                .as_ref()
                .map(|e| line("season's peak, week", e)),
        );
        lines.push(line("season's width, weeks", &g.season_width_weeks));
    }
    if !p.notes.is_empty() {
        lines.push("\nNotes".into());
        lines.extend(p.notes.iter().map(|n| format!("  - {n}")));
    }
    lines.join("\n")
}
