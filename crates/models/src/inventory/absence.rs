//! The chance to miss a species in a smaller sample.

use numerics::maths::exp;
use numerics::special::gamma::ln_rising;

/// Chance that none of `x` marked among `all` is among `m` drawn without replacement: C(all - x, m)/C(all, m)
/// (hypergeometric; Hurlbert 1971, Ecology 52:577-586). All whole; 0 when x + m exceeds `all`.
///
/// It is a product of min(x, m) ratios: multiplied out when they are few, by ln-gamma otherwise.
pub(super) fn absent(all: f64, x: f64, m: f64) -> f64 {
    if x + m > all {
        return 0.0;
    }
    let (few, many) = (x.min(m), x.max(m));
    if few <= 24.0 {
        let (mut product, mut i) = (1.0, 0.0);
        while i < few {
            product *= (all - many - i) / (all - i);
            i += 1.0;
        }
        return product;
    }
    exp(ln_rising(all - many - few + 1.0, few) - ln_rising(all - few + 1.0, few))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against binomial coefficients by Pascal's triangle.
    #[test]
    fn ratio_of_binomial_coefficients() {
        let n = 101;
        let mut pascal = vec![vec![1.0f64; n + 1]; n + 1];
        for i in 2..=n {
            for j in 1..i {
                pascal[i][j] = pascal[i - 1][j - 1] + pascal[i - 1][j];
            }
        }
        let all = 100;
        for x in [0, 1, 2, 7, 24, 25, 30, 60, 99, 100] {
            for m in [0, 1, 2, 7, 24, 25, 30, 60, 99, 100] {
                let want = if x + m > all {
                    0.0
                } else {
                    pascal[all - x][m] / pascal[all][m]
                };
                let got = absent(all as f64, x as f64, m as f64);
                assert!((got - want).abs() <= 1e-11 * want, "{x} {m}: {got} {want}");
            }
        }
    }
}
