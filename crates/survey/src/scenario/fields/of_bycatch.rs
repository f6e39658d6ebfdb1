//! The numbers of one by-catch group.

use super::Field;
use super::shapes::premise;
use crate::scenario::Bycatch;

/// The numbers of one by-catch group; paths are relative to the group.
pub const BYCATCH: &[Field<Bycatch>] = &[
    premise!(
        Bycatch,
        "catch_per_trap_week",
        "catch per trap-week at peak",
        "animals",
        0.0,
        100_000.0,
        0.1,
        |g| g.catch_per_trap_week
    ),
    premise!(
        Bycatch,
        "dispersion_k",
        "dispersion k",
        "",
        0.01,
        100_000.0,
        0.1,
        |g| g.dispersion_k
    ),
    premise!(
        Bycatch,
        "site_sd",
        "SD of sites",
        "log scale",
        0.0,
        3.0,
        0.05,
        |g| g.site_sd
    ),
    premise!(
        Bycatch,
        "year_sd",
        "SD of years",
        "log scale",
        0.0,
        3.0,
        0.05,
        |g| g.year_sd
    ),
    premise!(
        Bycatch,
        "season_peak_week",
        "season's peak",
        "week of the year",
        1.0,
        53.0,
        1.0,
        |g| g.season_peak_week
    ),
    premise!(
        Bycatch,
        "season_width_weeks",
        "season's width (SD)",
        "weeks",
        0.3,
        60.0,
        0.5,
        |g| g.season_width_weeks
    ),
];
