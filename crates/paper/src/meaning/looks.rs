//! The numbers of planned looks.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["plan.looks.after_years"],
        "look after year",
        "After how many years one looks whether the survey may end. Later looks end more surveys; the earliest hardly any, since so little of a trend is known by then.",
    )
    .formula("share of the information t = variance after all years/variance after the look's years")
    .source("Jennison & Turnbull 2000, Group Sequential Methods, chapter 3"),
    says(
        &["plan.looks.futility.rule.spend_beta"],
        "chance to give up a change that is there",
        "How many surveys may be given up as hopeless although the change is there. The larger it is, the sooner hopeless surveys end, and the more power is lost.",
    )
    .formula("spent by t: 2 − 2 Φ(z(1 − b/2)/√t); b the chance, t share of the information")
    .source("Lan & DeMets 1983, Biometrika 70:659"),
    says(
        &["plan.looks.futility.rule.conditional_power"],
        "least chance still to find the change",
        "A survey ends when its chance of still finding the stated change has fallen below this. The larger it is, the more surveys end early, and the more power is lost.",
    )
    .source("Jennison & Turnbull 2000, Group Sequential Methods, chapter 10"),
];
