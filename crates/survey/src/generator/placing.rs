//! Where a plan's sites stand on its transect.

use crate::scenario::{Checked, Placing, Plan, Transect};
use numerics::random::Stream;

/// What the numbers of random places are drawn from: no survey's seed and stream, so that a plan's places are its own.
const PLACES: (u64, u64) = (0x706c_6163_6573, u64::MAX);

/// Positions of the plan's sites on its transect; empty without one. Sites placed evenly and at random come in the order
/// of even places, of the draw and of the list; where half of them are dense, those come last.
pub fn positions(scenario: &Checked, plan: &Plan) -> Vec<f64> {
    let Some(t) = &plan.transect else {
        return Vec::new();
    };
    match t.placing {
        Placing::Even => evenly(t, plan.sites),
        Placing::Random => {
            let mut rng = Stream::new(PLACES.0, PLACES.1);
            let place = |_| t.lowest + (t.highest - t.lowest) * rng.uniform();
            (0..plan.sites).map(place).collect()
        }
        Placing::Listed => {
            let each: Vec<f64> = plan.places.iter().filter_map(|p| p.position).collect();
            if each.is_empty() {
                return evenly(t, plan.sites);
            }
            // No plan has more sites than places; a closed form that looks further takes them anew.
            each.into_iter().cycle().take(plan.sites as usize).collect()
        }
        Placing::DenseAtEdge => {
            let Some(band) = band(scenario, plan, 1.0) else {
                return evenly(t, plan.sites);
            };
            let dense = plan.sites / 2;
            let mut all = evenly(t, plan.sites - dense);
            // Each stands for an equal part of the band.
            let part = (band.1 - band.0) / f64::from(dense);
            all.extend((0..dense).map(|s| band.0 + part * (f64::from(s) + 0.5)));
            all
        }
    }
}

/// Evenly from end to end.
fn evenly(t: &Transect, n: u32) -> Vec<f64> {
    let gaps = f64::from(n.max(2) - 1);
    (0..n)
        .map(|s| t.lowest + (t.highest - t.lowest) * f64::from(s) / gaps)
        .collect()
}

/// The part of the plan's transect in which the edge or optimum is expected during the survey, with so many widths (or
/// tolerances) to either side; `None` where it is all off the transect, or without a place that moves.
pub(crate) fn band(scenario: &Checked, plan: &Plan, widths: f64) -> Option<(f64, f64)> {
    let (t, moving) = (plan.transect.as_ref()?, scenario.moving(plan.years)?);
    let around = widths * moving.width;
    let low = (moving.first.min(moving.last) - around).max(t.lowest);
    let high = (moving.first.max(moving.last) + around).min(t.highest);
    (low < high).then_some((low, high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::read;

    #[test]
    fn places_of_all_kinds() {
        let s = read(include_str!("../../../../demo-data/mountain-moths.json")).unwrap();
        let s = s.check().unwrap();
        let placed = |placing, sites| {
            let mut plan = s.plan.clone();
            plan.sites = sites;
            if let Some(t) = &mut plan.transect {
                t.placing = placing;
            }
            positions(&s, &plan)
        };
        let within = |all: &[f64]| all.iter().all(|x| (500.0..=1300.0).contains(x));
        let even = placed(Placing::Even, 5);
        assert_eq!(even, [500.0, 700.0, 900.0, 1100.0, 1300.0]);
        let (few, many) = (placed(Placing::Random, 9), placed(Placing::Random, 2000));
        assert!(within(&many) && few == many[..9]);
        let mean = many.iter().sum::<f64>() / 2000.0;
        // SD of the mean 800/sqrt(12 * 2000).
        assert!((mean - 900.0).abs() < 4.0 * 5.2, "{mean}");
        // The optimum goes from 880 m by 11 m a year over 8 years to 957 m; the tolerance is 190 m.
        let dense = placed(Placing::DenseAtEdge, 9);
        assert_eq!(dense[..5], even[..]);
        let part = (957.0 + 190.0 - (880.0 - 190.0)) / 4.0;
        for (i, x) in dense[5..].iter().enumerate() {
            assert!((x - (690.0 + part * (i as f64 + 0.5))).abs() < 1e-9);
        }
        assert_eq!(band(&s, &s.plan, 3.0), Some((500.0, 1300.0)));
    }
}
