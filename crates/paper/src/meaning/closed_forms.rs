//! What is told without simulating: the preview and what it is made of.

use super::{Entry, says};

const TREND: &str = "Larsen et al. 2001, BioScience 51:1069";

pub(super) const OF: &[Entry] = &[
    says(
        &["preview", "preview_power", "preview.power"],
        "preview",
        "The power by a formula, at once and without simulating. It is a guide that may be some hundredths off; where the two differ, trust the simulation.",
    )
    .formula("power = chance(|T| > critical value); T noncentral t about effect/standard error")
    .source("Gerrodette 1987, Ecology 68:1364; Link & Hatfield 1990, Ecology 71:1217"),
    says(
        &["standard_error", "se"],
        "standard error",
        "How far an estimate lies from the truth, typically. The larger it is, the larger a change must be to be seen; half of it takes about four times the survey.",
    )
    .formula("slope: √((SD² + v/S)/(T(T² − 1)/12)); SD of years, S sites, T years, v a site's year")
    .source(TREND),
    says(
        &["delta", "noncentrality"],
        "effect over its standard error",
        "How many standard errors the true change is away from none. The larger it is, the surer it is found; about 2.8 gives a power of 0.8 at 5 % where years are many.",
    )
    .formula("δ = effect/standard error"),
    says(
        &["df", "degrees_of_freedom"],
        "degrees of freedom",
        "How many pieces of knowledge tell how uncertain the estimate is. The fewer, the more a test must ask for: with five years a trend has three.",
    )
    .formula("fall: T − 2; move of an optimum: (S − 1)(T − 1) − 1; S sites, T years"),
    says(
        &["floor", "year_floor", "floor_set_by_years"],
        "floor set by years",
        "What stays uncertain however many sites and traps there are, since all share good and bad years. The larger it is, the more only further years help.",
    )
    .formula("variance of a slope ≥ SD²/(T(T² − 1)/12); SD of shared years, T years")
    .source(TREND),
    says(
        &["variance_share", "variance_shares"],
        "share of the variance",
        "How much of the estimate's uncertainty comes from years, from sites' own years, or from counts. The largest share says what to spend on: years, sites, or traps and weeks.",
    )
    .formula("years SD² : own years SD²/S : counts (1/M + 1/(m k W))/S; S sites, M catch, m traps, W weeks")
    .source(TREND),
    says(
        &["effective_sites"],
        "effective sites",
        "How many independent sites all sites are worth when neighbours resemble each other. The nearer it is to the number of sites, the less is repeated.",
    )
    .formula("S/(1 + (S − 1) r); S sites, r their mean correlation"),
    says(
        &["design_effect"],
        "what several traps at a site are worth",
        "By how much traps of one site count for less than as many at sites of their own. The larger it is, the more it pays to spread traps over sites.",
    )
    .formula("1 + (m − 1) ρ; m traps a site, ρ share of the variance that a site's traps have in common"),
    says(
        &["information"],
        "information",
        "How much a plan or a week tells of what is asked. Twice the information makes the answer as sure as twice the survey would.",
    )
    .formula("information = 1/variance of the estimate"),
    says(
        &["sites_by_rates"],
        "sites by a published formula",
        "Sites without the treatment that a formula for two rates asks for. It knows no sites that differ beyond chance, so that it asks for too few where they do.",
    )
    .formula("(z₁ √V₀ + z₂ √V₁)²/ln(r₁/r₀)²; r rates, V variances without and with the difference")
    .source("Zhu & Lakkis 2014, Stat. Med. 33:376 (third variance)"),
    says(
        &["detection_per_visit"],
        "chance of detection in a week",
        "The chance that one week of trapping at a site where the target lives catches any. The larger it is, the fewer visits are needed.",
    )
    .formula("1 − (1 + μ/k)^(−k) for one trap, averaged over sites, years and traps; μ mean catch")
    .source("McArdle 1990, Oikos 57:276; Green & Young 1993, Ecol. Appl. 3:351"),
    says(
        &["detection_per_year"],
        "chance of detection in a year",
        "The chance that a whole year of trapping at a site where the target lives catches any. The nearer it is to 1, the fewer occupied sites are taken for empty.",
    )
    .formula("1 − (1 − p)^K; p chance in one visit, K visits")
    .source("MacKenzie & Royle 2005, J. Appl. Ecol. 42:1105"),
    says(
        &["best_split"],
        "best split of the effort",
        "The numbers of sites and weeks that answer most surely with the same number of weeks of trapping at sites. Rare targets want more sites, shy ones more weeks.",
    )
    .source("MacKenzie & Royle 2005, J. Appl. Ecol. 42:1105"),
    says(
        &["best_placing", "placings"],
        "best placing of the sites",
        "Where as many sites would see the move with the smallest error. What is best for one place of the edge is poor for another: be sure of where it lies.",
    ),
    says(
        &["finding_none_allows"],
        "what finding none still allows",
        "The mean catch of a trap-week that a survey without any catch does not exclude. The smaller it is, the more finding none says; it is never proof that none are there.",
    )
    .formula("density at which the wanted share of surveys would catch one at least")
    .source("Green & Young 1993, Ecol. Appl. 3:351"),
    says(
        &["effect"],
        "effect on the log scale",
        "The stated change as what is estimated: a step of the log of the catch. The further from 0, the fewer animals it takes to see it.",
    )
    .formula("ln(catch with it/catch without it), of a fall a year: ln(1 − fall)/years"),
];
