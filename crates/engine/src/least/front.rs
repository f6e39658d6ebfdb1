//! The frontier of toll and power as it is shown, and what closed forms may have missed.

use survey::scenario::{Checked, Plan};
use survey::search::{Candidate, FrontPoint, Missed, Screen};
use survey::summary::Share;

/// Most plans of the trade against money told.
const THRIFTY: usize = 12;
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

/// The trade of toll against money among plans that reach the wanted power by closed form, thinned.
pub(crate) fn thrifty(
    screen: &Screen,
    simulated: impl Fn(&Plan) -> Option<(Share, Share)>,
) -> Vec<FrontPoint> {
    let all = &screen.thrifty;
    let places: Vec<usize> = if all.len() <= THRIFTY {
        (0..all.len()).collect()
    } else {
        (0..THRIFTY)
            .map(|i| i * (all.len() - 1) / (THRIFTY - 1))
            .collect()
    };
    places
        .iter()
        .map(|&p| point(&all[p], simulated(&all[p].plan), false))
        .collect()
}

/// The cheapest plans for the picture to be simulated: both ends and the middle.
pub(crate) fn thrifty_to_confirm(screen: &Screen) -> Vec<Plan> {
    let n = screen.thrifty.len();
    let mut places = vec![0, n / 2, n.saturating_sub(1)];
    places.dedup();
    let plan = |p: &usize| screen.thrifty.get(*p).map(|c| c.plan.clone());
    places.iter().filter_map(plan).collect()
}

fn point(c: &Candidate, known: Option<(Share, Share)>, least: bool) -> FrontPoint {
    FrontPoint {
        preview_power: c.preview,
        expected_toll: c.toll.total(),
        weighted_toll: c.weighted_toll,
        cost: c.cost,
        power: known.map(|k| k.0),
        false_alarm: known.map(|k| k.1),
        least,
        plan: c.plan.clone(),
    }
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
        let is_least = least.is_some_and(|l| l.plan == c.plan);
        point(c, simulated(&c.plan), is_least)
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
        expected_toll: first.toll.total(),
    })
}
