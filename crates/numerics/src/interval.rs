//! The interval of a proportion.

use crate::special::normal;

/// Wilson's (1927) score interval of `hits` out of `n` at `level` (such as 0.95): low and high.
/// Without trials it is the whole of 0 to 1.
///
/// Wilson (1927), J. Am. Stat. Assoc. 22:209-212.
pub fn wilson(hits: u64, n: u64, level: f64) -> (f64, f64) {
    if n == 0 {
        return (0.0, 1.0);
    }
    wilson_of(hits as f64 / n as f64, n as f64, level)
}

/// Wilson's interval of a share `p` known as well as from `n` independent trials; n need not be whole.
pub fn wilson_of(p: f64, n: f64, level: f64) -> (f64, f64) {
    let z = normal::quantile(0.5 + 0.5 * level);
    let z2 = z * z / n;
    let centre = (p + 0.5 * z2) / (1.0 + z2);
    let half = z / (1.0 + z2) * ((p * (1.0 - p) + 0.25 * z2) / n).sqrt();
    let low = if p == 0.0 {
        0.0
    } else {
        (centre - half).max(0.0)
    };
    let high = if p == 1.0 {
        1.0
    } else {
        (centre + half).min(1.0)
    };
    (low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Hand calculation from Wilson's formula: 8 of 10 at 95 % gives .4902 to .9433.
    #[test]
    fn eight_of_ten() {
        let (low, high) = wilson(8, 10, 0.95);
        assert!(
            (low - 0.490_162).abs() < 1e-5 && (high - 0.943_318).abs() < 1e-5,
            "{low} {high}"
        );
    }

    #[test]
    fn ends() {
        assert_eq!(wilson(0, 50, 0.95).0, 0.0);
        assert_eq!(wilson(50, 50, 0.95).1, 1.0);
        assert_eq!(wilson(0, 0, 0.95), (0.0, 1.0));
    }
}
