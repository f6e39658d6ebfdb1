//! Where sites stand in their region, and how alike that makes them.

use crate::scenario::{Checked, Plan};
use numerics::linalg::cholesky;
use numerics::maths::exp;

/// Places of the plan's sites in km, in the order of the sites; `None` when sites are independent of each other.
///
/// On a square grid, row by row, in which every site stands for an equal share of the region: the spacing is
/// sqrt(region / sites), so that more sites stand closer. On a transect: evenly on a line as long as the region's side.
pub fn site_places(scenario: &Checked, plan: &Plan) -> Option<Vec<(f64, f64)>> {
    let d = &scenario.premises.departures;
    if d.correlation_length_km.value <= 0.0 {
        return None;
    }
    let sites = plan.sites;
    let side = d.region_km2.value.sqrt();
    if plan.transect.is_some() {
        let gap = side / f64::from(sites.max(2) - 1);
        return Some((0..sites).map(|s| (f64::from(s) * gap, 0.0)).collect());
    }
    let (columns, gap) = (columns(sites), side / f64::from(sites).sqrt());
    Some(
        (0..sites)
            .map(|s| (f64::from(s % columns) * gap, f64::from(s / columns) * gap))
            .collect(),
    )
}

/// Columns of the smallest square grid with room for the sites.
pub(crate) fn columns(sites: u32) -> u32 {
    let mut columns = 1;
    while columns * columns < sites {
        columns += 1;
    }
    columns
}

/// Distances in km between all sites, row-major sites by sites; `None` when sites are independent.
pub(super) fn distances(scenario: &Checked, plan: &Plan) -> Option<Vec<f64>> {
    let places = site_places(scenario, plan)?;
    let mut out = Vec::with_capacity(places.len() * places.len());
    for (x, y) in &places {
        for (v, w) in &places {
            let (a, b) = (x - v, y - w);
            out.push((a * a + b * b).sqrt());
        }
    }
    Some(out)
}

/// Cholesky factor of exp(-distance / length), row-major sites by sites, lower triangle.
///
/// # Panics
/// When the matrix is not positive definite, which the bounds of region, length and sites rule out: independent draws
/// in its stead would be another world.
pub(super) fn factor(distances: &[f64], length: f64) -> Vec<f64> {
    let mut a: Vec<f64> = distances.iter().map(|d| exp(-d / length)).collect();
    let n = (a.len() as f64).sqrt() as usize;
    assert!(
        cholesky::factor(&mut a, n),
        "correlations of {n} sites are not positive definite"
    );
    a
}

/// Normal numbers with the factor's correlation from independent ones.
pub(super) fn correlate(factor: &[f64], z: &[f64]) -> Vec<f64> {
    let n = z.len();
    (0..n)
        .map(|s| {
            factor[s * n..=s * n + s]
                .iter()
                .zip(z)
                .map(|(l, z)| l * z)
                .sum()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The closest and the farthest sites that the bounds allow can be factored.
    #[test]
    fn extreme_regions_have_a_factor() {
        for sites in [2u32, 7, 400] {
            let c = columns(sites);
            assert!(c * c >= sites && (c - 1) * (c - 1) < sites);
            for ratio in [1e-2 / 1e4, 1.0, 1e4] {
                let gap = ratio / f64::from(sites).sqrt();
                let place = |s: u32| (f64::from(s % c) * gap, f64::from(s / c) * gap);
                let mut d = Vec::new();
                for i in 0..sites {
                    for j in 0..sites {
                        let ((x, y), (v, w)) = (place(i), place(j));
                        d.push(((x - v) * (x - v) + (y - w) * (y - w)).sqrt());
                    }
                }
                let l = factor(&d, 1.0);
                // The last row has length 1, the variance.
                let n = sites as usize;
                let row: f64 = l[(n - 1) * n..].iter().map(|v| v * v).sum();
                assert!((row - 1.0).abs() < 1e-9, "{sites} {ratio}: {row}");
            }
        }
    }
}
