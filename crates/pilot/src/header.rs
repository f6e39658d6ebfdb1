//! Headers to roles: which column holds what.

use super::error::PilotError;
use super::options::{Columns, EffortUnit, Role};
use super::problem::Problem;
use super::table::Table;

/// Where each role's column stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Mapping {
    places: [Option<usize>; 10],
    /// Unit named by the effort column's header.
    pub effort_unit: Option<EffortUnit>,
    /// What the reader should know.
    pub notes: Vec<String>,
}

impl Mapping {
    /// Column of a role.
    pub fn get(&self, role: Role) -> Option<usize> {
        self.places[role as usize]
    }

    /// Whether a column has a role.
    pub fn uses(&self, column: usize) -> bool {
        self.places.contains(&Some(column))
    }

    fn put(&mut self, role: Role, place: Option<usize>) {
        self.places[role as usize] = place;
    }
}

/// Headers that stand for a role: letters and digits only, lower case.
fn synonyms(role: Role) -> &'static [&'static str] {
    match role {
        Role::Site => &[
            "site",
            "siteid",
            "sitename",
            "sitecode",
            "location",
            "locationid",
            "locality",
            "plot",
            "plotid",
            "station",
            "stationid",
            "place",
        ],
        Role::Trap => &[
            "trap",
            "trapid",
            "trapno",
            "trapnumber",
            "trapcode",
            "trapname",
            "sampler",
            "samplerid",
        ],
        Role::Date => &[
            "date",
            "eventdate",
            "sampledate",
            "samplingdate",
            "visitdate",
        ],
        Role::Year => &["year", "yr"],
        Role::Week => &["week", "isoweek", "weekofyear", "weekno", "weeknumber"],
        Role::Set => &[
            "set",
            "setdate",
            "dateset",
            "opened",
            "openeddate",
            "dateopened",
            "deployed",
            "start",
            "startdate",
            "datestart",
        ],
        Role::Collected => &[
            "collected",
            "collecteddate",
            "datecollected",
            "collectiondate",
            "emptied",
            "emptieddate",
            "dateemptied",
            "closed",
            "end",
            "enddate",
            "dateend",
        ],
        Role::Effort => &[
            "effort",
            "exposure",
            "samplingeffortvalue",
            "trapweeks",
            "weeksopen",
            "trapdays",
            "trapnights",
            "days",
            "daysopen",
            "exposuredays",
            "effortdays",
            "effortweeks",
            "nights",
        ],
        Role::Taxon => &[
            "taxon",
            "taxa",
            "taxonname",
            "group",
            "taxongroup",
            "species",
            "scientificname",
            "organism",
        ],
        Role::Count => &[
            "count",
            "counts",
            "number",
            "n",
            "abundance",
            "individualcount",
            "individuals",
            "catch",
            "caught",
            "specimens",
            "ticks",
        ],
    }
}

/// A header without case, spaces, signs and the address in front of it.
fn plain(header: &str) -> String {
    let name = if header.contains("://") {
        header.rsplit(['/', '#']).next().unwrap_or(header)
    } else {
        header
    };
    let letters = name.chars().filter(|c| c.is_alphanumeric());
    letters.flat_map(char::to_lowercase).collect()
}

/// Finds the column of every role.
///
/// # Errors
/// Headers that occur twice, roles that several columns could have, chosen columns that are not there, and the
/// missing site or count.
pub(crate) fn recognise(
    file: &str,
    table: &Table,
    columns: &Columns,
) -> Result<Mapping, Vec<PilotError>> {
    let headers = &table.headers;
    let whole = |problem| PilotError::file(file, problem).at(table.header_line);
    let mut errors = Vec::new();
    for (j, header) in headers.iter().enumerate() {
        let same = |h: &String| !h.is_empty() && h.to_lowercase() == header.to_lowercase();
        if headers[..j].iter().any(same) {
            let mut e = whole(Problem::DuplicateHeader);
            e.column = Some(header.clone());
            errors.push(e);
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    let mut map = Mapping::default();
    for role in Role::ALL {
        let Some(wanted) = columns.get(role) else {
            continue;
        };
        let found = headers.iter().position(|h| h == wanted.trim()).or_else(|| {
            let lower = wanted.trim().to_lowercase();
            headers.iter().position(|h| h.to_lowercase() == lower)
        });
        let problem = match found {
            Some(j) => Role::ALL
                .into_iter()
                .find(|&r| map.get(r) == Some(j))
                .map(|first| Problem::TwoRoles {
                    first,
                    second: role,
                }),
            None => Some(Problem::NotAHeader {
                role,
                headers: headers.clone(),
            }),
        };
        match problem {
            Some(problem) => {
                let mut e = whole(problem);
                e.column = Some(wanted.to_owned());
                errors.push(e);
            }
            None => map.put(role, found),
        }
    }
    for role in Role::ALL {
        if columns.get(role).is_some() {
            continue;
        }
        let known = synonyms(role);
        let candidates: Vec<usize> = (0..headers.len())
            .filter(|&j| !map.uses(j) && known.contains(&plain(&headers[j]).as_str()))
            .collect();
        match candidates.as_slice() {
            [] => {}
            [one] => map.put(role, Some(*one)),
            several => errors.push(whole(Problem::Ambiguous {
                role,
                candidates: several.iter().map(|&j| headers[j].clone()).collect(),
            })),
        }
    }
    for role in [Role::Site, Role::Count] {
        let open = map.get(role).is_none() && columns.get(role).is_none();
        let unclear = errors
            .iter()
            .any(|e| matches!(&e.problem, Problem::Ambiguous { role: r, .. } if *r == role));
        if open && !unclear {
            errors.push(whole(Problem::NoColumn {
                role,
                headers: headers.clone(),
            }));
        }
    }
    if let Err(problem) = map.pair_days(headers) {
        errors.push(whole(problem));
    }
    map.effort_unit = map
        .get(Role::Effort)
        .and_then(|j| unit(&plain(&headers[j])));
    if errors.is_empty() {
        Ok(map)
    } else {
        Err(errors)
    }
}

fn unit(header: &str) -> Option<EffortUnit> {
    if header.contains("day") || header.contains("night") {
        Some(EffortUnit::TrapDays)
    } else if header.contains("week") {
        Some(EffortUnit::TrapWeeks)
    } else {
        None
    }
}

impl Mapping {
    /// Set and collected belong together; one of them alone is the date of the sample.
    fn pair_days(&mut self, headers: &[String]) -> Result<(), Problem> {
        let (set, collected) = (self.get(Role::Set), self.get(Role::Collected));
        let alone = match (set, collected) {
            (Some(j), None) => (Role::Set, j),
            (None, Some(j)) => (Role::Collected, j),
            _ => return Ok(()),
        };
        if alone.0 == Role::Set && self.get(Role::Effort).is_none() {
            return Err(Problem::SetAlone);
        }
        self.put(alone.0, None);
        let name = &headers[alone.1];
        if self.get(Role::Date).is_none() {
            self.put(Role::Date, Some(alone.1));
            self.notes.push(format!(
                "Column {name} is taken as the date of each sample: there is no second column to count the days with."
            ));
        } else {
            self.notes.push(format!(
                "Column {name} is not used: there is a date, and no second column to count the days with."
            ));
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn recognised(header: &str, columns: &Columns) -> Result<Mapping, Vec<PilotError>> {
        let text = super::super::text::read(
            format!("{header}\n{}1\n", "1,".repeat(header.matches(',').count())).as_bytes(),
        );
        recognise(
            "p.csv",
            &super::super::table::read(&text.unwrap()).unwrap(),
            columns,
        )
    }

    #[test]
    fn case_spelling_and_addresses() {
        let map = recognised(
            "Locality,Trap ID,http://rs.tdwg.org/dwc/terms/eventDate,Trap-days,scientificName,individualCount,remarks",
            &Columns::default(),
        )
        .unwrap();
        let places = [
            Role::Site,
            Role::Trap,
            Role::Date,
            Role::Effort,
            Role::Taxon,
            Role::Count,
        ];
        assert_eq!(places.map(|r| map.get(r)), [0, 1, 2, 3, 4, 5].map(Some));
        assert_eq!(map.effort_unit, Some(EffortUnit::TrapDays));
        assert!(!map.uses(6));
    }

    #[test]
    fn unclear_headers_name_candidates_and_flag() {
        let e = recognised("site,count,ticks", &Columns::default()).unwrap_err();
        assert_eq!(
            e[0].to_string(),
            "p.csv, row 1: more than one column could be the count: count, ticks. Rename the others in the file, or say which at the command line: --column count=count"
        );
        let mut columns = Columns::default();
        columns.choose(Role::Count, "Ticks");
        assert_eq!(
            recognised("site,count,ticks", &columns)
                .unwrap()
                .get(Role::Count),
            Some(2)
        );
        columns.choose(Role::Site, "ticks");
        let e = recognised("site,count,ticks", &columns).unwrap_err();
        assert!(
            e.iter()
                .any(|e| matches!(e.problem, Problem::TwoRoles { .. }))
        );
        columns.choose(Role::Site, "meadow");
        let e = recognised("site,count,ticks", &columns).unwrap_err();
        assert!(matches!(
            e[0].problem,
            Problem::NotAHeader {
                role: Role::Site,
                ..
            }
        ));
    }

    #[test]
    fn missing_and_double_headers() {
        let e = recognised("meadow,beetles", &Columns::default()).unwrap_err();
        assert_eq!(e.len(), 2);
        assert!(e[0].to_string().contains("--column site=HEADER"));
        let e = recognised("site,n,Site", &Columns::default()).unwrap_err();
        assert_eq!(e[0].problem, Problem::DuplicateHeader);
    }

    #[test]
    fn set_and_collected() {
        let both = recognised("site,set,collected,n", &Columns::default()).unwrap();
        assert_eq!(both.get(Role::Date), None);
        let one = recognised("site,collected,n", &Columns::default()).unwrap();
        assert_eq!(
            (one.get(Role::Date), one.get(Role::Collected)),
            (Some(1), None)
        );
        let e = recognised("site,set,n", &Columns::default()).unwrap_err();
        assert_eq!(e[0].problem, Problem::SetAlone);
    }
}
