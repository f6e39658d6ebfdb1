//! The numbers of an option of traps; paths are relative to the option.

use super::Field;
use super::shapes::premise;
use crate::scenario::{CatchFactor, Premise, Source, TrapOption};

/// The numbers of one option.
pub const TRAP_OPTION: &[Field<TrapOption>] = &[
    premise!(
        TrapOption,
        "catch_factor",
        "catch of the target over that of the premises' trap",
        "times",
        0.001,
        1000.0,
        0.1,
        |o| o.catch_factor
    ),
    Field {
        path: "k_factor",
        label: "dispersion k over that of the premises' trap",
        unit: "times",
        low: 0.01,
        high: 100.0,
        whole: false,
        step: 0.1,
        read: |o| o.k_factor.as_ref().map(|p| p.value),
        write: |o, v| {
            let premise = || Premise::new(v, Source::Guess);
            o.k_factor.get_or_insert_with(premise).value = v;
        },
        premise: Some(|o| o.k_factor.as_ref()),
        premise_mut: Some(|o| o.k_factor.as_mut()),
    },
    Field {
        path: "money_per_trap",
        label: "money for one such trap",
        unit: "",
        low: 0.0,
        high: 1_000_000.0,
        whole: false,
        step: 1.0,
        read: |o| o.money_per_trap,
        write: |o, v| o.money_per_trap = Some(v),
        premise: None,
        premise_mut: None,
    },
];

/// The number of what an option does to other animals.
pub const CATCH_FACTOR: &[Field<CatchFactor>] = &[premise!(
    CatchFactor,
    "factor",
    "catch over that of the premises' trap",
    "times",
    0.0,
    1000.0,
    0.1,
    |f| f.factor
)];
