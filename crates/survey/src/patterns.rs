//! The same yearly effort under each revisit pattern, by closed form.

use crate::closed_form::{expected_toll, preview_at_stated};
use crate::scenario::{Checked, Fault, Limits, Plan, Revisit, Scenario};
use serde::Serialize;

/// One pattern.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pattern {
    /// Which sites are visited in which years; `None`: every site in every year.
    pub revisit: Option<Revisit>,
    /// The plan's own.
    pub own: bool,
    /// The different sites of all years together.
    pub sites: u32,
    /// Sites of the years with the most.
    pub sites_in_a_year: u32,
    /// Site-years visited when nobody drops out.
    pub site_years: u32,
    /// What comes of it, or why it cannot be planned.
    #[serde(flatten)]
    pub outcome: Outcome,
}

/// What comes of a pattern.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// By closed form.
    Planned {
        /// Variance of the estimate, on the scale of its standard error.
        variance: f64,
        /// Standard error of the estimate.
        se: f64,
        /// Power.
        power: f64,
        /// Share of surveys in which nothing changes that raise a false alarm, by closed form.
        false_alarm: f64,
        /// All animals killed.
        toll: f64,
    },
    /// Why not.
    Refused(String),
}

/// Panels, and turns that a site stays, of the patterns compared, where the plan has none of its own.
const USUAL: u32 = 4;

/// The patterns that are compared: with as many sites in a year as the plan has, as near as whole panels allow, and the
/// plan's own first.
pub fn compared(plan: &Plan) -> Vec<(Option<Revisit>, u32)> {
    let (in_a_year, turns) = (plan.most_sites_in_a_year(), plan.turns());
    let paired = plan.groups.as_ref().is_some_and(|g| g.paired);
    // Pairs stay whole.
    let each = if paired { 2 } else { 1 };
    let half = in_a_year / 2 / each * each;
    let (panels, stay) = (USUAL.min(turns), USUAL.min(turns));
    let entering = (in_a_year / stay / each * each).max(each);
    let own = (plan.revisit, plan.sites);
    let mut all = vec![own];
    let others = [
        (None, in_a_year),
        (
            Some(Revisit::Augmented {
                always: half,
                panels,
            }),
            half + (in_a_year - half) * panels,
        ),
        (Some(Revisit::Alternating { panels }), in_a_year * panels),
        (
            Some(Revisit::Split { always: half }),
            half + (in_a_year - half) * turns,
        ),
        (
            Some(Revisit::Rotating { stay }),
            entering * (turns + stay - 1),
        ),
        (Some(Revisit::NewEachYear), in_a_year * turns),
    ];
    // Years are those of the plan, so that a pattern that leaves years out is compared as it is.
    all.extend(others.into_iter().filter(|other| *other != own));
    all
}

/// The scenario with another pattern and number of sites, within limits of its own.
///
/// # Errors
/// When it cannot be planned.
pub fn with(
    scenario: &Scenario,
    revisit: Option<Revisit>,
    sites: u32,
) -> Result<Checked, Vec<Fault>> {
    let plan = Plan {
        revisit,
        sites,
        ..scenario.plan.clone()
    };
    Scenario {
        limits: Limits {
            sites,
            traps_per_site: plan.traps_per_site,
            weeks: plan.weeks,
            ..Limits::default()
        },
        plan,
        ..scenario.clone()
    }
    .check()
}

/// What each pattern makes of the plan.
pub fn patterns(scenario: &Checked) -> Vec<Pattern> {
    compared(&scenario.plan)
        .into_iter()
        .enumerate()
        .map(|(i, (revisit, sites))| {
            let plan = Plan {
                revisit,
                sites,
                ..scenario.plan.clone()
            };
            let outcome = match with(scenario, revisit, sites) {
                Ok(s) => {
                    let p = preview_at_stated(&s, &s.plan);
                    Outcome::Planned {
                        variance: p.se * p.se,
                        se: p.se,
                        power: p.power,
                        false_alarm: p.false_alarm,
                        toll: expected_toll(&s, &s.plan).total(),
                    }
                }
                Err(faults) => {
                    Outcome::Refused(faults.first().map(Fault::to_string).unwrap_or_default())
                }
            };
            Pattern {
                revisit,
                own: i == 0,
                sites,
                sites_in_a_year: plan.most_sites_in_a_year(),
                site_years: plan.site_years(),
                outcome,
            }
        })
        .collect()
}
