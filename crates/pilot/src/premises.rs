//! Text in, premises out.

use super::error::{PilotError, shorten};
use super::estimate::Estimate;
use super::group::Group;
use super::options::Options;
use super::problem::Problem;
use super::samples::{Counts, Samples};
use super::{header, record, samples, table, text};
use serde::{Deserialize, Serialize};

/// The target's premises. Catches are NB2: variance mu + mu^2/k; SDs are on the log scale.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TargetPremises {
    /// The group.
    pub name: String,
    /// Animals of one trap in one week at the season's peak, at a median site in a typical year.
    pub catch_per_trap_week: Estimate,
    /// Dispersion k of one sample's count.
    pub dispersion_k: Estimate,
    /// SD of sites.
    pub site_sd: Estimate,
    /// SD of years shared by all sites.
    pub year_sd: Estimate,
    /// SD of a site's own year.
    pub site_year_sd: Estimate,
    /// SD of traps within a site: always common practice, the model has no trap term.
    pub trap_sd: Estimate,
    /// Week of the season's peak; `None` when the file tells no weeks.
    pub season_peak_week: Option<Estimate>,
    /// SD of the season's bell curve in weeks.
    pub season_width_weeks: Estimate,
    /// Laplace log likelihood of the fit.
    pub log_likelihood: f64,
    /// Counts behind the fit, added zeros included.
    pub rows: usize,
    /// How the fit ended.
    pub outcome: String,
}

/// A by-catch group's premises, as the target's.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BycatchPremises {
    /// The group.
    pub name: String,
    /// Animals of one trap in one week at the group's peak.
    pub catch_per_trap_week: Estimate,
    /// Dispersion k of one sample's count.
    pub dispersion_k: Estimate,
    /// SD of sites.
    pub site_sd: Estimate,
    /// SD of years shared by all sites.
    pub year_sd: Estimate,
    /// Week of the group's peak; `None` when the file tells no weeks.
    pub season_peak_week: Option<Estimate>,
    /// SD of the group's season in weeks.
    pub season_width_weeks: Estimate,
    /// Laplace log likelihood; `None` when the premises come from totals.
    pub log_likelihood: Option<f64>,
    /// Counts behind it, added zeros included.
    pub rows: usize,
    /// Animals counted.
    pub animals: f64,
    /// How the fit ended, or why there is none.
    pub outcome: String,
}

/// What was in the file.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Summary {
    /// Rows below the header with anything in them.
    pub rows: usize,
    /// Rows without a count, left out.
    pub not_counted: usize,
    /// Samples (a trap at a time) with at least one count.
    pub samples: usize,
    /// Zeros added for groups that a sample does not list, over all groups.
    pub zeros_added: usize,
    /// Sites.
    pub sites: usize,
    /// Traps; 0 when the file names none.
    pub traps: usize,
    /// Years; 0 when the file tells none.
    pub years: usize,
    /// Different weeks of the year; 0 when the file tells none.
    pub weeks: usize,
    /// Groups.
    pub groups: usize,
}

/// What a pilot file tells.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PilotPremises {
    /// The target.
    pub target: TargetPremises,
    /// All other groups, in order of name.
    pub bycatch: Vec<BycatchPremises>,
    /// What was assumed, left out, added or could not be told.
    pub notes: Vec<String>,
    /// What was in the file.
    pub counts: Summary,
}

/// Reads a pilot file and fits every group.
///
/// # Errors
/// Everything wrong with the file, at most [`super::MOST_ERRORS`] and how many more; or why the target cannot be
/// fitted.
pub fn premises(bytes: &[u8], options: &Options) -> Result<PilotPremises, Vec<PilotError>> {
    read_and_fit(bytes, options).map_err(|errors| shorten(&options.file, errors))
}

fn read_and_fit(bytes: &[u8], options: &Options) -> Result<PilotPremises, Vec<PilotError>> {
    let file = options.file.as_str();
    let whole = |problem| vec![PilotError::file(file, problem)];
    let text = text::read(bytes).map_err(|(row, problem)| {
        vec![PilotError {
            row,
            ..PilotError::file(file, problem)
        }]
    })?;
    let table = table::read(&text).map_err(|problems| {
        let at = |(row, p)| PilotError::file(file, p).at(row);
        problems.into_iter().map(at).collect::<Vec<_>>()
    })?;
    let map = header::recognise(file, &table, &options.columns)?;
    let records = record::read(&table, &map, options)?;
    let mut notes = records.notes.clone();
    if text.twice_encoded {
        notes.push("Some letters look as if encoded twice (such as \u{c3}\u{a9} for \u{e9}): names are kept as they stand.".into());
    }
    let names_traps = records.traps;
    let unread = table.rows.len() - records.records.len();
    let samples = samples::gather(file, records, &mut notes)?;
    let target = choose_target(&samples, options, &mut notes).map_err(whole)?;
    if samples.years.is_empty() {
        notes.push("The file tells no years: all samples are taken as one year's.".into());
    }
    let catches = &samples.groups[target];
    let fit = Group {
        counts: catches,
        target: Some(options.site_year),
        notes: &mut notes,
    };
    let of_target = fit.of_target().map_err(whole)?;
    let log_likelihood = of_target.log_likelihood.ok_or_else(|| {
        let (group, why) = (catches.name.clone(), of_target.outcome.clone());
        whole(Problem::Fit { group, why })
    })?;
    notes.push(format!(
        "{}: {}",
        catches.name,
        trap_note(&samples, names_traps)
    ));
    let mut bycatch = Vec::new();
    for counts in samples.groups.iter().filter(|g| g.name != catches.name) {
        let group = Group {
            counts,
            target: None,
            notes: &mut notes,
        };
        let p = group.of_bycatch().map_err(whole)?;
        bycatch.push(BycatchPremises {
            name: counts.name.clone(),
            catch_per_trap_week: p.catch,
            dispersion_k: p.k,
            site_sd: p.site,
            year_sd: p.year,
            season_peak_week: p.peak,
            season_width_weeks: p.width,
            log_likelihood: p.log_likelihood,
            rows: counts.rows.len(),
            animals: counts.total(),
            outcome: p.outcome,
        });
    }
    if !bycatch.is_empty() {
        notes.push("By-catch groups that a scenario does not have yet enter it as arthropods: set the class of vertebrates and protected animals by hand.".into());
    }
    let counts = Summary {
        rows: table.rows.len(),
        not_counted: samples.not_counted + unread,
        samples: samples.samples,
        zeros_added: samples.groups.iter().map(|g| g.zeros_added).sum(),
        sites: samples.sites,
        traps: samples.traps,
        years: samples.years.len(),
        weeks: samples.weeks,
        groups: samples.groups.len(),
    };
    Ok(PilotPremises {
        target: TargetPremises {
            name: catches.name.clone(),
            catch_per_trap_week: of_target.catch,
            dispersion_k: of_target.k,
            site_sd: of_target.site,
            year_sd: of_target.year,
            site_year_sd: of_target.site_year,
            trap_sd: Estimate::common("trap_sd").map_err(whole)?,
            season_peak_week: of_target.peak,
            season_width_weeks: of_target.width,
            log_likelihood,
            rows: catches.rows.len(),
            outcome: of_target.outcome,
        },
        bycatch,
        notes,
        counts,
    })
}

fn trap_note(samples: &Samples, named: bool) -> String {
    let why = if !named {
        "the file names no traps"
    } else if samples.traps_per_site < 2 {
        "there is one trap for each site"
    } else {
        "the model has no term for traps yet"
    };
    format!(
        "the SD of traps within a site is common practice ({why}); k holds what there is of it, so k may be too small."
    )
}

/// The group asked for, or the one with the largest total.
fn choose_target(
    samples: &Samples,
    options: &Options,
    notes: &mut Vec<String>,
) -> Result<usize, Problem> {
    let groups = &samples.groups;
    let counted = |g: &Counts| !g.rows.is_empty();
    if !groups.iter().any(counted) {
        return Err(Problem::NothingCounted);
    }
    if let Some(wanted) = &options.target {
        let same = |g: &Counts| g.name == wanted.trim();
        let alike = |g: &Counts| g.name.to_lowercase() == wanted.trim().to_lowercase();
        let found = groups.iter().position(same);
        return found
            .or_else(|| groups.iter().position(alike))
            .ok_or_else(|| Problem::NoTarget {
                wanted: wanted.clone(),
                groups: groups.iter().map(|g| g.name.clone()).collect(),
            });
    }
    let mut best = 0;
    for (i, g) in groups.iter().enumerate() {
        if g.total() > groups[best].total() {
            best = i;
        }
    }
    if groups.len() > 1 {
        notes.push(format!(
            "Target: {}, the group with the largest total.",
            groups[best].name
        ));
    }
    Ok(best)
}
