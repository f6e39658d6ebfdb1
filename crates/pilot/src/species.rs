//! A pilot's species table: one row for each species of a stratum.
//!
//! Columns: `stratum`, `trap_weeks` and `killed_per_trap_week` (the same in all rows of a stratum; the last may be left
//! out), `species`, `count`. A stratum that caught nothing has one row with an empty species and a count of 0.

use super::error::{PilotError, shorten};
use super::number::{self, Decimals};
use super::problem::Problem;
use super::{table, text};
use survey::scenario::{Community, Scenario, SpeciesCount, Stratum};

/// What a species table holds.
#[derive(Clone, Debug, PartialEq)]
pub struct SpeciesTable {
    /// The strata in the order of their first rows.
    pub strata: Vec<Stratum>,
    /// What the reader should know.
    pub notes: Vec<String>,
}

impl SpeciesTable {
    /// Puts the strata in the place of the scenario's; incidences stay.
    pub fn put_into(&self, scenario: &mut Scenario) {
        let community = &mut scenario.premises.community;
        community.get_or_insert_with(Community::default).strata = self.strata.clone();
    }
}

/// Where each column stands.
struct Columns {
    stratum: usize,
    trap_weeks: usize,
    species: usize,
    count: usize,
    killed: Option<usize>,
}

/// Letters and digits of a header, lower case.
fn bare(header: &str) -> String {
    let letters = header.chars().filter(|c| c.is_alphanumeric());
    letters.flat_map(char::to_lowercase).collect()
}

impl Columns {
    fn of(headers: &[String]) -> Result<Self, Vec<Problem>> {
        let mut problems = Vec::new();
        let mut find = |names: &[&str], needed: bool| {
            let mut here = headers
                .iter()
                .enumerate()
                .filter(|(_, h)| names.contains(&bare(h).as_str()));
            let first = here.next().map(|(i, _)| i);
            if here.next().is_some() {
                problems.push(Problem::ColumnTwice {
                    name: names[0].into(),
                });
            }
            if first.is_none() && needed {
                problems.push(Problem::ColumnMissing {
                    name: names[0].into(),
                    headers: headers.to_vec(),
                });
            }
            first
        };
        let stratum = find(&["stratum", "strata", "traptype"], true);
        let trap_weeks = find(&["trap_weeks", "trapweeks", "effort"], true);
        let species = find(&["species", "taxon"], true);
        let count = find(&["count", "individuals", "n"], true);
        let killed = find(
            &["killed_per_trap_week", "killedpertrapweek", "killed"],
            false,
        );
        match (stratum, trap_weeks, species, count) {
            (Some(stratum), Some(trap_weeks), Some(species), Some(count))
                if problems.is_empty() =>
            {
                Ok(Self {
                    stratum,
                    trap_weeks,
                    species,
                    count,
                    killed,
                })
            }
            _ => Err(problems),
        }
    }
}

/// A stratum while its rows are read.
struct Found {
    stratum: Stratum,
    line: usize,
    killed: Option<f64>,
    /// Line of each species.
    lines: Vec<usize>,
}

/// Reads a species table; `file` names it in messages.
///
/// # Errors
/// Every problem with its row, the first twenty and how many more.
pub fn species_table(bytes: &[u8], file: &str) -> Result<SpeciesTable, Vec<PilotError>> {
    let text = text::read(bytes).map_err(|(line, problem)| {
        let error = PilotError::file(file, problem);
        vec![match line {
            Some(line) => error.at(line),
            None => error,
        }]
    })?;
    let table = table::read(&text).map_err(|problems| {
        let errors = problems
            .into_iter()
            .map(|(line, problem)| PilotError::file(file, problem).at(line));
        shorten(file, errors.collect())
    })?;
    let columns = Columns::of(&table.headers).map_err(|problems| {
        let errors = problems
            .into_iter()
            .map(|p| PilotError::file(file, p).at(table.header_line));
        errors.collect::<Vec<_>>()
    })?;
    let commas = table.separator != b',';
    let mut errors = Vec::new();
    let mut found: Vec<Found> = Vec::new();
    for row in &table.rows {
        let cell = |i: usize| row.cells[i].as_str();
        let mut refuse = |column: usize, problem: Problem| {
            let error = PilotError::file(file, problem).at(row.line);
            errors.push(error.cell(&table.headers[column], &row.cells[column]));
        };
        let name = cell(columns.stratum);
        if name.is_empty() {
            refuse(columns.stratum, Problem::NameEmpty);
            continue;
        }
        let trap_weeks = match number::effort(cell(columns.trap_weeks), commas) {
            Ok((value, _)) => value,
            Err(problem) => {
                refuse(columns.trap_weeks, problem);
                continue;
            }
        };
        let killed = match columns.killed.map(|c| (c, amount(cell(c), commas))) {
            None => None,
            Some((_, Some(value))) => Some(value),
            Some((column, None)) => {
                refuse(column, Problem::Killed);
                continue;
            }
        };
        let count = match number::count(cell(columns.count)) {
            Ok(Some(count)) => count as u32,
            Ok(None) => {
                refuse(columns.count, Problem::NotCounted);
                continue;
            }
            Err(problem) => {
                refuse(columns.count, problem);
                continue;
            }
        };
        let species = cell(columns.species);
        if species.is_empty() && count > 0 {
            refuse(columns.species, Problem::NameEmpty);
            continue;
        }
        let at = match found.iter().position(|f| f.stratum.name == name) {
            Some(at) => at,
            None => {
                found.push(Found {
                    stratum: Stratum {
                        name: name.into(),
                        trap_weeks,
                        killed_per_trap_week: 0.0,
                        species: Vec::new(),
                    },
                    line: row.line,
                    killed,
                    lines: Vec::new(),
                });
                found.len() - 1
            }
        };
        let f = &mut found[at];
        if f.stratum.trap_weeks != trap_weeks {
            let other = f.line;
            refuse(columns.trap_weeks, Problem::StratumAtOdds { other });
        } else if f.killed != killed {
            let column = columns.killed.unwrap_or(columns.stratum);
            let other = f.line;
            refuse(column, Problem::StratumAtOdds { other });
        } else if let Some(i) = f.stratum.species.iter().position(|s| s.name == species) {
            let other = f.lines[i];
            refuse(columns.species, Problem::SpeciesTwice { other });
        } else if !species.is_empty() {
            f.lines.push(row.line);
            f.stratum.species.push(SpeciesCount {
                name: species.into(),
                count,
            });
        }
    }
    if !errors.is_empty() {
        return Err(shorten(file, errors));
    }
    Ok(told(found, columns.killed.is_some()))
}

/// A number of 0 or more.
fn amount(cell: &str, commas: bool) -> Option<f64> {
    match number::effort(cell, commas) {
        Ok((value, Decimals::None | Decimals::Point | Decimals::Comma)) => Some(value),
        Err(_) => (cell.parse::<f64>() == Ok(0.0)).then_some(0.0),
    }
}

fn told(found: Vec<Found>, kills_told: bool) -> SpeciesTable {
    let strata = found.into_iter().map(|f| {
        let individuals: f64 = f.stratum.species.iter().map(|s| f64::from(s.count)).sum();
        Stratum {
            killed_per_trap_week: f.killed.unwrap_or(individuals / f.stratum.trap_weeks),
            ..f.stratum
        }
    });
    let notes = if kills_told {
        Vec::new()
    } else {
        vec![
            "There is no column killed_per_trap_week: the animals killed are those of the list alone, without the by-catch.".to_string(),
        ]
    };
    SpeciesTable {
        strata: strata.collect(),
        notes,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(text: &str) -> Vec<String> {
        let errors = species_table(text.as_bytes(), "s.csv").unwrap_err();
        errors.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn strata_with_their_species() {
        let text = "# invented\nstratum;trap weeks;species;count;killed per trap week\nwide;2,5;a;3;10\nwide;2,5;b;0;10\nnarrow;4;;0;0\nnarrow;4;a;1;0\n";
        let t = species_table(text.as_bytes(), "s.csv").unwrap();
        assert!(t.notes.is_empty());
        let [wide, narrow] = &t.strata[..] else {
            panic!("{t:?}")
        };
        assert_eq!((wide.trap_weeks, wide.killed_per_trap_week), (2.5, 10.0));
        assert_eq!((wide.species.len(), wide.species[0].count), (2, 3));
        assert_eq!(
            (narrow.species.len(), narrow.killed_per_trap_week),
            (1, 0.0)
        );
    }

    #[test]
    fn kills_that_are_not_told_are_those_of_the_list() {
        let text = "stratum\ttrap_weeks\tspecies\tcount\nwide\t4\ta\t6\nwide\t4\tb\t2\n";
        let t = species_table(text.as_bytes(), "s.csv").unwrap();
        assert_eq!(t.strata[0].killed_per_trap_week, 2.0);
        assert!(t.notes[0].contains("killed_per_trap_week"));
    }

    #[test]
    fn what_is_refused() {
        for (rows, says) in [
            (
                "wide,2,a,3,1\nwide,2,a,4,1",
                "row 3, column species, value \"a\": the species is in this stratum already, in row 2",
            ),
            (
                "wide,2,a,3,1\nwide,3,b,4,1",
                "row 3, column trap_weeks, value \"3\": the same stratum has another number in row 2",
            ),
            (
                "wide,2,a,3,1\nwide,2,b,4,2",
                "row 3, column killed_per_trap_week, value \"2\": the same stratum has another number in row 2",
            ),
            (
                "wide,0,a,3,1",
                "column trap_weeks, value \"0\": effort must be a number above 0",
            ),
            (",2,a,3,1", "column stratum, value \"\": empty: give a name"),
            (
                "wide,2,,3,1",
                "column species, value \"\": empty: give a name",
            ),
            ("wide,2,a,,1", "column count, value \"\": not counted"),
            ("wide,2,a,1.5,1", "a count is a whole number"),
            ("wide,2,a,1,-2", "value \"-2\": give the animals killed"),
        ] {
            let text = format!("stratum,trap_weeks,species,count,killed_per_trap_week\n{rows}\n");
            let errors = refused(&text);
            assert!(
                errors.iter().any(|e| e.contains(says)),
                "{rows}: {errors:?}"
            );
        }
        let errors = refused("stratum,species,count\nwide,a,3\n");
        assert!(
            errors[0].contains("no column trap_weeks; the headers are stratum, species, count"),
            "{errors:?}"
        );
    }
}
