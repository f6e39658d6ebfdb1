//! Cells to records: one checked count with its site, trap, time, effort and group.

mod notes;

use super::date::{self, Order, Written};
use super::error::PilotError;
use super::header::Mapping;
use super::number::{self, Decimals};
use super::options::{EffortUnit, Options, Role};
use super::problem::Problem;
use super::table::{Row, Table};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The time of a sample, as finely as the file tells it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum When {
    /// Not told.
    Unknown,
    /// A year.
    Year(i32),
    /// A week, of a year where one is told.
    Week(Option<i32>, u8),
    /// A day.
    Day(Date),
    /// From setting to collecting.
    Span(Date, Date),
}

/// One row of the file that could be read.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Record {
    /// Line of the file.
    pub line: usize,
    /// Site.
    pub site: String,
    /// Trap within the site, where the file has traps.
    pub trap: Option<String>,
    /// Time.
    pub when: When,
    /// Year.
    pub year: Option<i32>,
    /// ISO week of the year.
    pub week: Option<u8>,
    /// Trap-weeks; only where there is a count.
    pub effort: Option<f64>,
    /// Group; `None` for a sample with nothing in it, or a lost one.
    pub taxon: Option<String>,
    /// Animals; `None` is not counted.
    pub count: Option<f64>,
}

/// All records and what the reader should know.
#[derive(Debug, Default)]
pub(crate) struct Records {
    /// In file order.
    pub records: Vec<Record>,
    /// Notes.
    pub notes: Vec<String>,
    /// Whether the file names traps.
    pub traps: bool,
    /// Name for the animals when there is no taxon column.
    pub only_group: Option<String>,
}

struct Reader<'a> {
    table: &'a Table,
    map: &'a Mapping,
    options: &'a Options,
    errors: Vec<PilotError>,
    tallies: BTreeMap<&'static str, usize>,
    decimals: [Option<usize>; 2],
}

/// Reads every row.
///
/// # Errors
/// Everything wrong in any row.
pub(crate) fn read(
    table: &Table,
    map: &Mapping,
    options: &Options,
) -> Result<Records, Vec<PilotError>> {
    let mut reader = Reader {
        table,
        map,
        options,
        errors: Vec::new(),
        tallies: BTreeMap::new(),
        decimals: [None; 2],
    };
    let day_first = reader.settle_order()?;
    let records: Vec<Record> = table
        .rows
        .iter()
        .filter_map(|row| reader.record(row, day_first))
        .collect();
    if !reader.errors.is_empty() {
        return Err(reader.errors);
    }
    let only_group = match map.get(Role::Taxon) {
        Some(_) => None,
        None => Some(options.target.clone().unwrap_or_else(|| {
            map.get(Role::Count)
                .map_or_else(|| "count".into(), |j| table.headers[j].clone())
        })),
    };
    let notes = reader.notes(day_first);
    Ok(Records {
        records,
        notes,
        traps: map.get(Role::Trap).is_some(),
        only_group,
    })
}

impl<'a> Reader<'a> {
    fn cell(&self, row: &'a Row, role: Role) -> Option<&'a str> {
        self.map.get(role).map(|j| row.cells[j].as_str())
    }

    fn error(&mut self, row: &Row, role: Role, problem: Problem) {
        let e = PilotError::file(&self.options.file, problem).at(row.line);
        self.errors.push(match self.map.get(role) {
            Some(j) => e.cell(&self.table.headers[j], &row.cells[j]),
            None => e,
        });
    }

    fn tally(&mut self, what: &'static str) {
        *self.tallies.entry(what).or_default() += 1;
    }

    /// Whether the day comes before the month in the whole file.
    fn settle_order(&self) -> Result<bool, Vec<PilotError>> {
        let mut order = Order::default();
        for row in &self.table.rows {
            for role in [Role::Date, Role::Set, Role::Collected] {
                if let Some(cell) = self.cell(row, role)
                    && let Ok(d) = date::written(cell)
                {
                    order.see(row.line, d);
                }
            }
        }
        order
            .settle(self.options.day_first)
            .map_err(|(line, p)| vec![PilotError::file(&self.options.file, p).at(line)])
    }

    /// A date cell: `Ok(None)` when there is no such column.
    fn day(&mut self, row: &'a Row, role: Role, day_first: bool) -> Result<Option<Date>, ()> {
        let Some(cell) = self.cell(row, role) else {
            return Ok(None);
        };
        let read = if number::missing(cell) {
            Err(Problem::Blank { role })
        } else {
            date::written(cell).and_then(|d| {
                let pair = matches!(d, Written::Pair { .. });
                Ok((date::resolve(d, day_first)?, pair))
            })
        };
        match read {
            Ok((day, pair)) => {
                if pair {
                    self.tally("pairs");
                }
                Ok(Some(day))
            }
            Err(p) => {
                self.error(row, role, p);
                Err(())
            }
        }
    }

    fn name(&mut self, row: &'a Row, role: Role) -> Result<Option<String>, ()> {
        match self.cell(row, role) {
            None => Ok(None),
            Some(cell) if number::missing(cell) => {
                self.error(row, role, Problem::Blank { role });
                Err(())
            }
            Some(cell) => Ok(Some(cell.to_owned())),
        }
    }

    fn record(&mut self, row: &'a Row, day_first: bool) -> Option<Record> {
        const TOTALS: [&str; 6] = ["total", "totals", "sum", "grand total", "mean", "average"];
        let count = match number::count(self.cell(row, Role::Count).unwrap_or("")) {
            Ok(c) => c,
            Err(p) => {
                self.error(row, Role::Count, p);
                return None;
            }
        };
        let site = self.name(row, Role::Site).ok()??;
        if TOTALS.contains(&site.to_lowercase().as_str()) {
            self.error(row, Role::Site, Problem::Totals);
            return None;
        }
        if count.is_none() && self.timeless(row) {
            // A lost trap often has no day of collecting: nothing is known of the sample, and nothing is needed.
            self.tally("not counted");
            return None;
        }
        let trap = self.name(row, Role::Trap);
        let time = self.time(row, day_first);
        let (Ok(trap), Ok((when, year, week))) = (trap, time) else {
            return None;
        };
        let effort = match count {
            None => None,
            Some(_) => Some(self.effort(row, when)?),
        };
        let taxon = self
            .cell(row, Role::Taxon)
            .filter(|c| !number::missing(c))
            .map(str::to_owned);
        if taxon.is_none() && self.map.get(Role::Taxon).is_some() && count.is_some_and(|c| c > 0.0)
        {
            self.error(row, Role::Taxon, Problem::NoTaxon);
            return None;
        }
        match count {
            None => self.tally("not counted"),
            Some(0.0) if self.says_lost(row) => self.tally("lost zeros"),
            Some(_) => {}
        }
        Some(Record {
            line: row.line,
            site,
            trap,
            when,
            year,
            week,
            effort,
            taxon,
            count,
        })
    }

    fn timeless(&self, row: &'a Row) -> bool {
        [
            Role::Date,
            Role::Set,
            Role::Collected,
            Role::Year,
            Role::Week,
            Role::Trap,
        ]
        .into_iter()
        .filter_map(|r| self.cell(row, r))
        .any(number::missing)
    }

    /// Whether a column without a role says that the trap did not work.
    fn says_lost(&self, row: &Row) -> bool {
        const WORDS: [&str; 8] = [
            "lost",
            "stolen",
            "trampled",
            "flooded",
            "destroyed",
            "dug up",
            "damaged",
            "missing",
        ];
        row.cells.iter().enumerate().any(|(j, cell)| {
            let cell = cell.to_lowercase();
            !self.map.uses(j) && WORDS.iter().any(|w| cell.contains(w))
        })
    }

    fn time(
        &mut self,
        row: &'a Row,
        day_first: bool,
    ) -> Result<(When, Option<i32>, Option<u8>), ()> {
        let date = self.day(row, Role::Date, day_first);
        let set = self.day(row, Role::Set, day_first);
        let collected = self.day(row, Role::Collected, day_first);
        let year = self.whole(row, Role::Year, number::year);
        let week = self.whole(row, Role::Week, number::week);
        let (date, set, collected, year, week) = (date?, set?, collected?, year?, week?);
        let span = match (set, collected) {
            (Some(set), Some(collected)) => {
                if date::days(set, collected) <= 0 && self.map.get(Role::Effort).is_none()
                    || date::days(set, collected) < 0
                {
                    let (set, collected) = (set.to_string(), collected.to_string());
                    let problem = Problem::CollectedBeforeSet { set, collected };
                    self.error(row, Role::Collected, problem);
                    return Err(());
                }
                Some((set, collected))
            }
            _ => None,
        };
        let day = date.or_else(|| span.map(|(a, b)| date::middle(a, b)));
        let Some(day) = day else {
            let when = match (year, week) {
                (_, Some(w)) => When::Week(year, w),
                (Some(y), None) => When::Year(y),
                (None, None) => When::Unknown,
            };
            return Ok((when, year, week));
        };
        let of_day = i32::from(day.year());
        if year.is_some_and(|y| y != of_day) {
            self.error(row, Role::Year, Problem::YearAtOdds { year: of_day });
            return Err(());
        }
        let iso = u8::try_from(day.iso_week_date().week()).unwrap_or(1);
        if week.is_some_and(|w| w != iso) {
            self.tally("weeks at odds");
        }
        let when = span.map_or(When::Day(day), |(a, b)| When::Span(a, b));
        Ok((when, Some(of_day), Some(iso)))
    }

    fn whole<T>(
        &mut self,
        row: &'a Row,
        role: Role,
        read: fn(&str) -> Result<T, Problem>,
    ) -> Result<Option<T>, ()> {
        let Some(cell) = self.cell(row, role) else {
            return Ok(None);
        };
        let value = if number::missing(cell) {
            Err(Problem::Blank { role })
        } else {
            read(cell)
        };
        value.map(Some).map_err(|p| self.error(row, role, p))
    }

    fn effort_unit(&self) -> EffortUnit {
        self.map.effort_unit.unwrap_or(self.options.effort_unit)
    }

    fn effort(&mut self, row: &'a Row, when: When) -> Option<f64> {
        let by_dates = match when {
            When::Span(a, b) => Some(f64::from(date::days(a, b)) / 7.0),
            _ => None,
        };
        let Some(cell) = self.cell(row, Role::Effort) else {
            return Some(by_dates.unwrap_or(1.0));
        };
        let (value, decimals) = match number::effort(cell, self.table.separator != b',') {
            Ok(v) => v,
            Err(p) => {
                self.error(row, Role::Effort, p);
                return None;
            }
        };
        match decimals {
            Decimals::None => {}
            Decimals::Point => {
                self.decimals[0].get_or_insert(row.line);
            }
            Decimals::Comma => {
                self.decimals[1].get_or_insert(row.line);
            }
        }
        if let [Some(point), Some(comma)] = self.decimals
            && (row.line == point || row.line == comma)
        {
            let other = point.min(comma);
            self.error(row, Role::Effort, Problem::MixedDecimals { other });
            return None;
        }
        let effort = value * self.effort_unit().trap_weeks();
        if by_dates.is_some_and(|d| (d - effort).abs() > 1.0 / 7.0) {
            self.tally("efforts at odds");
        }
        Some(effort)
    }
}
