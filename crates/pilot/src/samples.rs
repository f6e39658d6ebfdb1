//! Records to samples: what was in each trap at each time, zeros included.

use super::error::PilotError;
use super::problem::Problem;
use super::record::{Record, Records, When};
use std::collections::{BTreeMap, BTreeSet};

/// Most groups in one file: a target and fifty groups of by-catch, as in a scenario.
pub const MOST_GROUPS: usize = 51;

/// One count of one group.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Observation {
    /// Site, 0-based.
    pub site: usize,
    /// Year, 0-based; 0 when the file tells none.
    pub year: usize,
    /// ISO week.
    pub week: Option<u8>,
    /// Trap-weeks.
    pub effort: f64,
    /// Animals.
    pub count: f64,
}

/// One group's counts.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Counts {
    /// The group's name.
    pub name: String,
    /// Counts in order of site, trap and time.
    pub rows: Vec<Observation>,
    /// Zeros among them that the file does not write down.
    pub zeros_added: usize,
}

impl Counts {
    /// Animals in all.
    pub fn total(&self) -> f64 {
        self.rows.iter().map(|r| r.count).sum()
    }

    /// Trap-weeks in all.
    pub fn effort(&self) -> f64 {
        self.rows.iter().map(|r| r.effort).sum()
    }
}

/// All samples of a file.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Samples {
    /// Groups in order of name.
    pub groups: Vec<Counts>,
    /// Number of sites.
    pub sites: usize,
    /// Number of traps; 0 when the file names none.
    pub traps: usize,
    /// Most traps of one site.
    pub traps_per_site: usize,
    /// Years in order; empty when the file tells none.
    pub years: Vec<i32>,
    /// Distinct weeks.
    pub weeks: usize,
    /// Samples with at least one count.
    pub samples: usize,
    /// Rows that were not counted.
    pub not_counted: usize,
}

type Key = (String, Option<String>, When);

/// Rows of one sample (or of several that the file does not tell apart).
#[derive(Default)]
struct Sample {
    groups: BTreeMap<String, Vec<Record>>,
    /// Rows that say: checked, nothing in it.
    empty: Vec<Record>,
}

/// Gathers records into samples and adds the zeros.
///
/// # Errors
/// A group counted twice in one sample, one sample with two efforts, too many groups.
pub(crate) fn gather(
    file: &str,
    read: Records,
    notes: &mut Vec<String>,
) -> Result<Samples, Vec<PilotError>> {
    let mut errors = Vec::new();
    let mut samples: BTreeMap<Key, Sample> = BTreeMap::new();
    let mut names = BTreeSet::new();
    let mut site_names = BTreeSet::new();
    let mut years = BTreeSet::new();
    let mut weeks = BTreeSet::new();
    let mut out = Samples::default();
    for mut record in read.records {
        if record.taxon.is_none() {
            record.taxon.clone_from(&read.only_group);
        }
        out.not_counted += usize::from(record.count.is_none());
        if let Some(name) = &record.taxon {
            names.insert(name.clone());
        }
        if record.count.is_some() {
            site_names.insert(record.site.clone());
            years.extend(record.year);
            weeks.extend(record.week);
        }
        let key = (record.site.clone(), record.trap.clone(), record.when);
        let sample = samples.entry(key).or_default();
        match (&record.taxon, record.count) {
            (Some(name), _) => sample.groups.entry(name.clone()).or_default().push(record),
            (None, Some(_)) => sample.empty.push(record),
            // Lost: nothing is known of it, so no zeros either.
            (None, None) => {}
        }
    }
    if names.len() > MOST_GROUPS {
        let (groups, most) = (names.len(), MOST_GROUPS);
        return Err(vec![PilotError::file(
            file,
            Problem::TooManyGroups { groups, most },
        )]);
    }
    alike("Sites", &site_names, notes);
    alike("Groups", &names, notes);
    out.groups = names
        .iter()
        .map(|name| Counts {
            name: name.clone(),
            rows: Vec::new(),
            zeros_added: 0,
        })
        .collect();
    let site_index = index(&site_names);
    let year_index = index(&years);
    let mut traps: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    let mut untold = 0;
    for ((site, trap, when), sample) in &samples {
        let told_apart = trap.is_some() && !matches!(when, When::Unknown | When::Year(_));
        if told_apart {
            doubles(file, sample, &mut errors);
        }
        let Some((efforts, lead)) = efforts(file, sample, told_apart, &mut errors) else {
            continue;
        };
        let n = efforts.len();
        if let Some(trap) = trap {
            traps.entry(site).or_default().insert(trap);
        }
        out.samples += n;
        for group in &mut out.groups {
            let rows = sample.groups.get(&group.name).map_or(&[][..], |r| r);
            let zeros = n.saturating_sub(rows.len());
            let at = |effort: f64, count: f64| Observation {
                site: site_index.get(site).copied().unwrap_or(0),
                year: lead
                    .year
                    .and_then(|y| year_index.get(&y).copied())
                    .unwrap_or(0),
                week: lead.week,
                effort,
                count,
            };
            for row in rows {
                if let (Some(count), Some(effort)) = (row.count, row.effort) {
                    group.rows.push(at(effort, count));
                }
            }
            // A group without rows has a zero for each sample; one with some rows only where all efforts are equal.
            group
                .rows
                .extend(efforts[n - zeros..].iter().map(|&e| at(e, 0.0)));
            // A row that says "nothing in it" writes the zeros of every group down.
            group.zeros_added += zeros.saturating_sub(sample.empty.len());
            untold += usize::from(zeros > 0 && n > 1);
        }
    }
    if !errors.is_empty() {
        errors.sort_by_key(|e| e.row);
        return Err(errors);
    }
    for group in out.groups.iter().filter(|g| g.zeros_added > 0) {
        notes.push(format!(
            "{}: {} zeros added, one for each sample that lists other groups but not this one. Wrong if the group was not looked for there: then write NA rows.",
            group.name, group.zeros_added
        ));
    }
    if untold > 0 {
        notes.push(
            "Some samples of one site and time cannot be told apart (no trap or no date): their zeros are added up to the group with most rows."
                .into(),
        );
    }
    out.sites = site_names.len();
    out.traps = traps.values().map(BTreeSet::len).sum();
    out.traps_per_site = traps.values().map(BTreeSet::len).max().unwrap_or(0);
    out.years = years.into_iter().collect();
    out.weeks = weeks.len();
    Ok(out)
}

fn index<T: Ord + Clone>(set: &BTreeSet<T>) -> BTreeMap<T, usize> {
    set.iter()
        .cloned()
        .enumerate()
        .map(|(i, v)| (v, i))
        .collect()
}

/// A group counted twice in one trap at one time: which is right cannot be known.
fn doubles(file: &str, sample: &Sample, errors: &mut Vec<PilotError>) {
    for rows in sample.groups.values().chain([&sample.empty]) {
        for row in rows.iter().skip(1) {
            let other = rows[0].line;
            errors.push(PilotError::file(file, Problem::Duplicate { other }).at(row.line));
        }
    }
}

/// The effort of each sample that the rows of one key are, and a counted row of them; none if nothing was counted.
fn efforts<'a>(
    file: &str,
    sample: &'a Sample,
    told_apart: bool,
    errors: &mut Vec<PilotError>,
) -> Option<(Vec<f64>, &'a Record)> {
    let all = || sample.groups.values().chain([&sample.empty]);
    let lead = all().flatten().find(|r| r.count.is_some())?;
    let of = |rows: &[Record]| rows.iter().filter_map(|r| r.effort).collect::<Vec<f64>>();
    // Of several groups with most rows the first; efforts stand only in counted rows.
    let efforts = all().map(|rows| of(rows)).rev().max_by_key(Vec::len)?;
    let partly = sample
        .groups
        .values()
        .any(|rows| rows.len() < efforts.len());
    if told_apart || partly {
        for row in all().flatten() {
            if row.count.is_some() && row.effort != lead.effort {
                let other = lead.line;
                let problem = Problem::EffortAtOdds { other };
                errors.push(PilotError::file(file, problem).at(row.line));
            }
        }
    }
    Some((efforts, lead))
}

/// Names that differ only in case, spaces or signs may be one.
fn alike(what: &str, names: &BTreeSet<String>, notes: &mut Vec<String>) {
    let mut by_letters: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    for name in names {
        let letters = name.chars().filter(|c| c.is_alphanumeric());
        let letters: String = letters.flat_map(char::to_lowercase).collect();
        by_letters.entry(letters).or_default().push(name);
    }
    for same in by_letters.values().filter(|s| s.len() > 1) {
        notes.push(format!(
            "{what} {} are taken as different: if they are one, write them one way.",
            same.join(" and ")
        ));
    }
}
