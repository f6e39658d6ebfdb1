//! What an answer tells of a plan: power, false alarms, the smallest change, what findings are worth.

use super::{Entry, says};

const FILTER: &str = "Gelman & Carlin 2014, Perspect. Psychol. Sci. 9:641";

pub(super) const OF: &[Entry] = &[
    says(
        &["power"],
        "power",
        "How many of 100 surveys like this would find the change when it is there. The larger it is, the less likely the animals die for nothing.",
    )
    .formula("power = simulated surveys that find the change/all in which it is there"),
    says(
        &["false_alarm", "false_alarms"],
        "false alarms",
        "How many of 100 surveys would find a change although nothing changes. The larger it is, the less a finding can be trusted. A calibrated test is set to the accepted level by simulated surveys, so that every plan shows about the same.",
    )
    .formula("false alarms = simulated surveys that find a change/all in which nothing changes"),
    says(
        &["interval", "monte_carlo", "low", "high"],
        "95 % interval of a simulated share",
        "Within it the share would very likely lie, were endlessly many surveys simulated. The more surveys, the narrower; it does not hold what the premises do not know.",
    )
    .formula("(p + z²/2n ± z√(p(1 − p)/n + z²/4n²))/(1 + z²/n); p share of n surveys, z 1.96")
    .source("Wilson 1927, J. Am. Stat. Assoc. 22:209"),
    says(
        &["replicates"],
        "simulated surveys",
        "How many surveys are simulated with the change, and as many without it. The more, the surer the numbers and the longer it takes; four times as many halve the error.",
    )
    .formula("standard error of a share = √(p(1 − p)/n); p share, n surveys"),
    says(
        &["seed"],
        "seed",
        "The number that random draws begin from. The same scenario, seed and number of surveys give the same results everywhere; another seed shows how much is luck.",
    ),
    says(
        &["digest", "result_digest"],
        "digest of the results",
        "A fingerprint of all simulated results. Two runs with the same one had the very same results, whatever machine they ran on.",
    )
    .formula("first 16 hexadecimal digits of SHA-256 of estimates, errors and kills"),
    says(
        &["smallest_change", "smallest_change_percent", "smallest_shift_per_decade"],
        "smallest change",
        "The smallest change that this plan would find with the wanted power. The larger it is, the more escapes the survey.",
    )
    .formula("about (critical value + quantile of the wanted power) × standard error"),
    says(
        &["wrong_way", "wrong_sign"],
        "findings the wrong way",
        "Of all surveys that find something, the share that see the change go the wrong way. The larger it is, the less even the direction of a finding is worth.",
    )
    .formula("Φ(−z − λ)/(1 − Φ(z − λ) + Φ(−z − λ)); λ effect/standard error, z critical value")
    .source(FILTER),
    says(
        &["exaggeration"],
        "exaggeration",
        "How many times too large the change seems, on average over the surveys that find it. 1 is fair; the weaker a survey, the more its findings overstate.",
    )
    .formula("mean size of the significant estimates/true size")
    .source(FILTER),
    says(
        &["coverage"],
        "intervals that hold the truth",
        "The share of surveys whose interval holds the true change. It should be 95 % where 5 % of false alarms are accepted; lower means surveys are too sure of themselves.",
    )
    .formula("interval = estimate ± critical value × standard error"),
    says(
        &["bias"],
        "bias",
        "By how much estimates are off the truth on average, over all surveys, found or not. Of 0 is fair; the further from it, the more the method itself misleads.",
    )
    .formula("bias = mean estimate − truth"),
    says(
        &["estimate_sd"],
        "SD of the estimates",
        "How much the estimates of equal surveys differ by luck alone. The larger it is, the less a single survey can be relied on.",
    ),
    says(
        &["no_worse", "no_worse.power"],
        "claim of no worse a fall",
        "How many of 100 surveys could rightly claim that the fall is no worse than the one stated, if nothing changes. Finding no fall is not yet that claim.",
    )
    .formula("claimed when the estimate is surely above the margin, tested one-sided"),
    says(
        &["false_claim", "false_claims", "no_worse.false_claim"],
        "false claims",
        "How many of 100 surveys claim that all is well although the fall is just the one that would be too much. The larger it is, the less the claim is worth.",
    ),
    says(
        &["misses"],
        "intervals that miss the truth",
        "How many of 100 surveys state an interval that their true mean lies outside of. The larger it is, the less such intervals are worth; few uneven sites make it large.",
    ),
    says(
        &["precision_reached"],
        "precision reached",
        "How closely the wanted share of surveys know the mean, as half the width of the interval over it. The larger it is, the vaguer the mean.",
    )
    .formula("half-width/mean = sinh(t s/(mean √n)); n sites, s their SD, t Student's"),
    says(
        &["found", "significant", "significant.found"],
        "surveys with a significant result",
        "How many of the simulated surveys with the change find one, whichever way. Power counts them all; those the wrong way are told apart.",
    ),
];
