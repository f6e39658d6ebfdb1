//! The numbers of the plan.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["plan.sites"],
        "sites",
        "Places that are trapped, the same every year unless the plan says otherwise. The more, the surer the answer and the larger the toll; years that all sites share stay.",
    )
    .formula("variance of a slope = (SD² + v/S)/(T(T² − 1)/12); S sites, T years, v a site's year")
    .source("Larsen et al. 2001, BioScience 51:1069"),
    says(
        &["plan.traps_per_site"],
        "traps per site",
        "Traps at each site. Traps of a site tell of the same site: each further one kills as many animals and adds less to the answer.",
    )
    .formula("scatter of a site's year v = SD² + 1/M + 1/(m k W); M its catch, m traps, W weeks"),
    says(
        &["plan.first_week"],
        "first week",
        "The week of the year in which traps are first opened. Moving it changes how much of each animal's season the plan meets, target and by-catch.",
    ),
    says(
        &["plan.weeks"],
        "weeks",
        "Weeks of the year with open traps. The more, the surer the answer and the larger the toll; weeks far from the season's peak add little to the answer.",
    )
    .formula("trap-weeks = sites × traps per site × weeks × years"),
    says(
        &["plan.exposure_days"],
        "exposure",
        "Days that a trap is open in each week. The longer, the more animals die; where a catch is already large against k, the further ones tell hardly anything.",
    )
    .formula("relative variance of a sample = 1/(f μ) + 1/k; f = days/7, μ catch of a week")
    .source("Karandinos 1976, Bull. Entomol. Soc. Am. 22:417"),
    says(
        &["plan.years"],
        "years",
        "Years from the first trapping to the last. More of them help a trend most of all: what is known of it grows about with the cube of the years.",
    )
    .formula("a slope's variance falls with T(T² − 1)/12; T years")
    .source("Larsen et al. 2001, BioScience 51:1069"),
    says(
        &["plan.transect.lowest"],
        "lowest site",
        "The lowest (southernmost) place where a site stands. Too far below the place that moves, sites are wasted; too near, one side of it is not seen.",
    ),
    says(
        &["plan.transect.highest"],
        "highest site",
        "The highest (northernmost) place where a site stands. A range that will move upwards needs sites beyond where it ends now.",
    ),
    says(
        &["plan.groups.treated_share"],
        "treated sites",
        "The share of all sites that is treated. One half makes the surest comparison; the further from it, the more sites are needed.",
    )
    .formula("variance = (1/n₁ + 1/n₀)(SD² + v/T); n₁ treated, n₀ others, T years, v a site's year")
    .source("Zhu & Lakkis 2014, Stat. Med. 33:376 (one year; sites that differ added)"),
    says(
        &["plan.groups.before_years"],
        "years before the treatment",
        "Years of trapping before the treatment begins; 0: it has always been there. As many years before as after make the surest comparison.",
    )
    .formula("variance = (1/n₁ + 1/n₀) v (1/T₁ + 1/T₀); T₁ years after, T₀ before, v a site's year")
    .source("Underwood 1994, Ecol. Appl. 4:3 (the design)"),
];
