//! The numbers of the departures from the plain model.

use super::Field;
use super::shapes::premise;
use crate::scenario::Scenario;

/// What the world may do beyond the plain model.
pub const DEPARTURES: &[Field<Scenario>] = &[
    premise!(
        Scenario,
        "premises.departures.year_autocorrelation",
        "correlation of one year with the next",
        "",
        -0.95,
        0.95,
        0.1,
        |s| s.premises.departures.year_autocorrelation
    ),
    premise!(
        Scenario,
        "premises.departures.site_slope_sd",
        "SD of the sites' own changes a year",
        "log scale",
        0.0,
        0.5,
        0.01,
        |s| s.premises.departures.site_slope_sd
    ),
    premise!(
        Scenario,
        "premises.departures.correlation_length_km",
        "distance over which sites resemble each other",
        "km",
        0.0,
        10_000.0,
        1.0,
        |s| s.premises.departures.correlation_length_km
    ),
    premise!(
        Scenario,
        "premises.departures.region_km2",
        "area the sites are spread over",
        "km²",
        0.0,
        100_000_000.0,
        10.0,
        |s| s.premises.departures.region_km2
    ),
    premise!(
        Scenario,
        "premises.departures.shared_week_sd",
        "SD of a week's weather shared by all sites",
        "log scale",
        0.0,
        3.0,
        0.05,
        |s| s.premises.departures.shared_week_sd
    ),
    premise!(
        Scenario,
        "premises.departures.detection_drift_percent",
        "drift of what the traps catch",
        "% a year",
        -50.0,
        100.0,
        0.5,
        |s| s.premises.departures.detection_drift_percent
    ),
    premise!(
        Scenario,
        "premises.departures.loss_follows_catch",
        "how loss follows the catch",
        "power of the odds",
        -3.0,
        3.0,
        0.5,
        |s| s.premises.departures.loss_follows_catch
    ),
    premise!(
        Scenario,
        "premises.departures.season_shift_sd",
        "SD of the season's shift from year to year",
        "weeks",
        0.0,
        10.0,
        0.5,
        |s| s.premises.departures.season_shift_sd
    ),
    premise!(
        Scenario,
        "premises.departures.season_trend",
        "season earlier by",
        "days a decade",
        -50.0,
        50.0,
        1.0,
        |s| s.premises.departures.season_trend
    ),
];
