//! The frontier of toll and power as it is shown, and what closed forms may have missed.

use survey::scenario::{Checked, Plan};
use survey::search::{Candidate, FrontPoint, Missed, Screen};
use survey::summary::Share;

/// Most plans of the frontier told.
const SHOWN: usize = 60;
/// Powers between which the frontier is told.
const RANGE: (f64, f64) = (0.02, 0.999);
/// Powers near which a plan of the frontier is simulated.
const CONFIRMED: [f64; 8] = [0.2, 0.4, 0.55, 0.65, 0.75, 0.85, 0.92, 0.97];

/// The places of the frontier that are told: those within [`RANGE`], thinned.
fn places(screen: &Screen) -> Vec<usize> {
    let inside = |c: &Candidate| (RANGE.0..=RANGE.1).contains(&c.preview);
    let all: Vec<usize> = (0..screen.frontier.len())
        .filter(|&p| inside(&screen.frontier[p]))
        .collect();
    if all.len() <= SHOWN {
        return all;
    }
    (0..SHOWN)
        .map(|i| all[i * (all.len() - 1) / (SHOWN - 1)])
        .collect()
}

/// The frontier, with what `simulated` knows of a plan, and the least plan in it.
pub(crate) fn front(
    screen: &Screen,
    simulated: impl Fn(&Plan) -> Option<(Share, Share)>,
    least: Option<&Candidate>,
) -> Vec<FrontPoint> {
    let mut told = places(screen);
    let known = |&p: &usize| simulated(&screen.frontier[p].plan).is_some();
    told.extend((0..screen.frontier.len()).filter(known));
    told.sort_unstable();
    told.dedup();
    let point = |c: &Candidate| {
        let known = simulated(&c.plan);
        FrontPoint {
            preview_power: c.preview,
            expected_toll: c.toll.total(),
            weighted_toll: c.weighted_toll,
            power: known.map(|k| k.0),
            false_alarm: known.map(|k| k.1),
            least: least.is_some_and(|l| l.plan == c.plan),
            plan: c.plan.clone(),
        }
    };
    let mut points: Vec<FrontPoint> = told.iter().map(|&p| point(&screen.frontier[p])).collect();
    if let Some(least) = least.filter(|_| !points.iter().any(|p| p.least)) {
        points.push(point(least));
        points.sort_by(|a, b| a.weighted_toll.total_cmp(&b.weighted_toll));
    }
    points
}

/// Places of the frontier to be simulated for the picture.
pub(crate) fn to_confirm(screen: &Screen) -> Vec<usize> {
    let near = |wanted: f64| {
        let off = |p: &usize| (screen.frontier[*p].preview - wanted).abs();
        places(screen)
            .into_iter()
            .min_by(|a, b| off(a).total_cmp(&off(b)))
    };
    let mut places: Vec<usize> = CONFIRMED.into_iter().filter_map(near).collect();
    places.sort_unstable();
    places.dedup();
    places
}

/// What the closed forms may have missed, from the simulated and previewed power of plans.
pub(crate) fn missed(scenario: &Checked, screen: &Screen, plans: &[(f64, f64)]) -> Option<Missed> {
    let most = plans.iter().map(|(sim, preview)| sim - preview);
    let most_too_low = most.fold(0.0, f64::max);
    let needed = scenario.question.wanted_power - most_too_low;
    let first = screen.frontier.iter().find(|c| c.preview >= needed)?;
    Some(Missed {
        most_too_low,
        plans: plans.len(),
        weighted_toll: first.weighted_toll,
    })
}
