//! The data looked at again and again, each time with the test of a single look.
//!
//! Chance that any of n evenly spaced looks at normal data is beyond the critical value of one (Armitage, McPherson & Rowe
//! 1969, J. R. Stat. Soc. A 132:235-244).

use super::knob::{Knob, Origin, value};
use models::sequential::{Boundary, Design, Fractions, Lines, MOST_LOOKS, Sides};
use numerics::special::normal;
use serde::Serialize;

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RepeatedLooks {
    /// Looks.
    pub looks: f64,
    /// Accepted false alarms of a single look.
    pub accepted: f64,
    /// False alarms by all looks together.
    pub false_alarm: f64,
    /// Looks, false alarms.
    pub points: Vec<[f64; 2]>,
}

pub(super) fn knobs(base: &super::Base) -> Vec<Knob> {
    let looks = (base.years.0 - 2.0).clamp(2.0, MOST_LOOKS as f64);
    vec![
        Knob::new(
            "looks",
            "looks, the last one included",
            "",
            (1.0, MOST_LOOKS as f64, 1.0),
            (looks, Origin::Example),
        ),
        super::knob::level(base),
    ]
}

pub(super) fn shown(knobs: &[Knob]) -> RepeatedLooks {
    let (looks, level) = (value(knobs, "looks"), value(knobs, "level_percent") / 100.0);
    // The first j of evenly spaced looks are j evenly spaced looks.
    let fractions = Fractions::even(MOST_LOOKS);
    let lines = Lines {
        upper: vec![-normal::quantile(0.5 * level); MOST_LOOKS],
        futility: vec![None; MOST_LOOKS],
    };
    let design = Design {
        fractions,
        sides: Sides::Two,
        level,
        boundary: Boundary::Pocock,
        futility: None,
    };
    let outcome = design.outcome(&lines, 0.0);
    let mut sum = 0.0;
    let points: Vec<[f64; 2]> = outcome
        .above
        .iter()
        .zip(&outcome.below)
        .zip(1..)
        .map(|((above, below), j)| {
            sum += above + below;
            [f64::from(j), sum]
        })
        .collect();
    let reached = points.iter().find(|p| p[0] == looks);
    RepeatedLooks {
        looks,
        accepted: level,
        false_alarm: reached.map_or(f64::NAN, |p| p[1]),
        points,
    }
}
