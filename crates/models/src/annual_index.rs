//! The annual-index regression: yearly means of site-corrected log counts, regressed on years.
//!
//! For balanced normal data the t test of its slope is exact (years - 2 df), whatever sites and shared years do;
//! it is the check on the mixed model.

use numerics::maths::slices;

/// Slope of the yearly index on the year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IndexTrend {
    /// Slope a year on the log scale.
    pub slope: f64,
    /// Its standard error.
    pub se: f64,
    /// Degrees of freedom: years - 2.
    pub df: f64,
}

/// Fits counts of sites by years (`counts[s * years + y]`, NaN where missing) with log offsets of the same shape.
/// The transform is ln((count + 1/2) / effort). Years without any count are left out. `None` with fewer than three
/// years.
pub fn annual_index(counts: &[f64], offset: &[f64], years: usize) -> Option<IndexTrend> {
    if years < 3 || counts.is_empty() {
        return None;
    }
    let sites = counts.len() / years;
    let missing = |c: f64| c.is_nan();
    let mut z: Vec<f64> = counts
        .iter()
        .map(|&c| if missing(c) { 1.0 } else { c + 0.5 })
        .collect();
    slices::ln(&mut z);
    for (z, (&c, offset)) in z.iter_mut().zip(counts.iter().zip(offset)) {
        *z = if missing(c) { f64::NAN } else { *z - offset };
    }
    // Site and year effects by alternating means: one pass when balanced, a few when cells are missing.
    let mut site = vec![0.0; sites];
    let mut year = vec![0.0; years];
    for _ in 0..200 {
        let mut change: f64 = 0.0;
        for s in 0..sites {
            change = change.max(recentre(
                &mut site[s],
                (0..years).map(|y| z[s * years + y] - year[y]),
            ));
        }
        for y in 0..years {
            change = change.max(recentre(
                &mut year[y],
                (0..sites).map(|s| z[s * years + y] - site[s]),
            ));
        }
        if change < 1e-12 {
            break;
        }
    }
    let counted = |y: &usize| (0..sites).any(|s| z[s * years + y].is_finite());
    let told: Vec<usize> = (0..years).filter(counted).collect();
    if told.len() < 3 {
        return None;
    }
    let n = told.len() as f64;
    let mid = told.iter().map(|&y| y as f64).sum::<f64>() / n;
    let mean = told.iter().map(|&y| year[y]).sum::<f64>() / n;
    let (mut sxx, mut sxy, mut syy) = (0.0, 0.0, 0.0);
    for &y in &told {
        let (a, b) = (y as f64 - mid, year[y] - mean);
        sxx += a * a;
        sxy += a * b;
        syy += b * b;
    }
    let slope = sxy / sxx;
    let df = n - 2.0;
    let residual = (syy - slope * sxy).max(0.0) / df;
    Some(IndexTrend {
        slope,
        se: (residual / sxx).sqrt(),
        df,
    })
}

fn recentre(effect: &mut f64, values: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut n) = (0.0, 0.0);
    for v in values.filter(|v| v.is_finite()) {
        sum += v;
        n += 1.0;
    }
    let new = if n > 0.0 { sum / n } else { 0.0 };
    let change = (new - *effect).abs();
    *effect = new;
    change
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::maths::exp;

    #[test]
    fn an_exact_trend_is_found_with_missing_cells() {
        let (sites, years) = (4, 6);
        let mut counts: Vec<f64> = (0..sites * years)
            .map(|i| exp(3.0 + (i / years) as f64 * 0.4 - 0.1 * (i % years) as f64) - 0.5)
            .collect();
        counts[3] = f64::NAN;
        counts[17] = f64::NAN;
        let t = annual_index(&counts, &vec![0.0; sites * years], years).unwrap();
        assert!(
            (t.slope + 0.1).abs() < 1e-8 && t.se < 1e-6 && t.df == 4.0,
            "{t:?}"
        );
    }

    /// A year in which nobody counted is no year of the index: the trend through the others is the same.
    #[test]
    fn a_year_without_counts_is_left_out() {
        let (sites, years) = (3, 6);
        let mut counts: Vec<f64> = (0..sites * years)
            .map(|i| exp(4.0 + (i / years) as f64 * 0.3 - 0.2 * (i % years) as f64) - 0.5)
            .collect();
        for s in 0..sites {
            counts[s * years + 2] = f64::NAN;
        }
        let t = annual_index(&counts, &vec![0.0; sites * years], years).unwrap();
        assert!(
            (t.slope + 0.2).abs() < 1e-8 && t.se < 1e-6 && t.df == 3.0,
            "{t:?}"
        );
    }

    #[test]
    fn two_years_have_no_test() {
        assert!(annual_index(&[1.0, 2.0], &[0.0, 0.0], 2).is_none());
    }
}
