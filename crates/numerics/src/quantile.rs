//! Sample quantiles.

/// The share-p quantile of `sorted` (ascending, not empty) by linear interpolation of the order statistics,
/// definition 7 of Hyndman & Fan (1996), American Statistician 50:361-365. NaN when empty.
pub fn of_sorted(sorted: &[f64], p: f64) -> f64 {
    let n = sorted.len();
    if n == 0 {
        return f64::NAN;
    }
    let h = (n - 1) as f64 * p.clamp(0.0, 1.0);
    let i = h.floor() as usize;
    let j = (i + 1).min(n - 1);
    sorted[i] + (h - i as f64) * (sorted[j] - sorted[i])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn interpolates() {
        assert_eq!(of_sorted(&[1.0, 2.0, 3.0, 4.0], 0.5), 2.5);
        assert_eq!(of_sorted(&[7.0], 0.05), 7.0);
        assert!(of_sorted(&[], 0.5).is_nan());
    }
}
