//! Where else along the gradient a plan's sites could stand, compared by closed form.

use crate::closed_form;
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

/// All placings, and the best of them.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlacingTold {
    /// Each placing on the whole transect and, where that is a shorter one, on the edge-only one; those without a finite
    /// standard error are left out.
    pub compared: Vec<PlacedPlan>,
    /// The one with the smallest standard error; of equal ones the first.
    pub best: PlacedPlan,
}

impl PlacingTold {
    /// Of a range shift; `None` of any other question, or when no placing can tell the move.
    pub(super) fn of(scenario: &Checked, plan: &Plan) -> Option<Self> {
        let own = plan.transect.as_ref()?;
        let whole = (own.lowest, own.highest);
        let only = band(scenario, plan, EDGE_ONLY).filter(|b| *b != whole);
        let transects = [("whole", Some(whole)), ("edge_only", only)];
        let mut compared = Vec::new();
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
                    compared.push(PlacedPlan {
                        transect,
                        lowest,
                        highest,
                        placing,
                        se,
                        preview_power: closed_form::preview_power(scenario, &other),
                    });
                }
            }
        }
        let better = |a: &PlacedPlan, b: &PlacedPlan| b.se < a.se * (1.0 - 1e-9);
        let mut best = compared.first()?;
        for other in &compared {
            if better(best, other) {
                best = other;
            }
        }
        Some(Self {
            best: best.clone(),
            compared,
        })
    }
}
