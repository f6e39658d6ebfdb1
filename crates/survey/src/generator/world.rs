//! The count model's constants for one plan.

use super::bycatch::Group;
use super::closing::Closing;
use super::depletion::Depletion;
use super::gammas::Gammas;
use super::layout;
use super::losses::Losses;
use super::occupied::Occupied;
use super::recorded::Community;
use super::response::Response;
use super::returns::Returns;
use super::seasons::MovingSeason;
use crate::closed_form::{mean_factor, spread_of_catch};
use crate::scenario::{Checked, Effect, Placing, Plan, Target, TrapPoints};
use crate::season::{self, Moving, WeekClass};

/// Which world the survey is simulated in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum World {
    /// The stated change happens.
    Change,
    /// Nothing changes: whatever is found is a false alarm.
    Still,
}

/// Draws surveys of one plan.
#[derive(Clone, Debug)]
pub struct Generator {
    pub(super) sites: usize,
    pub(super) traps: u32,
    pub(super) years: usize,
    pub(super) classes: Vec<WeekClass>,
    pub(super) exposure: f64,
    pub(super) loss: f64,
    pub(super) target: Spread,
    pub(super) trap_sd: f64,
    pub(super) site_year_sd: f64,
    pub(super) response: Response,
    /// Which sites are occupied; all of them when `None`.
    pub(super) occupied: Option<Occupied>,
    /// The species of the catch; `None` where nobody asks.
    pub(super) community: Option<Community>,
    pub(super) closing: Option<Closing>,
    /// Whether the region's expected catch is told with each survey.
    pub(super) tells_region: bool,
    /// Share of the variance of sites and of their own years that pairs have in common; `None` when sites are no pairs.
    pub(super) pairs: Option<f64>,
    pub(super) groups: Vec<Group>,
    pub(super) gammas: Gammas,
    /// Losses of a site-year's trap-weeks.
    pub(super) losses: Losses,
    pub(super) year_autocorrelation: f64,
    pub(super) site_slope_sd: f64,
    distances: Option<Vec<f64>>,
    /// Cholesky factor of the sites' correlations.
    pub(super) factor: Option<Vec<f64>>,
    pub(super) shared_week_sd: f64,
    /// Change of the log catch a year by the traps alone.
    pub(super) drift: f64,
    pub(super) loss_power: f64,
    pub(super) new_points: bool,
    /// How animals become fewer as they are caught; `None` where they have no end.
    pub(super) depletion: Option<Depletion>,
    /// Where sites stand hangs on how many years there are.
    pub(super) followed: bool,
    /// The target's season where it moves.
    pub(super) moving: Option<MovingSeason>,
    /// The weeks of the year with open traps.
    pub(super) open_weeks: Vec<u32>,
    /// Weight of each week of the plan.
    pub(super) season: Vec<f64>,
    /// The plan's weeks, heaviest first, as the classes take them.
    pub(super) order: Vec<usize>,
    /// What comes back.
    pub(super) returns: Returns,
}

/// Rate and spread of one group of animals.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spread {
    pub rate: f64,
    pub k: f64,
    pub site_sd: f64,
    pub year_sd: f64,
}

impl Spread {
    fn of(target: &Target) -> Self {
        Self {
            rate: target.catch_per_trap_week.value,
            k: target.dispersion_k.value,
            site_sd: target.site_sd.value,
            year_sd: target.year_sd.value,
        }
    }
}

impl Generator {
    /// A generator of the scenario under `plan` (its own or another of its curve or search).
    ///
    /// The premises are those of the scenario's own choice of trap: for another one, [`Checked::with_option`].
    pub fn new(scenario: &Checked, plan: &Plan) -> Self {
        debug_assert_eq!(plan.trap_option, scenario.plan.trap_option);
        let target = &scenario.premises.target;
        let departures = &scenario.premises.departures;
        let season = season::weights(
            plan,
            target.season_peak_week.value,
            target.season_width_weeks.value,
        );
        let distances = layout::distances(scenario, plan);
        let classes = season::classes(
            plan,
            target.season_peak_week.value,
            target.season_width_weeks.value,
        );
        let loss = scenario.premises.trap_loss.value;
        let at_once = if target.trap_sd.value > 0.0 {
            1
        } else {
            plan.traps_per_site
        };
        let sizes = classes.iter().flat_map(|c| {
            let most = at_once * c.weeks;
            let fewest = if loss > 0.0 { 1 } else { most };
            fewest..=most
        });
        Self {
            sites: plan.sites as usize,
            traps: plan.traps_per_site,
            years: plan.years as usize,
            gammas: Gammas::new(target.dispersion_k.value, sizes),
            losses: Losses::new(loss, plan.traps_per_site * plan.weeks),
            classes,
            exposure: plan.exposure_days / 7.0,
            loss,
            target: Spread {
                rate: rate(scenario),
                ..Spread::of(target)
            },
            trap_sd: target.trap_sd.value,
            site_year_sd: target.site_year_sd.value,
            response: Response::of(scenario, plan),
            occupied: Occupied::of(scenario, plan),
            community: Community::of(scenario),
            closing: Closing::of(scenario, plan),
            tells_region: matches!(scenario.question.effect, Effect::Baseline(_)),
            pairs: pairs(scenario, plan),
            groups: scenario
                .premises
                .killed_besides()
                .iter()
                .map(|g| Group::new(scenario, g, plan))
                .collect(),
            year_autocorrelation: departures.year_autocorrelation.value,
            site_slope_sd: departures.site_slope_sd.value,
            factor: distances
                .as_ref()
                .map(|d| layout::factor(d, departures.correlation_length_km.value)),
            distances,
            shared_week_sd: departures.shared_week_sd.value,
            drift: departures.log_drift(),
            loss_power: departures.loss_follows_catch.value,
            followed: plan
                .transect
                .as_ref()
                .is_some_and(|t| t.placing == Placing::DenseAtEdge),
            new_points: plan.trap_points == TrapPoints::NewEachYear,
            moving: Moving::of(departures).map(|moving| MovingSeason {
                moving,
                peak: target.season_peak_week.value,
                width: target.season_width_weeks.value,
            }),
            open_weeks: plan.open_weeks(),
            depletion: Depletion::of(scenario, plan),
            order: season::heaviest_first(&season),
            returns: Returns::of(scenario, plan),
            season,
        }
    }

    /// Sites of the plan.
    pub fn sites(&self) -> usize {
        self.sites
    }

    /// Years of the plan.
    pub fn years(&self) -> usize {
        self.years
    }

    /// Number of groups killed besides the target.
    pub fn groups(&self) -> usize {
        self.groups.len()
    }

    /// Trap-weeks at one site in one year when none is lost.
    pub fn effort(&self) -> f64 {
        self.exposure * f64::from(self.traps * self.weeks() as u32)
    }

    /// Weeks of the plan in a year.
    pub fn weeks(&self) -> usize {
        self.season.len()
    }

    /// Trap-weeks set at one site in one week, whether or not they are lost.
    pub fn weekly_effort(&self) -> f64 {
        self.exposure * f64::from(self.traps)
    }

    /// Expected catch of each week of the plan as a share of the peak's.
    pub fn season_weights(&self) -> &[f64] {
        &self.season
    }

    /// Correlation of a year's shared effect with the next year's.
    pub fn year_autocorrelation(&self) -> f64 {
        self.year_autocorrelation
    }

    /// SD of sites' own changes a year on the log scale.
    pub fn site_slope_sd(&self) -> f64 {
        self.site_slope_sd
    }

    /// Distances in km between all sites, row-major sites by sites; `None` when sites are independent.
    pub fn site_distances(&self) -> Option<&[f64]> {
        self.distances.as_deref()
    }

    /// Change of the log catch a year by the traps alone, in both worlds.
    pub fn log_drift(&self) -> f64 {
        self.drift
    }
}

/// Catch of a trap-week at the season's peak at a median site in a median year: the premise, or what the density that is
/// to be excluded, which is a mean, makes of it.
pub(crate) fn rate(scenario: &Checked) -> f64 {
    match &scenario.question.effect {
        Effect::Absence(a) => a.catch_per_trap_week / mean_factor(&spread_of_catch(scenario)),
        _ => scenario.premises.target.catch_per_trap_week.value,
    }
}

/// What pairs have in common; `None` when the plan has none.
pub(crate) fn pairs(scenario: &Checked, plan: &Plan) -> Option<f64> {
    let paired = plan.groups.as_ref().is_some_and(|g| g.paired);
    let common = scenario.premises.pair_correlation.as_ref();
    common.filter(|_| paired).map(|p| p.value)
}
