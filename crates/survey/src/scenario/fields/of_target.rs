//! The numbers of one species of a list: those of the target, at a path of its own.

use super::Field;
use super::shapes::premise;
use crate::scenario::Target;

/// The numbers of another species; paths are relative to it. Labels and bounds are the target's.
pub const TARGET: &[Field<Target>] = &[
    premise!(
        Target,
        "catch_per_trap_week",
        "catch per trap-week at peak",
        "animals",
        0.001,
        100_000.0,
        0.5,
        |t| t.catch_per_trap_week
    ),
    premise!(
        Target,
        "dispersion_k",
        "dispersion k",
        "",
        0.01,
        100_000.0,
        0.1,
        |t| t.dispersion_k
    ),
    premise!(
        Target,
        "site_sd",
        "SD of sites",
        "log scale",
        0.0,
        3.0,
        0.05,
        |t| t.site_sd
    ),
    premise!(
        Target,
        "year_sd",
        "SD of years shared by all sites",
        "log scale",
        0.0,
        3.0,
        0.05,
        |t| t.year_sd
    ),
    premise!(
        Target,
        "site_year_sd",
        "SD of a site's own year",
        "log scale",
        0.0,
        3.0,
        0.05,
        |t| t.site_year_sd
    ),
    premise!(
        Target,
        "trap_sd",
        "SD of traps within a site",
        "log scale",
        0.0,
        3.0,
        0.05,
        |t| t.trap_sd
    ),
    premise!(
        Target,
        "season_peak_week",
        "season's peak",
        "week of the year",
        1.0,
        53.0,
        1.0,
        |t| t.season_peak_week
    ),
    premise!(
        Target,
        "season_width_weeks",
        "season's width (SD)",
        "weeks",
        0.3,
        60.0,
        0.5,
        |t| t.season_width_weeks
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::fields::SCENARIO;

    /// The target's own numbers and those of another species have the same names, units and bounds.
    #[test]
    fn as_the_target() {
        let of_target = SCENARIO
            .iter()
            .filter_map(|f| Some((f.path.strip_prefix("premises.target.")?, f)));
        let pairs: Vec<_> = of_target.zip(TARGET).collect();
        assert_eq!((pairs.len(), TARGET.len()), (8, 8));
        for ((path, one), other) in pairs {
            assert_eq!((path, one.label), (other.path, other.label));
            assert_eq!((one.unit, one.step), (other.unit, other.step), "{path}");
            assert_eq!((one.low, one.high), (other.low, other.high), "{path}");
        }
    }
}
