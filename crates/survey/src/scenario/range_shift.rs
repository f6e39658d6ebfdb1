//! A move of a range along a gradient: of its optimum or of one of its edges.

use super::Scenario;
use super::analysis::EdgeBy;
use super::premise::{Premise, Source};
use super::question::Effect;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A move along the gradient in its units (m of height or km of northing) a decade; positive is up or north.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RangeShift {
    /// Distance moved in ten years.
    pub distance_per_decade: f64,
    /// What moves: the optimum when left out.
    #[serde(default, skip_serializing_if = "RangePart::is_optimum")]
    pub of: RangePart,
}

/// A place of a range that moves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RangePart {
    /// The place of the highest catch, of a bell-shaped response.
    #[default]
    Optimum,
    /// The upper (or northern) end: where half of the sites are occupied, and fewer above it.
    UpperEdge,
    /// The lower (or southern) end: where half of the sites are occupied, and fewer below it.
    LowerEdge,
}

impl RangePart {
    /// The optimum: left out of files.
    pub fn is_optimum(&self) -> bool {
        *self == Self::Optimum
    }

    /// 1 where sites empty upwards, as at an upper edge, -1 where they empty downwards; `None` of an optimum.
    pub fn edge(self) -> Option<f64> {
        match self {
            Self::Optimum => None,
            Self::UpperEdge => Some(1.0),
            Self::LowerEdge => Some(-1.0),
        }
    }
}

/// What the gradient measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum GradientUnit {
    /// Height above sea level in metres.
    #[serde(rename = "m")]
    Metres,
    /// Northing in kilometres.
    #[serde(rename = "km")]
    Kilometres,
}

impl GradientUnit {
    /// The unit's symbol.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Metres => "m",
            Self::Kilometres => "km",
        }
    }
}

/// How the target responds to the gradient: with the question of an optimum a bell curve of the catch, which falls off
/// with the square of the distance from it; with the question of an edge the sites that are occupied.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Gradient {
    /// Metres of height or kilometres of northing.
    pub unit: GradientUnit,
    /// Place of the highest catch in the first year; only with the question of an optimum.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub optimum: Option<Premise>,
    /// SD of the bell curve along the gradient (the tolerance); only with the question of an optimum.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<Premise>,
    /// The edge of the range; only with the question of an edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edge: Option<Edge>,
}

/// An edge of a range: a site at the distance d beyond it is occupied with chance 1/(1 + exp(d/width)). Occupied sites
/// catch as the premises of the target say, others nothing. A site has its own liking by the target, a logistic number;
/// it is occupied as long as that outweighs its distance, so that sites fill up or empty as the edge goes by.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Edge {
    /// Where half of the sites are occupied in the first year.
    pub place: Premise,
    /// Scale of the logistic curve along the gradient: one width inside the edge 73 % of the sites are occupied, one
    /// width outside it 27 %.
    pub width: Premise,
    /// Share of sites whose own liking by the target is drawn anew from one year to the next, 0 to 1; 0 when left out:
    /// sites change hands only as the edge goes by.
    #[serde(default = "none", skip_serializing_if = "is_none")]
    pub redrawn_each_year: Premise,
}

fn none() -> Premise {
    Premise::new(0.0, Source::Guess)
}

fn is_none(premise: &Premise) -> bool {
    *premise == none()
}

impl Edge {
    /// An edge whose sites change hands only as it goes by.
    pub fn new(place: Premise, width: Premise) -> Self {
        Self {
            place,
            width,
            redrawn_each_year: none(),
        }
    }
}

/// The place that moves, as premises and question have it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moving {
    /// In the first year.
    pub first: f64,
    /// In the plan's last year, when the stated move happens.
    pub last: f64,
    /// Tolerance of the bell curve, or width of the edge.
    pub width: f64,
}

impl Scenario {
    /// The place that moves; `None` but for a range shift with its premises.
    pub fn moving(&self, years: u32) -> Option<Moving> {
        let Effect::RangeShift(shift) = &self.question.effect else {
            return None;
        };
        let g = self.premises.gradient.as_ref()?;
        let (place, width) = match (shift.of.is_optimum(), &g.edge) {
            (true, _) => (g.optimum.as_ref()?, g.tolerance.as_ref()?),
            (false, edge) => {
                let edge = edge.as_ref()?;
                (&edge.place, &edge.width)
            }
        };
        let way = shift.distance_per_decade / 10.0 * (f64::from(years) - 1.0);
        Some(Moving {
            first: place.value,
            last: place.value + way,
            width: width.value,
        })
    }

    /// 1 for the question of an upper edge, -1 for that of a lower one; `None` of any other question.
    pub fn edge(&self) -> Option<f64> {
        match &self.question.effect {
            Effect::RangeShift(shift) => shift.of.edge(),
            _ => None,
        }
    }

    /// Whether it is answered by a model of occupancy under imperfect detection.
    pub fn by_occupancy(&self) -> bool {
        match &self.question.effect {
            Effect::Occupancy(_) => true,
            Effect::RangeShift(r) => !r.of.is_optimum() && self.analysis.edge == EdgeBy::Detection,
            _ => false,
        }
    }

    /// Whether it is the edge of a range, seen by presence.
    pub fn by_presence(&self) -> bool {
        self.edge().is_some() && !self.by_occupancy()
    }
}
