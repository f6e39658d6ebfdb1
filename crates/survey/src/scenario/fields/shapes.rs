//! The three shapes of a field: a plain number, a whole number, a premise.

macro_rules! plain {
    ($t:ty, $path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, $step:expr, |$s:ident| $place:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: false,
            step: $step,
            read: |$s: &$t| Some($place),
            write: |$s: &mut $t, v| $place = v,
            premise: None,
            premise_mut: None,
        }
    };
}

macro_rules! whole {
    ($path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, |$s:ident| $place:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: true,
            step: 1.0,
            read: |$s: &Scenario| Some(f64::from($place)),
            write: |$s: &mut Scenario, v| $place = v as u32,
            premise: None,
            premise_mut: None,
        }
    };
}

macro_rules! premise {
    ($t:ty, $path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, $step:expr, |$s:ident| $place:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: false,
            step: $step,
            read: |$s: &$t| Some($place.value),
            write: |$s: &mut $t, v| $place.value = v,
            premise: Some(|$s: &$t| Some(&$place)),
            premise_mut: Some(|$s: &mut $t| Some(&mut $place)),
        }
    };
}

pub(super) use {plain, premise, whole};
