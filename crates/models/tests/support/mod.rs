//! What several of these tests need.

/// Whole numbers that look like catches, of mean about `mean`, by a small congruential generator.
pub fn catches(n: usize, mean: f64, seed: u64) -> Vec<f64> {
    let mut x = seed;
    let next = || {
        x = x
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let u = (x >> 11) as f64 / (1u64 << 53) as f64;
        (3.0 * mean * u * u).floor()
    };
    std::iter::repeat_with(next).take(n).collect()
}
