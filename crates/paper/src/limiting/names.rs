//! Names of sources, what lowers them, and why some make no part.

use survey::limiting::{NoFloor, Source};
use survey::scenario::{Effect, Scenario, TrapPoints};

/// A source in words, to stand after "from" and "without".
pub fn name(source: Source) -> &'static str {
    match source {
        Source::Years => "differences between years that all sites share",
        Source::Weather => "the weather of single weeks, shared by all traps",
        Source::SeasonShift => "seasons that come early in one year and late in another",
        Source::Sites => "differences between sites",
        Source::SiteYears => "the good and bad years that each site has for itself",
        Source::SiteSlopes => "sites that change each in its own way",
        Source::TrapPoints => "where in a site the traps stand",
        Source::Dispersion => "traps and weeks that scatter more than by chance (dispersion k)",
        Source::Counting => "the luck of counting few animals",
        Source::Detection => "occupied sites that are missed",
        Source::Occupied => "which sites happen to be occupied",
        Source::Losses => "losses, late samples and sites that give up",
    }
}

/// What lowers the sources of a kind.
pub const KINDS: [&str; 4] = [
    "only more years lower it",
    "more weeks or years lower it",
    "more sites lower it",
    "more traps, weeks or sites lower it",
];

/// The kind of a source, a place in [`KINDS`].
pub fn kind(source: Source) -> usize {
    match source {
        Source::Years => 0,
        Source::Weather | Source::SeasonShift => 1,
        Source::Sites | Source::SiteYears | Source::SiteSlopes | Source::Occupied => 2,
        Source::TrapPoints
        | Source::Dispersion
        | Source::Counting
        | Source::Detection
        | Source::Losses => 3,
    }
}

/// What helps against a source, as a clause.
pub(super) fn remedy(source: Source) -> &'static str {
    match kind(source) {
        0 => "more traps or sites cannot lower that; more years can",
        1 => "more traps or sites cannot lower that; more weeks or years can",
        2 => "more traps at the same sites cannot lower that; more sites can",
        _ => "more traps, weeks or sites lower that",
    }
}

/// A source that makes no part, and why.
pub(super) fn dropped(s: &Scenario, source: Source) -> String {
    let (t, points) = (&s.premises.target, s.plan.trap_points);
    let stated = match source {
        Source::Years => t.year_sd.value,
        Source::Sites => t.site_sd.value,
        Source::SiteYears => t.site_year_sd.value,
        Source::TrapPoints => t.trap_sd.value,
        _ => f64::NAN,
    };
    let groups = s.question.effect.has_groups();
    let why = if stated == 0.0 {
        "the premises say that there are none"
    } else {
        match source {
            Source::Years if groups || matches!(s.question.effect, Effect::RangeShift(_)) => {
                "they are the same everywhere and drop out"
            }
            Source::Sites => "the same sites come back, so that their own level drops out",
            Source::TrapPoints if points == TrapPoints::Same => {
                "the traps stand at the same points every year"
            }
            _ => "less than a thousandth",
        }
    };
    format!("{} ({why})", name(source))
}

/// Why years set no floor.
pub(super) fn no_floor(why: NoFloor) -> &'static str {
    match why {
        NoFloor::YearsAlike => {
            "By the premises all years are alike, so that years set no floor: check the SD of years, which short pilots cannot tell and which is hardly ever 0."
        }
        NoFloor::WithinYears => {
            "Years set no floor here: what is asked is seen within every year, where what all sites share drops out. More sites lower the doubt as far as is wanted."
        }
        NoFloor::OfTheseYears => {
            "Years set no floor here: what is asked is how things are in the years that are trapped."
        }
        NoFloor::Occupancy => {
            "Years set no floor here: in this model good and bad years change how many animals are seen, not which sites are occupied. If occupancy itself has good and bad years, the real doubt is larger."
        }
    }
}
