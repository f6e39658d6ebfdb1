//! What a plan kills and costs, and what lighter samples spare.

use super::{Entry, says};

const LIGHT: &str = "Karandinos 1976, Bull. Entomol. Soc. Am. 22:417";

pub(super) const OF: &[Entry] = &[
    says(
        &["toll", "total"],
        "toll",
        "All animals that the plan kills over all years, target and by-catch, whether counted or lost. Every trap-week that is set adds to it.",
    )
    .formula("mean of the simulated surveys in which the stated change happens"),
    says(
        &["toll_interval", "spread"],
        "range of the toll",
        "Nine surveys of ten kill a number within it. It holds the luck of sites, years and catches; it does not hold what the premises do not know.",
    )
    .formula("from the 5 % to the 95 % quantile of the simulated tolls"),
    says(
        &["target", "toll.target"],
        "target animals killed",
        "How many animals of the target the plan kills over all years. The same animals carry the answer: fewer of them mostly mean less power.",
    ),
    says(
        &["bycatch", "toll.bycatch"],
        "by-catch killed",
        "How many animals of a group die besides the target. They add nothing to the answer; other weeks, traps or exposures may spare them.",
    ),
    says(
        &["not_excluded"],
        "not excluded",
        "Animals that may die although the pilot caught none: none in n trap-weeks still allows a rate of 3/n. The longer the pilot, the smaller it is.",
    )
    .formula("highest mean after none in n trap-weeks = −ln(0.05)/n, about 3/n (95 %, Poisson)")
    .source("Green & Young 1993, Ecol. Appl. 3:351"),
    says(
        &["if_nothing_changes"],
        "toll if nothing changes",
        "What the same plan kills when the stated change does not happen. After a fall there are fewer animals to kill, so that this is often the larger number.",
    ),
    says(
        &["reproductives"],
        "reproductive animals killed",
        "How many of the animals killed could have bred. The larger it is, the more a population may feel the survey.",
    )
    .formula("sum over weeks of mean kill × share that is reproductive"),
    says(
        &["share_removed"],
        "share removed",
        "Of the target's animals in reach of a site's traps, the share caught in the first year. The larger it is, the more the survey itself changes what it measures.",
    )
    .formula("mean of 1 − e^(−x); x = catch were there no end/animals there")
    .source("Moran 1951, Biometrika 38:307; Zippin 1956, Biometrics 12:163 (both from memory)"),
    says(
        &["kept_of_catch"],
        "catch over that without an end of animals",
        "What the traps catch over what they would catch, were there no end of animals. The smaller it is, the less further traps or weeks bring.",
    ),
    says(
        &["present_in_last_year"],
        "left in the last year",
        "Share of the first year's animals that is still there when the last year begins. Below 1 the traps themselves have made a decline.",
    ),
    says(
        &["apparent_change_percent_a_year"],
        "change by the traps' own taking",
        "By how much the catch changes each year because the traps took animals that did not come back. It looks like a decline of the target.",
    ),
    says(
        &["trap_week", "trap_weeks"],
        "trap-week",
        "One trap open for one week: the unit of effort, and of killing. The more, the surer the answer and the larger the toll.",
    )
    .formula("trap-weeks = sites × traps per site × weeks × years × days a week/7"),
    says(
        &["exposure", "exposure_days"],
        "exposure told",
        "For how many days of a week a trap is open. Half the days catch about half the animals, but often tell much more than half as much.",
    )
    .formula("mean catch = catch of a week × days/7"),
    says(
        &["mean_catch"],
        "mean catch of a sample",
        "What one trap catches of the target in one of the plan's weeks, on average. Where it is several times k, lighter samples would tell nearly as much.",
    ),
    says(
        &["others_per_target"],
        "other animals for each of the target",
        "How many animals of the by-catch die for each one of the target. The larger it is, the less is learnt for each animal killed.",
    ),
    says(
        &["information_per_animal"],
        "information per animal killed",
        "What one more animal killed tells, against what the first ones told. The smaller it is, the more a lighter sample would spare for nearly the same answer.",
    )
    .formula("1/((1 + μ/k)(1 + r)); μ mean catch, k dispersion, r by-catch per animal of the target"),
    says(
        &["cv_squared"],
        "relative variance of a sample",
        "How much a sample scatters about its mean, of which only the first part shrinks when more is caught. Where the second is the larger, catching less costs little.",
    )
    .formula("1/(f μ) + 1/k; f share of the catch kept, μ mean catch, k dispersion")
    .source(LIGHT),
    says(
        &["catch_kept"],
        "share of the catch kept",
        "How much of the plan's catch a lighter sample still takes, by shorter exposure or a smaller trap. The smaller it is, the fewer animals one sample kills.",
    ),
    says(
        &["sorted"],
        "share of a sample that is sorted",
        "How much of each sample is looked at after the catch. A smaller share spares hours and no animal, since all of it was killed.",
    ),
    says(
        &["saved", "spared"],
        "animals spared",
        "How many fewer animals die than by the plan as it is, on average. Below 0 more die: many light samples can kill more than few heavy ones.",
    ),
    says(
        &["sites_same_power"],
        "sites for the same power",
        "How many sites with lighter samples have the power of the plan as it is. Whether that spares animals is told beside it.",
    ),
    says(
        &["cost", "money", "all_money"],
        "cost",
        "What the plan is expected to cost over all years, from the rates stated. Rates without a source are guesses: replace them by your own.",
    )
    .formula("wages + distance + traps + what they use up + stepped and fixed costs"),
    says(
        &["hours", "person_hours", "all_hours"],
        "person-hours",
        "Hours of work over all years: travel, field, sorting, identification and curation. Heavy catches cost mostly hours in the laboratory.",
    )
    .formula("sum over people of hours; travel counts each person"),
    says(
        &["travel_days"],
        "days with travel",
        "Days on which somebody drives to the sites, over all years. They rise with rounds of visits and hardly with traps per site.",
    )
    .formula("rounds × sites/sites a day, rounded up for each round"),
];
