//! What a significant result is worth: the chance that its sign is wrong, and how much it overstates the effect.
//!
//! Gelman & Carlin (2014), Perspect. Psychol. Sci. 9:641-651; closed form of Lu, Qiu & Deng (2019), Br. J. Math. Stat.
//! Psychol. 72:1-17, for a normal estimate.

use numerics::special::normal::{cdf, pdf, quantile};

/// Worth of a significant result.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worth {
    /// Chance of a significant result, either sign.
    pub power: f64,
    /// Share of significant results with the wrong sign.
    pub wrong_sign: f64,
    /// Mean size of significant estimates over the true size.
    pub exaggeration: f64,
}

/// For a true effect (not 0) and the standard error of its normal estimate, at a two-sided `level`.
pub fn worth(effect: f64, se: f64, level: f64) -> Worth {
    let l = (effect / se).abs();
    let z = -quantile(0.5 * level);
    let (right, wrong) = (cdf(l - z), cdf(-z - l));
    let power = right + wrong;
    let size = pdf(l + z) + pdf(l - z) + l * (cdf(l + z) + cdf(l - z) - 1.0);
    Worth {
        power,
        wrong_sign: wrong / power,
        exaggeration: size / (l * power),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// (effect, SE): power, wrong sign, exaggeration by scipy 1.17 from the closed form; Gelman & Carlin (2014) print
    /// .05 and .46 for (.1, 3.28), .06 and .24 for (2, 8.1).
    #[test]
    fn published_cases() {
        for (d, s, power, sign, size) in [
            (0.1, 3.28, 0.050_106, 0.464_423, 76.689_164),
            (1.0, 3.28, 0.060_715, 0.193_712, 7.749_187),
            (2.0, 8.1, 0.057_013, 0.239_618, 9.536_628),
            (1.0, 1.0, 0.170_075, 0.009_045, 2.490_928),
            (0.5, 1.0, 0.079_098, 0.087_835, 4.788_594),
            (2.8015, 1.0, 0.799_977, 0.000_001, 1.124_928),
        ] {
            let w = worth(d, s, 0.05);
            assert!((w.power - power).abs() < 1e-6, "{d} {s}: {w:?}");
            assert!((w.wrong_sign - sign).abs() < 1e-6, "{d} {s}: {w:?}");
            assert!((w.exaggeration / size - 1.0).abs() < 1e-6, "{d} {s}: {w:?}");
        }
    }
}
