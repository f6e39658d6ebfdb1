//! Sources of doubt, and the world without one of them.

use super::floor::HUGE;
use crate::closed_form::mean_factor;
use crate::scenario::{Checked, Effect, Scenario};
use serde::Serialize;

/// A source of doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Source {
    /// Good and bad years that all sites share.
    Years,
    /// Weather of a week, shared by all traps.
    Weather,
    /// A season that comes earlier in one year and later in another.
    SeasonShift,
    /// What sites differ in level.
    Sites,
    /// A site's own good and bad years.
    SiteYears,
    /// Sites' own slopes.
    SiteSlopes,
    /// Where in a site a trap stands.
    TrapPoints,
    /// What trap-weeks scatter beyond the luck of counting: the dispersion k.
    Dispersion,
    /// The luck of counting few animals.
    Counting,
    /// Occupied sites that are missed.
    Detection,
    /// Which sites happen to be occupied: what is left with perfect detection.
    Occupied,
    /// Trap-weeks lost, late samples, sites that give up.
    Losses,
}

impl Source {
    /// Its key.
    pub fn key(self) -> &'static str {
        match self {
            Self::Years => "years",
            Self::Weather => "weather",
            Self::SeasonShift => "season_shift",
            Self::Sites => "sites",
            Self::SiteYears => "site_years",
            Self::SiteSlopes => "site_slopes",
            Self::TrapPoints => "trap_points",
            Self::Dispersion => "dispersion",
            Self::Counting => "counting",
            Self::Detection => "detection",
            Self::Occupied => "occupied",
            Self::Losses => "losses",
        }
    }
}

/// Whether what is seen is whether sites are occupied.
fn of_occupied(s: &Scenario) -> bool {
    matches!(s.question.effect, Effect::Occupancy(_)) || s.edge().is_some()
}

/// The sources of a scenario's doubt: those of the plain model, and departures that its premises state. What a closed form
/// takes no account of is not among them (years shared by all sites are part of a baseline's truth, a season that
/// moves counts for trends alone).
pub(super) fn sources(s: &Checked) -> Vec<Source> {
    if of_occupied(s) {
        return vec![Source::Detection, Source::Occupied];
    }
    let d = &s.premises.departures;
    let effect = &s.question.effect;
    let (absence, baseline) = (
        matches!(effect, Effect::Absence(_)),
        matches!(effect, Effect::Baseline(_)),
    );
    let stated = [
        (Source::Years, !baseline),
        (Source::Weather, d.shared_week_sd.value > 0.0),
        (
            Source::SeasonShift,
            d.season_shift_sd.value > 0.0 && effect.is_trend(),
        ),
        (Source::Sites, true),
        (Source::SiteYears, true),
        (Source::SiteSlopes, d.site_slope_sd.value > 0.0 && !absence),
        (Source::TrapPoints, true),
        (Source::Dispersion, true),
        // That none of few animals is caught is the question itself.
        (Source::Counting, !absence),
    ];
    stated.into_iter().filter(|s| s.1).map(|s| s.0).collect()
}

/// Sets a spread to 0; where it enters the mean catch, the median rises so that the mean stays.
fn none(s: &mut Scenario, mean: bool, of: impl Fn(&mut Scenario) -> &mut f64) {
    let sd = std::mem::take(of(s));
    if mean {
        s.premises.target.catch_per_trap_week.value *= mean_factor(&[sd]);
    }
}

/// As many times the animals and the catch: counts without their luck, and the same share of the animals taken.
fn plenty(s: &mut Scenario) {
    s.premises.target.catch_per_trap_week.value *= HUGE;
    if let Some(local) = &mut s.premises.local_population {
        local.animals.value *= HUGE;
    }
}

/// The scenario without a source.
pub(super) fn without(scenario: &Checked, source: Source) -> Checked {
    // A baseline's counts hang on the mean over all sites, those of a site-year on its own.
    let mean = matches!(scenario.question.effect, Effect::Baseline(_));
    scenario.supposing(|s| match source {
        Source::Years => none(s, mean, |s| &mut s.premises.target.year_sd.value),
        Source::Weather => none(s, true, |s| &mut s.premises.departures.shared_week_sd.value),
        Source::SeasonShift => s.premises.departures.season_shift_sd.value = 0.0,
        Source::Sites => none(s, mean, |s| &mut s.premises.target.site_sd.value),
        Source::SiteYears => none(s, mean, |s| &mut s.premises.target.site_year_sd.value),
        Source::SiteSlopes => s.premises.departures.site_slope_sd.value = 0.0,
        Source::TrapPoints => none(s, true, |s| &mut s.premises.target.trap_sd.value),
        Source::Dispersion => s.premises.target.dispersion_k.value *= HUGE,
        Source::Counting => plenty(s),
        Source::Detection => seen(s),
        // Not a spread: what is left without all others.
        Source::Occupied => {}
        Source::Losses => nothing_lost(s),
    })
}

/// Every occupied site shows itself at every visit.
fn seen(s: &mut Scenario) {
    plenty(s);
    s.premises.target.dispersion_k.value = HUGE;
    s.premises.trap_loss.value = 0.0;
}

pub(super) fn nothing_lost(s: &mut Scenario) {
    let p = &mut s.premises;
    for share in [&mut p.trap_loss, &mut p.attrition, &mut p.late_share] {
        share.value = 0.0;
    }
    p.departures.loss_clustering.value = 0.0;
}

/// The scenario in which nothing is lost.
pub(super) fn without_losses(scenario: &Checked) -> Checked {
    scenario.supposing(nothing_lost)
}
