//! Which share of what the open weeks catch is reproductive.

use super::{Moving, weight};
use crate::scenario::{Plan, Reproductives};

/// The share in each year of a plan, of a season with this peak and width: on average over the years' own shifts where
/// the season moves, the share with it. `kept` is what is left of each week's catch where sites are closed early, and
/// empty where none is.
pub fn reproductive_shares(
    of: &Reproductives,
    plan: &Plan,
    (peak, width): (f64, f64),
    moving: Option<Moving>,
    kept: &[f64],
) -> Vec<f64> {
    let weeks = plan.open_weeks();
    let still = Moving {
        earlier: 0.0,
        sd: 0.0,
    };
    let moving = moving.unwrap_or(still);
    let of_year = |year: usize| {
        let (mut caught, mut carrying) = (0.0, 0.0);
        for &(z, p) in moving.points() {
            let shift = moving.shift(year, z);
            for (i, &week) in weeks.iter().enumerate() {
                let week = f64::from(week) + shift;
                let kept = kept.get(i).copied().unwrap_or(1.0);
                let catch = p * kept * weight(week, peak, width);
                caught += catch;
                carrying += catch * of.share(week);
            }
        }
        if caught > 0.0 { carrying / caught } else { 0.0 }
    };
    (0..plan.years as usize).map(of_year).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::{Premise, Source, read};

    /// Two weeks by hand: weights 1 and e^-1/2, shares .4 and .4 e^-2.
    #[test]
    fn two_weeks_by_hand() {
        use numerics::maths::exp;
        let text = include_str!("../../../../demo-data/meadow-beetles.json");
        let plan = read(text).unwrap().plan.in_weeks(&[20, 24]);
        let given = |v| Premise::new(v, Source::Invented);
        let of = Reproductives {
            share_at_peak: given(0.4),
            peak_week: given(20.0),
            width_weeks: given(2.0),
        };
        let shares = reproductive_shares(&of, &plan, (20.0, 4.0), None, &[]);
        let (a, b) = (exp(-0.5), exp(-2.0));
        let want = 0.4 * (1.0 + a * b) / (1.0 + a);
        assert_eq!(shares.len(), plan.years as usize);
        assert!(
            shares.iter().all(|s| (s - want).abs() < 1e-14),
            "{shares:?} {want}"
        );
        // Where the second week is closed, the first is all.
        let first = reproductive_shares(&of, &plan, (20.0, 4.0), None, &[1.0, 0.0]);
        assert!((first[0] - 0.4).abs() < 1e-14);
        // Season and share move together: 4 weeks earlier, week 24 has nothing and week 20 what week 24 had.
        let earlier = Moving {
            earlier: 4.0,
            sd: 0.0,
        };
        let moved = reproductive_shares(&of, &plan, (20.0, 4.0), Some(earlier), &[]);
        let (c, d) = (exp(-2.0), exp(-8.0));
        let want = 0.4 * (a * b + c * d) / (a + c);
        assert!((moved[1] - want).abs() < 1e-14, "{moved:?} {want}");
    }
}
