//! What is told of weeks, of patterns of revisits and of what does not come back.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["alone_per_animal"],
        "information per animal of a week alone",
        "What one trap's catch of that week tells for each animal it kills. It is larger early and late in the season, when catches are light.",
    )
    .formula("1/((1 + μ/k)(1 + r)); μ mean catch of the week, r its by-catch per animal"),
    says(
        &["gain", "gain_share"],
        "share of the plan's information",
        "How much of what the plan tells hangs on that week, or would be added by opening it. Weeks with a small share can be left out at little loss.",
    )
    .formula("(information with the week − without it)/information of the plan"),
    says(
        &["gain_per_animal"],
        "gain per animal killed",
        "What the plan gains by a week for each animal that dies in it. The weeks where it is largest are those to open first.",
    )
    .formula("(information with the week − without it)/animals killed in it"),
    says(
        &["false_trend", "false_trend_percent"],
        "false trend a year",
        "By how much the catch in the same weeks changes each year though the animals only come earlier. The further from 0, the more it is taken for a change.",
    )
    .formula("slope by least squares of ln(sum of season(w) over the open weeks) on the years"),
    says(
        &["least_variance"],
        "surest answer",
        "The weeks that tell most of what is asked, whatever they kill. Opening other weeks of the same number leaves the answer less sure.",
    )
    .formula("the set of weeks with the smallest variance of the estimate"),
    says(
        &["least_toll"],
        "smallest toll with the wanted power",
        "The weeks that kill fewest and still have the wanted power by the formula. There may be none when the number of weeks is small.",
    ),
    says(
        &["most_per_animal"],
        "most information per animal",
        "The weeks that tell most for each animal killed. They spare most, and may leave the power below the wanted one.",
    ),
    says(
        &["reproductive_share"],
        "share that is reproductive",
        "Of all animals killed, the share that could have bred. Weeks further from the breeding peak make it smaller.",
    ),
    says(
        &["site_years"],
        "site-years",
        "Visited sites summed over all years. For the same traps and weeks the toll rises in step with it; what is learnt hangs on which sites come back.",
    ),
    says(
        &["sites_in_a_year"],
        "sites in a year",
        "How many sites are trapped in a year, whereas the plan's number of sites counts the different ones of all years. Work and toll of a year rise with it.",
    ),
    says(
        &["left_on_average", "left_in_last_year"],
        "site-years left",
        "The share of the planned visits to sites that is made and back in time. The smaller it is, the more sites must be recruited.",
    )
    .formula("(1 − share that gives up)^years so far × (1 − share that is late)"),
    says(
        &["on_average", "for_last_year", "for_power"],
        "sites to recruit",
        "With how many sites to begin so that enough are left, on average, in the last year, or for the wanted power. Those recruited beyond need kill too.",
    )
    .formula("planned sites/share of site-years left, rounded up"),
];
