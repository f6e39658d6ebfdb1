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

/// The same of values in any order, which are left in another one; no value may be NaN.
pub fn of(values: &mut [f64], p: f64) -> f64 {
    let n = values.len();
    if n == 0 {
        return f64::NAN;
    }
    let h = (n - 1) as f64 * p.clamp(0.0, 1.0);
    let i = h.floor() as usize;
    let (_, &mut low, above) = values.select_nth_unstable_by(i, f64::total_cmp);
    let next = above.iter().copied().min_by(f64::total_cmp).unwrap_or(low);
    low + (h - i as f64) * (next - low)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_order_gives_the_same() {
        let shuffled: Vec<f64> = (0..101).map(|i| f64::from(i * 37 % 101).sqrt()).collect();
        for n in [1, 2, 3, 20, 101] {
            let mut sorted: Vec<f64> = shuffled[..n].to_vec();
            sorted.sort_by(f64::total_cmp);
            for p in [0.0, 0.05, 0.5, 0.95, 1.0] {
                let told = of(&mut shuffled[..n].to_vec(), p);
                assert_eq!(told, of_sorted(&sorted, p), "{n} values at {p}");
            }
        }
        assert!(of(&mut [], 0.5).is_nan());
    }

    #[test]
    fn interpolates() {
        assert_eq!(of_sorted(&[1.0, 2.0, 3.0, 4.0], 0.5), 2.5);
        assert_eq!(of_sorted(&[7.0], 0.05), 7.0);
        assert!(of_sorted(&[], 0.5).is_nan());
    }
}
