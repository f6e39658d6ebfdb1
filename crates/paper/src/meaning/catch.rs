//! The numbers of what is caught: target and other species asked about, by-catch, reproductive animals, losses.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["target.catch_per_trap_week"],
        "catch per trap-week at peak",
        "Animals of the target that one trap catches in one week at the season's peak, at a typical site. The larger it is, the fewer trap-weeks are needed, and the more each of them kills.",
    )
    .formula("mean μ = catch × season(w) × days/7 × e^(site + slope × year + …)"),
    says(
        &["target.dispersion_k"],
        "dispersion k",
        "How evenly catches spread over trap-weeks: small when most are empty and a few are full. The larger k, the fewer traps are needed. The placeholder 2 is common practice.",
    )
    .formula("variance = μ + μ²/k; μ mean catch of a trap-week")
    .source("Zhu & Lakkis 2014, Stat. Med. 33:376 (as μ + κμ² with κ = 1/k)"),
    says(
        &["target.site_sd"],
        "SD of sites",
        "How much sites differ in their catch. Trends at the same sites are free of it; for a mean, and where sites change, the larger, the more sites are needed. The placeholder 0.6 is common practice.",
    )
    .formula("two sites of three catch between e^−SD and e^SD times the typical one")
    .source("Larsen et al. 2001, BioScience 51:1069 (sites drop out of a trend)"),
    says(
        &["target.year_sd"],
        "SD of years shared by all sites",
        "How much good and bad years differ that all sites share. No number of traps helps against them: the larger it is, the more years a trend needs. The placeholder 0.2 is common practice.",
    )
    .formula("variance of a slope is at least SD²/(T(T² − 1)/12); T years")
    .source("Larsen et al. 2001, BioScience 51:1069"),
    says(
        &["target.site_year_sd"],
        "SD of a site's own year",
        "How much a site's good and bad years are its own. The larger it is, the more sites or years are needed; more traps at a site do not help. The placeholder 0.35 is common practice.",
    )
    .formula("adds SD²/S/(T(T² − 1)/12) to a slope's variance; S sites, T years")
    .source("Larsen et al. 2001, BioScience 51:1069"),
    says(
        &["target.trap_sd"],
        "SD of traps within a site",
        "How much the points of a site's traps differ. Traps that stay in place take it out of a trend; at new points every year, the larger, the more traps it takes. The placeholder 0.3 is common practice.",
    )
    .formula("adds ln(1 + (e^(SD²) − 1)/m) to a site's year; m traps, at new points")
    .source("Fenton 1960, IRE Trans. Commun. Syst. 8:57 (mean of lognormal numbers)"),
    says(
        &["target.season_peak_week"],
        "season's peak",
        "The week of the year in which the target is caught most. The nearer the open weeks lie to it, the more the same trap-weeks catch and kill.",
    )
    .formula("season(w) = e^(−(w − peak)²/(2 width²)); w week of the year"),
    says(
        &["target.season_width_weeks"],
        "season's width",
        "How long the season is: two thirds of its catch fall within so many weeks to either side of the peak. The larger, the more weeks catch well. The placeholder 4 is common practice.",
    )
    .formula("season(w) = e^(−(w − peak)²/(2 width²)); w week of the year"),
    says(
        &["trap_loss"],
        "trap-weeks lost",
        "The share of trap-weeks whose catch is trampled, flooded or stolen: they kill but are not counted. The larger it is, the more must be set. 5 to 10 % is common practice.",
    )
    .formula("trap-weeks counted = trap-weeks set × (1 − share lost)"),
    says(
        &["bycatch.catch_per_trap_week"],
        "by-catch per trap-week at peak",
        "Animals of this group that one trap kills in one week at the group's peak. The larger it is, the larger the toll; the power is not touched.",
    )
    .formula("mean kill of a trap-week = catch × season(w) × days/7 × e^((site SD² + year SD²)/2)"),
    says(
        &["bycatch.dispersion_k"],
        "dispersion k of the by-catch",
        "How evenly this group's kills spread over trap-weeks. The larger k, the narrower the range of its toll; the mean toll stays the same.",
    )
    .formula("variance = μ + μ²/k; μ mean kill of a trap-week"),
    says(
        &["bycatch.site_sd"],
        "SD of sites of the by-catch",
        "How much sites differ in what they kill of this group. The larger it is, the larger and the less sure the toll, since a few rich sites carry it.",
    )
    .formula("mean over sites = that of a typical site × e^(SD²/2)"),
    says(
        &["bycatch.year_sd"],
        "SD of years of the by-catch",
        "How much years differ in what is killed of this group at all sites. The larger it is, the larger and the less sure the toll, since a few rich years carry it.",
    )
    .formula("mean over years = that of a typical year × e^(SD²/2)"),
    says(
        &["bycatch.season_peak_week"],
        "season's peak of the by-catch",
        "The week of the year in which most of this group are killed. The further the open weeks lie from it, the fewer of the group die.",
    )
    .formula("season(w) = e^(−(w − peak)²/(2 width²)); w week of the year"),
    says(
        &["bycatch.season_width_weeks"],
        "season's width of the by-catch",
        "How long this group is about. The larger it is, the less of the group can be spared by choosing other weeks.",
    )
    .formula("season(w) = e^(−(w − peak)²/(2 width²)); w week of the year"),
    says(
        &["target.reproductives.share_at_peak"],
        "largest share that is reproductive",
        "The share of the animals caught that can breed, such as females with eggs, in the week with most of them. The larger it is, the more of the toll are breeders.",
    )
    .formula("share(w) = largest share × e^(−(w − peak)²/(2 width²)); w week"),
    says(
        &["target.reproductives.peak_week"],
        "reproductives' peak",
        "The week in which the share of breeding animals is largest. The further the open weeks lie from it, the fewer breeders die.",
    ),
    says(
        &["target.reproductives.width_weeks"],
        "reproductives' width",
        "For how many weeks breeding animals make up much of the catch. The larger it is, the fewer of them can be spared by choosing weeks.",
    ),
];
