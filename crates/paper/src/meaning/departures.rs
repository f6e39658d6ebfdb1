//! The numbers of what the world does beyond the plain model, and of what does not come back.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["departures.year_autocorrelation"],
        "correlation of one year with the next",
        "How surely a good year is followed by another. The larger it is, the more a run of good or bad years looks like a trend; an analysis not told of it raises false alarms.",
    )
    .formula("correlation of years i and j = r^|i − j|"),
    says(
        &["departures.site_slope_sd"],
        "SD of the sites' own changes a year",
        "How much sites differ in their own change a year. The larger it is, the more sites the common change needs; an analysis not told of it is too sure of itself.",
    )
    .formula("adds SD²/S to a slope's variance; S sites")
    .source("Larsen et al. 2001, BioScience 51:1069"),
    says(
        &["departures.correlation_length_km"],
        "distance over which sites resemble each other",
        "The distance at which the likeness of two sites has fallen to 37 %. The larger it is, the less each further site adds; 0: every site speaks for itself.",
    )
    .formula("correlation = e^(−distance/length)")
    .source("Diggle & Ribeiro 2007, Model-based Geostatistics, section 3.4"),
    says(
        &["departures.region_km2"],
        "area the sites are spread over",
        "The area over which the sites stand evenly. The larger it is, the further apart they are and the less neighbours repeat each other.",
    )
    .formula("distance of neighbours = √(area/sites)"),
    says(
        &["departures.shared_week_sd"],
        "SD of a week's weather shared by all sites",
        "How much the weather of a week lifts or lowers every catch at once. The larger it is, the more weeks or years are needed; more sites and traps do not help.",
    )
    .formula("adds about ln(1 + (e^(SD²) − 1)/W) to the variance of years; W weeks")
    .source("Fenton 1960, IRE Trans. Commun. Syst. 8:57 (mean of lognormal numbers)"),
    says(
        &["departures.detection_drift_percent"],
        "drift of what the traps catch",
        "By how much traps catch more or less each year though the animals stay as they are. It is seen as a change of the animals: above 0 it hides a fall, below 0 it feigns one.",
    )
    .formula("slope seen = true slope + ln(1 + drift/100)"),
    says(
        &["departures.loss_follows_catch"],
        "how loss follows the catch",
        "Whether full traps are lost more often than empty ones. The larger it is, the more of the best trap-weeks are missing; 0: lost at random.",
    )
    .formula("odds of loss = odds at the typical catch × (catch/typical catch)^power"),
    says(
        &["departures.season_shift_sd"],
        "SD of the season's shift from year to year",
        "By how many weeks the whole season comes early or late in a year. The larger it is, the more years seem to differ, most of all with few open weeks.",
    )
    .formula("peak in a year = peak + SD × a standard normal number"),
    says(
        &["departures.season_trend"],
        "season earlier, days a decade",
        "By how many days a decade the season comes earlier. The further from 0, the larger the false trend in weeks that stay. 2.3 is the mean of many spring events.",
    )
    .formula("peak in year y = first peak − trend/70 × (y − 1), in weeks")
    .source("Parmesan & Yohe 2003, Nature 421:37 (cited from memory)"),
    says(
        &["departures.loss_clustering"],
        "how losses cluster in a site's year",
        "How alike a site's trap-weeks of a year are in being lost: 0 each by itself, near 1 all or none. The larger it is, the more the same losses cost.",
    )
    .formula("site-years' shares lost ~ beta(a, b): mean a/(a + b), correlation 1/(a + b + 1)"),
    says(
        &["attrition"],
        "sites that give up each year",
        "The share of sites, or of their volunteers, that stop for good from one year to the next. The larger it is, the more must be recruited to keep enough.",
    )
    .formula("still there after y years = (1 − share)^y")
    .source("For comparison: Bonter 2023, BioScience (0.18 a year in a bird survey)"),
    says(
        &["late_share"],
        "samples back after the cut-off date",
        "The share of site-years whose samples come too late for the analysis: they kill and tell nothing. The larger it is, the more must be set.",
    )
    .formula("site-years analysed = site-years trapped × (1 − share)"),
];
