//! The shapes of a field: a plain number, a whole number, a premise; and those of parts that not every scenario has.

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
    // With what a change of the number puts out of force.
    ($path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, |$s:ident| $place:expr, |$t:ident| $reset:expr) => {
        Field {
            write: |$s: &mut Scenario, v| {
                $place = v as u32;
                let $t = $s;
                $reset;
            },
            ..whole!($path, $label, $unit, $low, $high, |$s| $place)
        }
    };
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

/// A number of the question's effect.
macro_rules! effect {
    ($variant:ident, $path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, $step:expr, $field:ident) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: false,
            step: $step,
            read: |s: &Scenario| match &s.question.effect {
                Effect::$variant(e) => Some(e.$field),
                _ => None,
            },
            write: |s: &mut Scenario, v| {
                if let Effect::$variant(e) = &mut s.question.effect {
                    e.$field = v;
                }
            },
            premise: None,
            premise_mut: None,
        }
    };
}

/// A premise of a part.
macro_rules! part_premise {
    ($of:ident, $part:ident, $field:ident, $path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, $step:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: false,
            step: $step,
            read: |s| s.$of.$part.as_ref().map(|p| p.$field.value),
            write: |s, v| {
                if let Some(p) = &mut s.$of.$part {
                    p.$field.value = v;
                }
            },
            premise: Some(|s| s.$of.$part.as_ref().map(|p| &p.$field)),
            premise_mut: Some(|s| s.$of.$part.as_mut().map(|p| &mut p.$field)),
        }
    };
}

/// A premise of the bell curve on a gradient.
macro_rules! bell_premise {
    ($field:ident, $path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, $step:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: false,
            step: $step,
            read: |s| {
                let gradient = s.premises.gradient.as_ref()?;
                gradient.$field.as_ref().map(|p| p.value)
            },
            write: |s, v| {
                let gradient = s.premises.gradient.as_mut();
                if let Some(p) = gradient.and_then(|g| g.$field.as_mut()) {
                    p.value = v;
                }
            },
            premise: Some(|s| s.premises.gradient.as_ref()?.$field.as_ref()),
            premise_mut: Some(|s| s.premises.gradient.as_mut()?.$field.as_mut()),
        }
    };
}

/// A premise of the edge on a gradient.
macro_rules! edge_premise {
    ($field:ident, $path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, $step:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: false,
            step: $step,
            read: |s| {
                let edge = s.premises.gradient.as_ref()?.edge.as_ref();
                edge.map(|e| e.$field.value)
            },
            write: |s, v| {
                let gradient = s.premises.gradient.as_mut();
                if let Some(e) = gradient.and_then(|g| g.edge.as_mut()) {
                    e.$field.value = v;
                }
            },
            premise: Some(|s| {
                let edge = s.premises.gradient.as_ref()?.edge.as_ref();
                edge.map(|e| &e.$field)
            }),
            premise_mut: Some(|s| {
                let edge = s.premises.gradient.as_mut()?.edge.as_mut();
                edge.map(|e| &mut e.$field)
            }),
        }
    };
}

/// A plain number of a part of the plan.
macro_rules! part_plain {
    ($part:ident, $field:ident, $path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, $step:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: false,
            step: $step,
            read: |s| s.plan.$part.as_ref().map(|p| p.$field),
            write: |s, v| {
                if let Some(p) = &mut s.plan.$part {
                    p.$field = v;
                }
            },
            premise: None,
            premise_mut: None,
        }
    };
}

/// A number of one of the rules to stop.
macro_rules! stop_rule {
    ($variant:ident, $path:literal, $label:literal, $unit:literal, $low:expr, $high:expr, $step:expr, $whole:expr,
     |$r:ident| $read:expr, |$w:ident, $v:ident| $write:expr) => {
        Field {
            path: $path,
            label: $label,
            unit: $unit,
            low: $low,
            high: $high,
            whole: $whole,
            step: $step,
            read: |s: &Scenario| match &s.plan.stop_rule {
                Some(StopRule::$variant($r)) => Some(f64::from($read)),
                _ => None,
            },
            write: |s: &mut Scenario, $v| {
                if let Some(StopRule::$variant($w)) = &mut s.plan.stop_rule {
                    $write;
                }
            },
            premise: None,
            premise_mut: None,
        }
    };
}

pub(super) use {
    bell_premise, edge_premise, effect, part_plain, part_premise, plain, premise, stop_rule, whole,
};
