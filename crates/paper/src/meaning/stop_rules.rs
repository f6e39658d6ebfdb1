//! The numbers of rules to stop sampling in the field.

use super::{Entry, says};

const GREEN: &str = "Green 1970, Researches on Population Ecology 12:249";
const KUNO: &str = "Kuno 1969, Researches on Population Ecology 11:127";
const WALD: &str = "Wald 1947, Sequential Analysis; Waters 1955, Forest Science 1:68";

pub(super) const OF: &[Entry] = &[
    says(
        &["plan.stop_rule.green.relative_error_percent"],
        "wanted standard error (Green's line)",
        "How large the standard error of the mean may be, in per cent of it, when catches scatter by Taylor's law. The larger it is, the sooner one may stop.",
    )
    .formula("stop at a total of (D²/a)^(1/(b − 2)) n^((b − 1)/(b − 2)); D the error, n samples")
    .source(GREEN),
    says(
        &["plan.stop_rule.green.a"],
        "Taylor's a",
        "How much samples scatter where one animal is caught on average. The larger it is, the more samples are needed.",
    )
    .formula("variance of samples = a × mean^b")
    .source("Taylor 1961, Nature 189:732"),
    says(
        &["plan.stop_rule.green.b"],
        "Taylor's b",
        "How fast the scatter of samples grows with their mean: 1 as by chance alone, 2 in step with the mean. The larger it is, the less rich catches shorten the work.",
    )
    .formula("variance of samples = a × mean^b")
    .source("Taylor 1961, Nature 189:732"),
    says(
        &["plan.stop_rule.kuno.relative_error_percent"],
        "wanted standard error (Kuno's line)",
        "How large the standard error of the mean may be, in per cent of it, when catches clump as the premises say. The larger it is, the fewer samples are taken.",
    )
    .formula("stop at a total of (α + 1)/(D² − (β − 1)/n); D error, n samples, mean crowding α + β mean")
    .source(KUNO),
    says(
        &[
            "plan.stop_rule.green.most_samples",
            "plan.stop_rule.kuno.most_samples",
            "plan.stop_rule.probability_ratio.most_samples",
        ],
        "most samples",
        "After so many samples one stops, whether or not the line is met. The larger it is, the more rounds reach what is wanted, and the more animals a long one kills.",
    ),
    says(
        &["plan.stop_rule.probability_ratio.low"],
        "low mean",
        "The lower of the two mean catches a sample between which the rule decides. The further the two are apart, the fewer samples it takes.",
    )
    .formula("lines: slope × n + h; both follow from the two means, k and the two errors")
    .source(WALD),
    says(
        &["plan.stop_rule.probability_ratio.high"],
        "high mean",
        "The higher of the two mean catches a sample between which the rule decides. The nearer it is to the lower one, the more samples it takes.",
    )
    .formula("lines: slope × n + h; both follow from the two means, k and the two errors")
    .source(WALD),
    says(
        &["plan.stop_rule.probability_ratio.alpha"],
        "chance of “high” at the low mean",
        "How often the rule may say high although the mean is low. The smaller it is, the more samples are taken before it says so.",
    )
    .formula("upper line where the likelihood ratio is (1 − β)/α")
    .source(WALD),
    says(
        &["plan.stop_rule.probability_ratio.beta"],
        "chance of “low” at the high mean",
        "How often the rule may say low although the mean is high. The smaller it is, the longer it takes to be let off with a low count.",
    )
    .formula("lower line where the likelihood ratio is β/(1 − α)")
    .source(WALD),
];
