//! The standard normal distribution.

use crate::maths::{erfc, exp, ln};

const SQRT_2: f64 = std::f64::consts::SQRT_2;
const INV_SQRT_2PI: f64 = 0.398_942_280_401_432_7;

/// Density at x.
pub fn pdf(x: f64) -> f64 {
    INV_SQRT_2PI * exp(-0.5 * x * x)
}

/// Probability of a value at most x; precise in both tails.
pub fn cdf(x: f64) -> f64 {
    0.5 * erfc(-x / SQRT_2)
}

/// The value below which a share p of the distribution lies: minus infinity at 0, infinity at 1,
/// NaN outside [0, 1].
///
/// Wichura (1988), Algorithm AS 241, Applied Statistics 37:477-484, PPND16; relative error about 1e-16.
pub fn quantile(p: f64) -> f64 {
    if !(0.0..=1.0).contains(&p) {
        return f64::NAN;
    }
    if p == 0.0 {
        return f64::NEG_INFINITY;
    }
    if p == 1.0 {
        return f64::INFINITY;
    }
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180625 - q * q;
        return q * ratio(r, &CENTRE_NUM, &CENTRE_DEN);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    let r = (-ln(tail)).sqrt();
    let value = if r <= 5.0 {
        ratio(r - 1.6, &MIDDLE_NUM, &MIDDLE_DEN)
    } else {
        ratio(r - 5.0, &FAR_NUM, &FAR_DEN)
    };
    if q < 0.0 { -value } else { value }
}

fn ratio(x: f64, num: &[f64; 8], den: &[f64; 8]) -> f64 {
    let horner = |c: &[f64; 8]| c.iter().rev().fold(0.0, |acc, &a| acc * x + a);
    horner(num) / horner(den)
}

const CENTRE_NUM: [f64; 8] = [
    3.387_132_872_796_366_5,
    133.141_667_891_784_38,
    1_971.590_950_306_551_3,
    13_731.693_765_509_46,
    45_921.953_931_549_87,
    67_265.770_927_008_7,
    33_430.575_583_588_13,
    2_509.080_928_730_122_7,
];
const CENTRE_DEN: [f64; 8] = [
    1.0,
    42.313_330_701_600_91,
    687.187_007_492_057_9,
    5_394.196_021_424_751,
    21_213.794_301_586_597,
    39_307.895_800_092_71,
    28_729.085_735_721_943,
    5_226.495_278_852_854,
];
const MIDDLE_NUM: [f64; 8] = [
    1.423_437_110_749_683_5,
    4.630_337_846_156_546,
    5.769_497_221_460_691,
    3.647_848_324_763_204_5,
    1.270_458_252_452_368_4,
    0.241_780_725_177_450_6,
    0.022_723_844_989_269_184,
    7.745_450_142_783_414e-4,
];
const MIDDLE_DEN: [f64; 8] = [
    1.0,
    2.053_191_626_637_759,
    1.676_384_830_183_803_8,
    0.689_767_334_985_1,
    0.148_103_976_427_480_08,
    0.015_198_666_563_616_457,
    5.475_938_084_995_345e-4,
    1.050_750_071_644_416_9e-9,
];
const FAR_NUM: [f64; 8] = [
    6.657_904_643_501_103,
    5.463_784_911_164_114,
    1.784_826_539_917_291_3,
    0.296_560_571_828_504_87,
    0.026_532_189_526_576_124,
    0.001_242_660_947_388_078_4,
    2.711_555_568_743_487_6e-5,
    2.010_334_399_292_288_1e-7,
];
const FAR_DEN: [f64; 8] = [
    1.0,
    0.599_832_206_555_888,
    0.136_929_880_922_735_8,
    0.014_875_361_290_850_615,
    7.868_691_311_456_133e-4,
    1.846_318_317_510_054_7e-5,
    1.421_511_758_316_446e-7,
    2.044_263_103_389_939_8e-15,
];

#[cfg(test)]
mod tests {
    use super::*;

    /// Standard normal quantiles from published tables, to the digits scipy 1.17 `norm.ppf` prints.
    #[test]
    fn quantiles_of_the_usual_levels() {
        for (p, z) in [
            (0.8, 0.841_621_233_572_914_3),
            (0.9, 1.281_551_565_544_600_4),
            (0.95, 1.644_853_626_951_472_2),
            (0.975, 1.959_963_984_540_054),
            (0.99, 2.326_347_874_040_840_8),
            (0.995, 2.575_829_303_548_900_4),
        ] {
            assert!((quantile(p) - z).abs() < 1e-14, "{p}: {}", quantile(p));
            assert!((cdf(z) - p).abs() < 1e-15);
        }
    }

    #[test]
    fn quantile_undoes_cdf_in_all_three_branches() {
        let mut x = -8.0;
        while x < 6.0 {
            let back = quantile(cdf(x));
            assert!(
                (back - x).abs() < 1e-9 * (1.0 + x.abs()) || x > 5.0,
                "{x} {back}"
            );
            x += 0.01;
        }
        for x in [-37.0, -30.0, -20.0, -12.0, -9.0, -6.0] {
            assert!((quantile(cdf(x)) / x - 1.0).abs() < 1e-13, "{x}");
        }
    }

    #[test]
    fn bounds_and_nonsense() {
        assert_eq!(quantile(0.0), f64::NEG_INFINITY);
        assert_eq!(quantile(1.0), f64::INFINITY);
        assert!(quantile(1.5).is_nan() && quantile(f64::NAN).is_nan());
    }
}
