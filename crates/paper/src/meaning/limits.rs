//! The numbers that bound the search for the least plan.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["limits.sites"],
        "most sites",
        "The most sites that the search for the least plan may use. The larger it is, the more plans are looked at, and the longer the search.",
    ),
    says(
        &["limits.traps_per_site"],
        "most traps per site",
        "The most traps at a site that the search may use. Raising it helps most where further sites are hard to find.",
    ),
    says(
        &["limits.weeks"],
        "most weeks in a row",
        "The most weeks a year that the search may open the traps. Raising it helps little once the season is covered.",
    ),
    says(
        &["limits.years"],
        "years to try",
        "Numbers of years that the search tries; the plan's own where none are listed. Longer surveys of a trend mostly need fewer animals in all.",
    ),
    says(
        &["limits.exposure_days"],
        "days a week to try",
        "Exposures that the search tries; the plan's own where none are listed. Shorter ones often spare animals at next to no loss of power.",
    ),
    says(
        &["limits.toll.most", "limits.toll.vertebrate", "limits.toll.protected"],
        "most animals of a group",
        "The most animals of a group, or of all groups of a class, that a plan may be expected to kill over all years. The smaller it is, the fewer plans are left.",
    ),
    says(
        &["limits.weights.weight", "limits.weights.vertebrate", "limits.weights.protected"],
        "what one animal counts",
        "How many animals one of this group counts as when plans are ranked; 1 when left out. The larger it is, the more the search spares this group.",
    )
    .formula("weighted toll = sum over groups of weight × animals killed"),
    says(
        &["limits.money"],
        "most money",
        "The most money that a plan may be expected to cost over all years. The smaller it is, the fewer plans are left to choose from.",
    ),
    says(
        &["limits.hours"],
        "most person-hours",
        "The most hours of work that a plan may be expected to take over all years, in field and laboratory. Plans that take more are left out.",
    ),
    says(
        &["limits.travel_days"],
        "most days with travel",
        "The most days with travel that a plan may be expected to need over all years. A small number favours few sites with more traps at each.",
    ),
];
