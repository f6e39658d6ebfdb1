//! Closed forms over all plans within the limits: what each kills and how sure its answer is.

use crate::closed_form::{self, ExpectedToll, OverPlans, expected_toll};
use crate::scenario::{Checked, Plan};

/// A plan that no plan with a smaller toll beats in the preview's power.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Candidate {
    /// The plan.
    pub plan: Plan,
    /// Its power by closed form.
    pub preview: f64,
    /// Its noncentrality over the one that gives the wanted power to a t test: what plans are ranked by. It leaves out
    /// what a drift of the traps, and a standard error that knows nothing of departures, do to the test, and what a
    /// calibrated test gains where years are alike.
    pub margin: f64,
    /// Its expected toll.
    pub toll: ExpectedToll,
}

/// All plans looked at.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Screen {
    /// How many plans were looked at.
    pub plans: usize,
    /// The frontier, smallest toll first, power rising.
    pub frontier: Vec<Candidate>,
}

impl Screen {
    /// The first plan of the frontier that reaches the wanted power by closed form.
    pub fn first_enough(&self, wanted_power: f64) -> Option<usize> {
        self.frontier.iter().position(|c| c.preview >= wanted_power)
    }
}

/// The plan with other numbers of sites, traps and weeks. Chosen weeks stay where there are as many of them; any other
/// number is a run about the middle between the plan's first and last week.
pub fn resized(plan: &Plan, sites: u32, traps_per_site: u32, weeks: u32) -> Plan {
    // Twice the middle, so that it stays a whole number.
    if weeks == plan.weeks {
        return Plan {
            sites,
            traps_per_site,
            ..plan.clone()
        };
    }
    let open = plan.open_weeks();
    let middle = plan.first_week + open.last().copied().unwrap_or(plan.first_week);
    let first = (middle + 1).saturating_sub(weeks) / 2;
    let first_week = first.clamp(1, 54u32.saturating_sub(weeks).max(1));
    Plan {
        sites,
        traps_per_site,
        weeks,
        first_week,
        chosen_weeks: None,
        ..plan.clone()
    }
}

/// Looks at every plan of sites x traps x weeks within the scenario's limits; years and exposure stay.
pub fn screen(scenario: &Checked) -> Screen {
    let limits = &scenario.limits;
    let fewest = scenario.fewest_sites();
    let over = OverPlans::new(scenario, fewest, limits.traps_per_site, limits.weeks);
    let mut all = Vec::new();
    let (mut known_df, mut wanted) = (f64::NAN, 0.0);
    for sites in (fewest..=limits.sites).filter(|&n| scenario.fits_sites(n)) {
        let df = closed_form::degrees_of_freedom(scenario, &resized(&scenario.plan, sites, 1, 1));
        if df != known_df {
            wanted = closed_form::wanted_delta(scenario, df);
            known_df = df;
        }
        let at = over.at(sites);
        for traps in 1..=limits.traps_per_site {
            for weeks in 1..=limits.weeks {
                let margin = at.delta(traps, weeks) / wanted.max(1e-9);
                all.push((
                    but_for_rounding(at.toll(traps, weeks)),
                    margin,
                    [sites, traps, weeks],
                ));
            }
        }
    }
    let plans = all.len();
    // Smallest toll first; at equal toll the surer, then the smaller plan.
    all.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.total_cmp(&a.1)));
    let mut frontier: Vec<Candidate> = Vec::new();
    let mut best = 0.0;
    for (_, margin, [sites, traps, weeks]) in all {
        if margin > best * (1.0 + 1e-9) {
            best = margin;
            let plan = resized(&scenario.plan, sites, traps, weeks);
            let df = closed_form::degrees_of_freedom(scenario, &plan);
            let delta = margin * closed_form::wanted_delta(scenario, df);
            frontier.push(Candidate {
                preview: if closed_form::is_plain(scenario) {
                    closed_form::power_at(scenario, df, delta)
                } else {
                    closed_form::preview_at_stated(scenario, &plan).power
                },
                margin,
                toll: expected_toll(scenario, &plan),
                plan,
            });
        }
    }
    Screen { plans, frontier }
}

/// A toll without its last digits, so that tolls that differ by rounding alone are equal.
fn but_for_rounding(toll: f64) -> f64 {
    f64::from_bits(toll.to_bits() & !0xfff)
}
