//! What is told of samples in the field: fixed numbers, and rules to stop.

use super::{Entry, says};

const FIXED: &str = "Karandinos 1976, Bull. Entomol. Soc. Am. 22:417";
const WALD: &str = "Wald 1947, Sequential Analysis";

pub(super) const OF: &[Entry] = &[
    says(
        &["samples", "fixed_number", "for_error", "for_interval"],
        "samples fixed beforehand",
        "How many samples give the mean as closely as wanted, at the mean that is believed in. The more catches clump, the more it takes.",
    )
    .formula("(1/m + 1/K)/D²; m mean catch of a sample, K its dispersion, D error/mean")
    .source(FIXED),
    says(
        &["sample_dispersion"],
        "dispersion K of a sample",
        "How evenly samples of different sites catch. Differences between sites are in it, so that it is smaller than a trap-week's k; the larger, the fewer samples.",
    )
    .formula("1 + 1/K = e^(s²) (1 + ((1 + 1/k) e^(p²) − 1)/m); s SD of sites, p of traps, m traps"),
    says(
        &["mean_samples"],
        "samples on average",
        "How many samples a round takes on average before it meets the line. The fewer, the fewer animals die; rich places need the fewest.",
    )
    .source(WALD),
    says(
        &["samples_95"],
        "enough in 95 of 100",
        "With so many samples 95 rounds of 100 come to their end. It says how many to be ready for; most rounds take fewer.",
    ),
    says(
        &["stop_or_go", "says_low", "says_high"],
        "how often the rule says low or high",
        "How many of 100 rounds decide for the low, or the high mean, at a stated true one. The steeper it turns between the two, the better the rule tells them apart.",
    )
    .source(WALD),
    says(
        &["undecided"],
        "rounds that end undecided",
        "How many of 100 rounds come to the largest number of samples without having met a line. A larger limit makes them fewer and the longest rounds longer.",
    ),
    says(
        &["relative_error"],
        "standard error reached",
        "How far the mean of a round lies from the truth, typically, in per cent of it. It should be about the error wanted; larger means the premises of the line do not hold.",
    ),
    says(
        &["relative_bias"],
        "bias by stopping",
        "By how much a round's mean is too high on average, because one stops sooner after rich samples. It is mostly small; the earlier one stops, the larger.",
    ),
    says(
        &["before_fixed"],
        "rounds that stop before the fixed number",
        "How many of 100 rounds need fewer samples than would have been fixed beforehand. The more, the more animals the rule spares.",
    ),
];
