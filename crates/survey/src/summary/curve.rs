//! Power and toll along one axis.

use super::{Answer, Fits, PreviewAnswer, Share, TestTold, Toll};
use crate::axis::Axis;
use serde::Serialize;

/// One plan of the curve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Point {
    /// The number on the axis, under the axis' own key.
    #[serde(flatten)]
    pub at: std::collections::BTreeMap<&'static str, u32>,
    /// The test behind power and false alarms.
    pub test: TestTold,
    /// Power.
    pub power: Share,
    /// False alarms.
    pub false_alarm: Share,
    /// Closed forms.
    pub preview: PreviewAnswer,
    /// How the fits ended.
    pub fits: Fits,
    /// What the plan kills.
    pub toll: Option<Toll>,
    /// Digest of the results.
    pub result_digest: String,
}

impl Point {
    /// A point from a plan's answer.
    pub fn new(axis: Axis, answer: Answer) -> Self {
        Self {
            at: [(axis.key(), axis.of(&answer.plan))].into(),
            test: answer.test,
            power: answer.power,
            false_alarm: answer.false_alarm,
            preview: answer.preview,
            fits: answer.fits,
            toll: answer.toll,
            result_digest: answer.result_digest,
        }
    }

    /// The number on the axis.
    pub fn value(&self) -> u32 {
        self.at.values().next().copied().unwrap_or(0)
    }
}

/// A whole curve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Curve {
    /// What it runs over.
    pub over: Axis,
    /// Its points in rising order.
    pub points: Vec<Point>,
}
