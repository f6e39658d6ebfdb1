//! The model of the counts, and how its fits end.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["dispersion", "dispersion_k", "negative_binomial"],
        "dispersion",
        "Catches scatter more than by chance alone; dispersion k says how much. The larger k, the nearer to chance alone and the more each trap-week tells.",
    )
    .formula("variance = μ + μ²/k; μ mean catch of a trap-week (negative binomial)")
    .source("Zhu & Lakkis 2014, Stat. Med. 33:376 (as μ + κμ² with κ = 1/k)"),
    says(
        &["poisson"],
        "Poisson counts",
        "Counts that scatter by chance alone, as if each animal came by itself. Real catches scatter more, so that an analysis with them is too sure.",
    )
    .formula("variance = μ; μ mean catch"),
    says(
        &["mixed_model"],
        "mixed model of the counts",
        "The analysis of a survey's catches: a common change, with sites and years that have good and bad levels of their own by chance.",
    )
    .formula("ln μ = level + slope × year + site + year + ln trap-weeks; site, year normal")
    .source("Breslow & Clayton 1993, J. Am. Stat. Assoc. 88:9"),
    says(
        &["fits"],
        "fits",
        "How the analyses of the simulated surveys ended. The more of them failed, the less the planned analysis suits such catches.",
    ),
    says(
        &["converged"],
        "converged fits",
        "Analyses that found a clear best answer. The nearer to all of them, the better the analysis suits the survey.",
    ),
    says(
        &["singular"],
        "singular fits",
        "Analyses that estimate that sites, or years, do not differ at all. This is an answer and is used; many of them mean too few years or sites to tell.",
    ),
    says(
        &["at_bound"],
        "fits with no more scatter than Poisson",
        "Analyses that find no more scatter than chance alone. They are used; many of them mean that catches are too small to show how they clump.",
    ),
    says(
        &["failed", "failed_fits"],
        "failed fits",
        "Analyses that gave no answer. They count as nothing found, in power and in false alarms alike; the more there are, the less the power can become.",
    ),
];
