//! From a scenario as written to one that can run.

use super::check_analysis;
use super::check_community;
use super::check_costs;
use super::check_gentle;
use super::check_limits;
use super::check_looks;
use super::check_question;
use super::check_revisit;
use super::check_season;
use super::check_several;
use super::fields::{self, Field};
use super::place;
use super::premise::{Premise, Source};
use super::{FORMAT, Scenario};
use thiserror::Error;

/// Most site-years of one survey.
pub const MOST_SITE_YEARS: u64 = 20_000;
/// Most trap-weeks of one survey.
pub const MOST_TRAP_WEEKS: u64 = 4_000_000;
/// Most sites of a survey whose sites are correlated by distance.
pub const MOST_CORRELATED_SITES: u32 = 1_000;
/// Smallest region in km2 over which sites can be spread.
const SMALLEST_REGION: f64 = 0.0001;
/// Most by-catch groups.
pub const MOST_GROUPS: usize = 50;

/// What is wrong with a scenario: where, what value, what bound.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Fault {
    /// A number out of its bounds.
    #[error("{path} is {value}: give {bound}")]
    Bound {
        /// Where.
        path: String,
        /// The value found.
        value: String,
        /// What it may be.
        bound: String,
    },
    /// The text is not a scenario.
    #[error("{path}: {problem}")]
    Shape {
        /// Where.
        path: String,
        /// What is wrong there.
        problem: String,
    },
    /// The survey is larger than the program takes.
    #[error("the survey has {size} {what}, at most {most} can be simulated: lower {lower}")]
    Size {
        /// Size asked for.
        size: u64,
        /// Unit of size.
        what: &'static str,
        /// Largest allowed.
        most: u64,
        /// What to lower.
        lower: &'static str,
    },
}

impl Fault {
    /// A fault that only the plan's choice of trap has made.
    fn with_option(self, s: &Scenario) -> Self {
        let name = s.plan.trap_option.as_deref().unwrap_or_default();
        match self {
            Self::Bound { path, value, bound } => Self::Bound {
                path,
                value: format!("{value} with plan.trap_option {name:?}"),
                bound,
            },
            other => other,
        }
    }
}

/// A scenario whose every field lies within its bounds. Only these run. It reads as what runs: with the premises of the
/// trap that the plan chooses ([`super::TrapOption`]).
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    runs: Scenario,
    /// As it was written, where an option is folded into the premises.
    written: Option<Box<Scenario>>,
}

impl std::ops::Deref for Checked {
    type Target = Scenario;
    fn deref(&self) -> &Scenario {
        &self.runs
    }
}

impl Checked {
    /// The scenario that runs, to be edited and checked again.
    pub fn into_inner(self) -> Scenario {
        self.runs
    }

    /// The scenario as it stands in its file: what is saved, and sent on.
    pub fn as_written(&self) -> &Scenario {
        self.written.as_deref().unwrap_or(&self.runs)
    }

    /// The same under other premises, for a closed form in a limit (a spread of 0, unlimited traps): not checked, since such
    /// limits lie beyond the format's bounds.
    pub(crate) fn supposing(&self, change: impl FnOnce(&mut Scenario)) -> Self {
        let mut runs = self.runs.clone();
        change(&mut runs);
        Self {
            runs,
            written: None,
        }
    }

    /// The digest of the scenario as written.
    pub fn digest(&self) -> String {
        self.as_written().digest()
    }
}

impl Scenario {
    /// Checks every field.
    ///
    /// # Errors
    /// Every fault found, in file order.
    pub fn check(self) -> Result<Checked, Vec<Fault>> {
        let faults = self.faults();
        if !faults.is_empty() {
            return Err(faults);
        }
        // The one place where a choice of trap becomes premises.
        match self.folded() {
            Some(runs) => match runs.faults() {
                faults if faults.is_empty() => Ok(Checked {
                    runs,
                    written: Some(Box::new(self)),
                }),
                faults => Err(faults.into_iter().map(|f| f.with_option(&self)).collect()),
            },
            None => Ok(Checked {
                runs: self,
                written: None,
            }),
        }
    }

    fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        if self.leastcatch != FORMAT {
            faults.push(Fault::Bound {
                path: "leastcatch".into(),
                value: self.leastcatch.to_string(),
                bound: format!("{FORMAT}, the version of the format this build reads"),
            });
        }
        check_text("title", &self.title, 0, 200, &mut faults);
        check_text("notes", &self.notes, 0, 10_000, &mut faults);
        check_text(
            "premises.target.name",
            &self.premises.target.name,
            1,
            100,
            &mut faults,
        );
        for field in fields::all() {
            check_field("", field, self, &mut faults);
        }
        if self.premises.bycatch.len() > MOST_GROUPS {
            faults.push(Fault::Bound {
                path: "premises.bycatch".into(),
                value: format!("{} groups", self.premises.bycatch.len()),
                bound: format!("at most {MOST_GROUPS} groups"),
            });
        }
        let mut names = std::collections::BTreeSet::new();
        for (i, group) in self.premises.bycatch.iter().enumerate() {
            let prefix = format!("premises.bycatch[{i}].");
            check_text(&format!("{prefix}name"), &group.name, 1, 100, &mut faults);
            if !names.insert(group.name.trim()) {
                faults.push(Fault::Bound {
                    path: format!("{prefix}name"),
                    value: format!("{:?}", group.name),
                    bound: "a name that no other group has".into(),
                });
            }
            for field in fields::BYCATCH {
                check_field(&prefix, field, group, &mut faults);
            }
        }
        check_several::check(self, &mut faults);
        check_costs::check(self, &mut faults);
        check_gentle::check(self, &mut faults);
        self.check_together(&mut faults);
        faults
    }

    fn check_together(&self, faults: &mut Vec<Fault>) {
        let plan = &self.plan;
        if u64::from(plan.first_week) + u64::from(plan.weeks) > 54 {
            faults.push(Fault::Bound {
                path: "plan.weeks".into(),
                value: plan.weeks.to_string(),
                bound: match 54u32.saturating_sub(plan.first_week) {
                    1 => format!("at most 1 week from week {}", plan.first_week),
                    most => format!("at most {most} weeks from week {}", plan.first_week),
                },
            });
        }
        check_season::check(self, faults);
        check_question::check(self, faults);
        check_revisit::check(self, faults);
        check_community::check(self, faults);
        check_looks::check(self, faults);
        self.check_region(faults);
        check_analysis::check(self, faults);
        let site_years = u64::from(plan.sites) * u64::from(plan.years);
        if site_years > MOST_SITE_YEARS {
            let (what, lower) = ("site-years", "plan.sites or plan.years");
            faults.push(Fault::Size {
                size: site_years,
                what,
                most: MOST_SITE_YEARS,
                lower,
            });
        }
        let trap_weeks = site_years * u64::from(plan.traps_per_site) * u64::from(plan.weeks);
        if trap_weeks > MOST_TRAP_WEEKS {
            let (what, lower) = ("trap-weeks", "sites, traps, weeks or years");
            faults.push(Fault::Size {
                size: trap_weeks,
                what,
                most: MOST_TRAP_WEEKS,
                lower,
            });
        }
        place::check(self, faults);
        check_limits::check(self, faults);
        let largest = u64::from(self.limits.sites) * u64::from(self.longest_years());
        if largest > MOST_SITE_YEARS {
            let (what, lower) = (
                "site-years at its limits",
                "limits.sites, limits.years or plan.years",
            );
            faults.push(Fault::Size {
                size: largest,
                what,
                most: MOST_SITE_YEARS,
                lower,
            });
        }
    }
}

impl Scenario {
    /// Correlation by distance needs a region, and not too many sites.
    fn check_region(&self, faults: &mut Vec<Fault>) {
        let d = &self.premises.departures;
        if d.correlation_length_km.value <= 0.0 {
            return;
        }
        if d.region_km2.value < SMALLEST_REGION {
            faults.push(Fault::Bound {
                path: "premises.departures.region_km2.value".into(),
                value: d.region_km2.value.to_string(),
                bound: "an area of at least 0.0001 km², since premises.departures.correlation_length_km is above 0".into(),
            });
        }
        if let Some(t) = self.plan.transect.as_ref().filter(|t| !t.placing.is_even()) {
            faults.push(Fault::Bound {
                path: "plan.transect.placing".into(),
                value: t.placing.key().into(),
                bound: "even, since premises.departures.correlation_length_km is above 0: sites that resemble their neighbours are spread evenly".into(),
            });
        }
        for (sites, what, lower) in [
            (self.plan.sites, "correlated sites", "plan.sites"),
            (
                self.limits.sites,
                "correlated sites at its limits",
                "limits.sites",
            ),
        ] {
            if sites > MOST_CORRELATED_SITES {
                faults.push(Fault::Size {
                    size: u64::from(sites),
                    what,
                    most: u64::from(MOST_CORRELATED_SITES),
                    lower,
                });
            }
        }
    }
}

pub(super) fn check_text(
    path: &str,
    text: &str,
    fewest: usize,
    most: usize,
    faults: &mut Vec<Fault>,
) {
    let length = text.trim().chars().count();
    if length < fewest || length > most {
        let value = if length == 0 {
            "empty".into()
        } else {
            format!("{length} characters long")
        };
        let bound = format!("{fewest} to {most} characters");
        faults.push(Fault::Bound {
            path: path.into(),
            value,
            bound,
        });
    }
}

pub(super) fn check_field<T>(prefix: &str, field: &Field<T>, of: &T, faults: &mut Vec<Fault>) {
    let premise = field.premise.and_then(|p| p(of));
    let path = format!("{prefix}{}", field.path);
    if let Some(value) = (field.read)(of)
        && !field.allows(value)
    {
        let path = if premise.is_some() {
            format!("{path}.value")
        } else {
            path.clone()
        };
        faults.push(Fault::Bound {
            path,
            value: value.to_string(),
            bound: field.bound(),
        });
    }
    if let Some(premise) = premise {
        check_premise(&path, field, premise, faults);
    }
}

fn check_premise<T>(path: &str, field: &Field<T>, premise: &Premise, faults: &mut Vec<Fault>) {
    for (key, end) in [("low", premise.low), ("high", premise.high)] {
        let Some(end) = end else { continue };
        let side = if key == "low" {
            end <= premise.value
        } else {
            end >= premise.value
        };
        if !side || !field.allows(end) {
            let word = if key == "low" { "at most" } else { "at least" };
            faults.push(Fault::Bound {
                path: format!("{path}.{key}"),
                value: end.to_string(),
                bound: format!("{}, {word} the value {}", field.bound(), premise.value),
            });
        }
    }
    if premise.source == Source::Published
        && premise.citation.as_deref().unwrap_or("").trim().is_empty()
    {
        faults.push(Fault::Shape {
            path: format!("{path}.citation"),
            problem: "missing: a published premise names its publication".into(),
        });
    }
}
