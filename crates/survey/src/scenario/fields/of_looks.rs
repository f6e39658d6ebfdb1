//! The numbers of planned looks.

use super::Field;
use crate::scenario::{FutilityRule, Scenario};

macro_rules! futility {
    ($variant:ident, $path:literal, $label:literal, $low:expr, $high:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: "",
            low: $low,
            high: $high,
            whole: false,
            step: 0.05,
            read: |s: &Scenario| match s.plan.looks.as_ref()?.futility?.rule {
                FutilityRule::$variant(v) => Some(v),
                _ => None,
            },
            write: |s: &mut Scenario, v| {
                let futility = s.plan.looks.as_mut().and_then(|l| l.futility.as_mut());
                if let Some(FutilityRule::$variant(now)) = futility.map(|f| &mut f.rule) {
                    *now = v;
                }
            },
            premise: None,
            premise_mut: None,
        }
    };
}

/// The numbers of a rule of futility.
pub const LOOKS: &[Field<Scenario>] = &[
    futility!(
        SpendBeta,
        "plan.looks.futility.rule.spend_beta",
        "chance to give up a change that is there",
        0.001,
        0.5
    ),
    futility!(
        ConditionalPower,
        "plan.looks.futility.rule.conditional_power",
        "least chance still to find the change",
        0.001,
        0.9
    ),
];
