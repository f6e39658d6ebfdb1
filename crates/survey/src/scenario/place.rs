//! Sites at fixed places: a list of those there are, from which a plan takes some.

use super::plan::Placing;
use super::{Effect, Fault, Plan, Scenario};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Most places of one list.
pub const MOST_PLACES: usize = 60;
/// Longest name.
const LONGEST_NAME: usize = 60;

/// A site that there is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Place {
    /// Its name.
    pub name: String,
    /// Its position on the gradient, m of height or km of northing; only with the question of a range shift.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub position: Option<f64>,
}

impl Plan {
    /// The places of the plan's sites: the first so many of its list; none without one.
    pub fn places_used(&self) -> &[Place] {
        &self.places[..self.places.len().min(self.sites as usize)]
    }

    /// The plan with sites at these places, in the order in which they are taken, and no more sites than there are.
    pub fn at_places(&self, places: &[Place]) -> Self {
        let mut other = self.clone();
        other.places = places.to_vec();
        if let Some(t) = &mut other.transect {
            t.placing = Placing::Listed;
        }
        // As many as there are, or as many fewer as whole panels need.
        let most = self.sites.min(places.len() as u32);
        let fits = (1..=most).rev().find(|&n| other.fits_pattern(n));
        other.sites = fits.unwrap_or(most);
        other
    }
}

fn bound(path: String, value: impl ToString, bound: impl Into<String>) -> Fault {
    Fault::Bound {
        path,
        value: value.to_string(),
        bound: bound.into(),
    }
}

/// Adds the faults of the plan's list of places, and of the one in the limits.
pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    let before = faults.len();
    for (list, places, sites) in [
        ("plan.places", &s.plan.places, ("plan.sites", s.plan.sites)),
        (
            "limits.places",
            &s.limits.places,
            ("limits.sites", s.limits.sites),
        ),
    ] {
        if !places.is_empty() {
            of_list(s, list, places, sites, faults);
        }
    }
    let listed = |t: &super::Transect| t.placing == Placing::Listed;
    if let Some(t) = &s.plan.transect {
        if listed(t) && s.plan.places.is_empty() {
            faults.push(Fault::Shape {
                path: "plan.places".into(),
                problem: "missing: plan.transect.placing is listed, so give the sites' places, or another placing".into(),
            });
        } else if !listed(t) && !s.plan.places.is_empty() {
            faults.push(bound(
                "plan.transect.placing".into(),
                t.placing.key(),
                "listed, since plan.places says where sites stand, or remove plan.places",
            ));
        }
    }
    if s.limits.places.is_empty() || faults.len() > before {
        return;
    }
    let placed = s.plan.at_places(&s.limits.places);
    if let Some(fault) = super::check_limits::refused(s, placed) {
        faults.push(bound(
            "limits.places".into(),
            format!("{} places", s.limits.places.len()),
            format!("places among which a plan can stand ({fault})"),
        ));
    }
}

fn of_list(
    s: &Scenario,
    list: &str,
    places: &[Place],
    (path, sites): (&str, u32),
    faults: &mut Vec<Fault>,
) {
    if places.len() > MOST_PLACES {
        let most = format!("at most {MOST_PLACES} places");
        faults.push(bound(list.into(), format!("{} places", places.len()), most));
        return;
    }
    if sites as usize > places.len() {
        let most = format!(
            "at most {}, as many as {list} has places, or more places",
            places.len()
        );
        faults.push(bound(path.into(), sites, most));
    }
    let why = if s.plan.groups.is_some() {
        Some(
            "remove it: with treated and untreated sites it matters which site is which, and a list of places does not say",
        )
    } else if s.premises.departures.correlation_length_km.value > 0.0 {
        Some(
            "remove it: with premises.departures.correlation_length_km above 0 sites are spread evenly",
        )
    } else {
        None
    };
    if let Some(why) = why {
        faults.push(Fault::Shape {
            path: list.into(),
            problem: why.into(),
        });
        return;
    }
    let gradient = matches!(s.question.effect, Effect::RangeShift(_));
    let ends = s.plan.transect.as_ref().filter(|_| gradient);
    for (i, place) in places.iter().enumerate() {
        let name = place.name.trim();
        let length = name.chars().count();
        if length == 0 || length > LONGEST_NAME {
            faults.push(bound(
                format!("{list}[{i}].name"),
                format!("{length} characters long"),
                format!("a name of 1 to {LONGEST_NAME} characters"),
            ));
        }
        if places[..i].iter().any(|other| other.name.trim() == name) {
            faults.push(bound(
                format!("{list}[{i}].name"),
                name,
                "a name that no place before it has",
            ));
        }
        let path = format!("{list}[{i}].position");
        match (place.position, ends) {
            (None, Some(_)) => faults.push(Fault::Shape {
                path,
                problem: "missing: the move along a gradient needs the position of each place"
                    .into(),
            }),
            (Some(at), Some(t)) if !(t.lowest..=t.highest).contains(&at) => faults.push(bound(
                path,
                at,
                format!(
                    "a position from plan.transect.lowest, {}, to plan.transect.highest, {}",
                    t.lowest, t.highest
                ),
            )),
            (Some(at), None) if !gradient => faults.push(bound(
                path,
                at,
                "no position: only a range_shift has a gradient",
            )),
            _ => {}
        }
    }
}
