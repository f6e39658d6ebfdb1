//! How much sites that resemble their neighbours have to say together.

use crate::generator::columns;
use crate::scenario::{Checked, Plan};
use numerics::maths::exp;

/// Mean correlation of two sites drawn from the plan's, a site with itself included: 1/sites when they are
/// independent. The mean of correlated effects has this share of one effect's variance.
pub fn mean_correlation(scenario: &Checked, plan: &Plan) -> f64 {
    let d = &scenario.premises.departures;
    let length = d.correlation_length_km.value;
    let n = f64::from(plan.sites);
    if length <= 0.0 {
        return 1.0 / n;
    }
    let side = d.region_km2.value.sqrt();
    if plan.transect.is_some() {
        return 1.0 / n
            + 2.0
                * (1..plan.sites)
                    .map(|lag| {
                        f64::from(plan.sites - lag) * neighbours(side, plan.sites, lag, length)
                    })
                    .sum::<f64>()
                / (n * n);
    }
    // Pairs by how far apart they stand in columns and rows: full rows, and one that may be short.
    let columns = i64::from(columns(plan.sites));
    let (full, short) = (
        i64::from(plan.sites) / columns,
        i64::from(plan.sites) % columns,
    );
    let gap = side / n.sqrt();
    let mut sum = 0.0;
    for down in 0..=full {
        for across in (1 - columns)..columns {
            let mut pairs = (full - down).max(0) * (columns - across.abs());
            pairs += if down == 0 {
                (short - across.abs()).max(0)
            } else {
                (short.min(columns + across) - across.max(0)).max(0)
            };
            let (x, y) = (across as f64 * gap, down as f64 * gap);
            let ways = if down == 0 { 1.0 } else { 2.0 };
            sum += ways * pairs as f64 * exp(-(x * x + y * y).sqrt() / length);
        }
    }
    sum / (n * n)
}

/// Correlation of sites on a transect that are `lag` places apart.
pub(super) fn neighbours(side: f64, sites: u32, lag: u32, length: f64) -> f64 {
    exp(-side * f64::from(lag) / f64::from(sites.max(2) - 1) / length)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::generator::site_places;
    use crate::scenario::read;

    /// Against all pairs one by one, on grids whose last row is full, short or nearly empty, and on a transect.
    #[test]
    fn mean_over_all_pairs() {
        for (text, numbers) in [
            (
                include_str!("../../../../demo-data/meadow-beetles.json"),
                [2u32, 4, 5, 7, 24, 100, 111],
            ),
            (
                include_str!("../../../../demo-data/mountain-moths.json"),
                [4, 5, 6, 8, 24, 50, 111],
            ),
        ] {
            let mut s = read(text).unwrap();
            s.premises.departures.correlation_length_km.value = 4.0;
            s.premises.departures.region_km2.value = 150.0;
            let s = s.check().unwrap();
            for sites in numbers {
                let plan = Plan {
                    sites,
                    ..s.plan.clone()
                };
                let places = site_places(&s, &plan).unwrap();
                let mut want = 0.0;
                for a in &places {
                    for b in &places {
                        let (x, y) = (a.0 - b.0, a.1 - b.1);
                        want += exp(-(x * x + y * y).sqrt() / 4.0);
                    }
                }
                want /= f64::from(sites * sites);
                let got = mean_correlation(&s, &plan);
                assert!((got / want - 1.0).abs() < 1e-12, "{sites}: {got} {want}");
            }
        }
    }
}
