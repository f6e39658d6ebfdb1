//! What an answer about a range shift tells besides: how its profile intervals hold, and where else along the gradient the
//! plan's sites could stand, compared by closed form.

use super::share::Share;
use super::significant::profile_coverage;
use crate::closed_form::{self, Detection};
use crate::evaluate::Finding;
use crate::generator::band;
use crate::scenario::{Checked, Placing, Plan, Scenario, Transect};
use serde::Serialize;

/// Widths (or tolerances) to either side of where the edge (or optimum) is expected that an edge-only transect reaches.
pub const EDGE_ONLY: f64 = 2.0;

/// As many sites placed otherwise.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlacedPlan {
    /// `whole`: the plan's own transect; `edge_only`: the part of it within two widths (or tolerances) of where the edge (or
    /// optimum) is expected during the survey.
    pub transect: &'static str,
    /// Lowest place of a site.
    pub lowest: f64,
    /// Highest place of a site.
    pub highest: f64,
    /// Where sites stand between them.
    pub placing: Placing,
    /// Standard error of the move by closed form, gradient units a decade.
    pub se: f64,
    /// Power by closed form.
    pub preview_power: f64,
}

/// What an answer about a range shift tells besides.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RangeShiftTold {
    /// Share of surveys whose interval by profile likelihood, at one less the significance level, holds the true move;
    /// `null` unless the likelihood ratio is the planned test.
    pub profile_coverage: Option<Share>,
    /// Chance that an occupied site shows the target in a year, from the premises of the catch; `null` but for an edge.
    pub detection_per_year: Option<f64>,
    /// As many sites in each placing, on the whole transect and, where that is a shorter one, on the edge-only one; those
    /// that cannot tell the move are left out.
    pub placings: Vec<PlacedPlan>,
    /// The one with the smallest standard error, of equal ones the first; `null` without any.
    pub best_placing: Option<PlacedPlan>,
}

impl RangeShiftTold {
    /// Of a range shift, without what its surveys say; `None` of any other question.
    pub(super) fn of(scenario: &Checked, plan: &Plan) -> Option<Self> {
        let own = plan.transect.as_ref()?;
        let placings = placings(scenario, plan, own);
        let better = |a: &PlacedPlan, b: &PlacedPlan| b.se < a.se * (1.0 - 1e-9);
        let mut best = placings.first();
        for other in &placings {
            if best.is_some_and(|best| better(best, other)) {
                best = Some(other);
            }
        }
        let edge = scenario.edge().is_some();
        Some(Self {
            profile_coverage: None,
            detection_per_year: edge.then(|| Detection::new(scenario, plan).of_a_year()),
            best_placing: best.cloned(),
            placings,
        })
    }

    /// With its simulated surveys of the world of change.
    pub(super) fn with_surveys(&self, scenario: &Checked, change: &[Finding]) -> Self {
        Self {
            profile_coverage: profile_coverage(scenario, change),
            ..self.clone()
        }
    }
}

fn placings(scenario: &Checked, plan: &Plan, own: &Transect) -> Vec<PlacedPlan> {
    let whole = (own.lowest, own.highest);
    let only = band(scenario, plan, EDGE_ONLY).filter(|b| *b != whole);
    let transects = [("whole", Some(whole)), ("edge_only", only)];
    let mut all = Vec::new();
    for (transect, ends) in transects {
        let Some((lowest, highest)) = ends else {
            continue;
        };
        for placing in Placing::ALL {
            let other = Plan {
                transect: Some(Transect {
                    lowest,
                    highest,
                    placing,
                }),
                ..plan.clone()
            };
            let sound = Scenario {
                plan: other.clone(),
                ..(**scenario).clone()
            };
            if sound.check().is_err() {
                continue;
            }
            let se = closed_form::standard_error(scenario, &other);
            if se.is_finite() {
                all.push(PlacedPlan {
                    transect,
                    lowest,
                    highest,
                    placing,
                    se,
                    preview_power: closed_form::power_at_stated(scenario, &other),
                });
            }
        }
    }
    all
}
