//! The numbers of kinds of trap.

use super::{Entry, says};

pub(super) const OF: &[Entry] = &[
    says(
        &["trap_options.catch_factor"],
        "catch of the target with this trap",
        "What this kind of trap catches of the target over what the premises' trap catches. The larger it is, the fewer trap-weeks are needed, each of which kills more.",
    )
    .formula("catch per trap-week with this trap = factor × that of the premises"),
    says(
        &["trap_options.k_factor"],
        "dispersion k with this trap",
        "How much larger the dispersion k is with this kind of trap. Above 1 its catches are more even, so that fewer traps are needed.",
    )
    .formula("k with this trap = factor × k of the premises"),
    says(
        &["trap_options.money_per_trap"],
        "money for one such trap",
        "What one trap of this kind costs to buy. The larger it is, the dearer the traps of a plan; power and toll do not change.",
    ),
    says(
        &["trap_options.bycatch.factor"],
        "by-catch with this trap",
        "What this kind of trap kills of a group over what the premises' trap kills. Below 1 it spares them; the larger it is, the larger the toll.",
    )
    .formula("kill per trap-week with this trap = factor × that of the premises")
    .source("Such as Lange et al. 2011, Methods Ecol. Evol. (funnels in pitfalls)"),
];
