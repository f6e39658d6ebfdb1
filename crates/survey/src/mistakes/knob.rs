//! A number that a person moves.

use serde::Serialize;

/// Where a knob's first value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// The scenario says it, or it follows from what the scenario says.
    Scenario,
    /// The scenario says nothing of it: an example.
    Example,
}

/// A number that a person moves, with its present value.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Knob {
    /// Its key in files.
    pub key: &'static str,
    /// Its name.
    pub label: &'static str,
    /// Its unit; empty for plain numbers.
    pub unit: &'static str,
    /// Smallest value.
    pub low: f64,
    /// Largest value.
    pub high: f64,
    /// Step of a slider.
    pub step: f64,
    /// Only whole numbers.
    pub whole: bool,
    /// Its value now.
    pub value: f64,
    /// Where its first value comes from.
    pub from: Origin,
}

impl Knob {
    /// A knob over a usual range, which is widened where the first value lies outside it.
    pub(super) fn new(
        key: &'static str,
        label: &'static str,
        unit: &'static str,
        (low, high, step): (f64, f64, f64),
        (value, from): (f64, Origin),
    ) -> Self {
        Self {
            key,
            label,
            unit,
            low: low.min(value),
            high: high.max(value),
            step,
            whole: step >= 1.0,
            value,
            from,
        }
    }

    /// Whether it may have this value.
    pub fn allows(&self, value: f64) -> bool {
        let fits = value >= self.low && value <= self.high;
        fits && (!self.whole || value == value.floor())
    }

    /// The bound in words: "a whole number from 3 to 40".
    pub fn bound(&self) -> String {
        let kind = if self.whole {
            "a whole number"
        } else {
            "a number"
        };
        format!("{kind} from {} to {}", self.low, self.high)
    }
}

/// The value of the knob with this key; not a number where there is none.
pub(super) fn value(knobs: &[Knob], key: &str) -> f64 {
    let found = knobs.iter().find(|k| k.key == key);
    found.map_or(f64::NAN, |k| k.value)
}

/// The accepted false alarms of one test.
pub(super) fn level(base: &super::Base) -> Knob {
    Knob::new(
        "level_percent",
        "accepted false alarms of one test",
        "%",
        (0.5, 20.0, 0.5),
        (100.0 * base.level, Origin::Scenario),
    )
}
