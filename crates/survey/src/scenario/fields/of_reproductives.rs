//! The numbers of the reproductive share, of the target and of another species.

use super::Field;
use crate::scenario::{Scenario, Target};

macro_rules! reproductive {
    ($t:ty, $path:expr, $label:literal, $unit:literal, $low:expr, $high:expr, $step:expr, $field:ident, |$s:ident| $of:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: false,
            step: $step,
            read: |$s: &$t| $of.reproductives.as_ref().map(|r| r.$field.value),
            write: |$s: &mut $t, v| {
                if let Some(r) = &mut $of.reproductives {
                    r.$field.value = v;
                }
            },
            premise: Some(|$s: &$t| $of.reproductives.as_ref().map(|r| &r.$field)),
            premise_mut: Some(|$s: &mut $t| $of.reproductives.as_mut().map(|r| &mut r.$field)),
        }
    };
}

macro_rules! list {
    ($name:ident, $t:ty, $prefix:literal, |$s:ident| $of:expr) => {
        /// The numbers of the reproductive share, where it is given.
        pub const $name: &[Field<$t>] = &[
            reproductive!(
                $t,
                concat!($prefix, "reproductives.share_at_peak"),
                "largest share that is reproductive",
                "",
                0.0,
                1.0,
                0.05,
                share_at_peak,
                |$s| $of
            ),
            reproductive!(
                $t,
                concat!($prefix, "reproductives.peak_week"),
                "reproductives' peak",
                "week of the year",
                1.0,
                53.0,
                1.0,
                peak_week,
                |$s| $of
            ),
            reproductive!(
                $t,
                concat!($prefix, "reproductives.width_weeks"),
                "reproductives' width (SD)",
                "weeks",
                0.3,
                60.0,
                0.5,
                width_weeks,
                |$s| $of
            ),
        ];
    };
}

list!(REPRODUCTIVES, Scenario, "premises.target.", |s| s
    .premises
    .target);
list!(OTHERS_REPRODUCTIVES, Target, "", |t| t);
