//! Exponential and logarithm of many numbers at once, without a branch, so that the compiler can take several
//! numbers in one instruction. Only + - * / and bit operations: the same bits on every machine, alone or in a
//! slice. For speed in inner loops; their range is narrower than that of the functions of one number. Errors
//! are tested against values to 25 digits (`crates/numerics/tests/elementary.rs`). Sums in a fixed order of strands.

/// 1.5 * 2^52: added to a number of modest size it leaves the nearest whole number in the low bits.
const ROUND: f64 = 6_755_399_441_055_744.0;
/// ln 2 in two parts; the first has trailing zeros, so that its product with an exponent is exact.
const LN2_HIGH: f64 = 6.931_471_803_691_238e-1;
const LN2_LOW: f64 = 1.908_214_929_270_587_7e-10;
const ONE_BITS: u64 = 0x3ff0_0000_0000_0000;

/// Arguments of the exponential are taken to this range.
pub const EXP_RANGE: (f64, f64) = (-708.0, 709.0);

#[inline(always)]
fn exp_one(x: f64) -> f64 {
    // Written as selections, which keep NaN and compile without a jump.
    let x = if x < EXP_RANGE.0 { EXP_RANGE.0 } else { x };
    let x = if x > EXP_RANGE.1 { EXP_RANGE.1 } else { x };
    let shifted = x * std::f64::consts::LOG2_E + ROUND;
    let n = shifted - ROUND;
    let r = (x - n * LN2_HIGH) - n * LN2_LOW;
    // Taylor's series to r^13 (|r| < ln 2 / 2: what is left out is below 5e-18), in four strands of r^4 so that
    // the machine need not wait for one long chain.
    let r2 = r * r;
    let r4 = r2 * r2;
    let a = (1.0 / 2.0 + r * (1.0 / 6.0)) + r2 * (1.0 / 24.0 + r * (1.0 / 120.0));
    let b = (1.0 / 720.0 + r * (1.0 / 5040.0)) + r2 * (1.0 / 40_320.0 + r * (1.0 / 362_880.0));
    let c = (1.0 / 3_628_800.0 + r * (1.0 / 39_916_800.0))
        + r2 * (1.0 / 479_001_600.0 + r * (1.0 / 6_227_020_800.0));
    let series = a + r4 * (b + r4 * c);
    let power = f64::from_bits((shifted.to_bits() << 52).wrapping_add(ONE_BITS));
    power * (1.0 + (r + r2 * series))
}

const ROOT_HALF: u64 = 0x3fe6_a09e_0000_0000;

/// The logarithm of u, where `lost` is what a rounding took from u, over u. After FreeBSD's log1p: the exponent apart,
/// then ln(1 + f) = f - f^2/2 + ... by s = f/(2 + f).
#[inline(always)]
fn ln_of(u: f64, lost: f64) -> f64 {
    let bits = u.to_bits().wrapping_add(ONE_BITS - ROOT_HALF);
    let n = f64::from_bits((bits >> 52) | ROUND.to_bits()) - (ROUND + 1023.0);
    let f = f64::from_bits((bits & 0x000f_ffff_ffff_ffff).wrapping_add(ROOT_HALF)) - 1.0;
    let half = 0.5 * f * f;
    let s = f / (2.0 + f);
    let z = s * s;
    let w = z * z;
    let even = w
        * (3.999_999_999_940_942e-1
            + w * (2.222_219_843_214_978_4e-1 + w * 1.531_383_769_920_937_3e-1));
    let odd = z
        * (6.666_666_666_666_735e-1
            + w * (2.857_142_874_366_239e-1
                + w * (1.818_357_216_161_805e-1 + w * 1.479_819_860_511_658_6e-1)));
    s * (half + (even + odd)) + (n * LN2_LOW + lost) - half + f + n * LN2_HIGH
}

/// ln(1 + x) for x >= 0.
#[inline(always)]
fn ln_1p_one(x: f64) -> f64 {
    let u = 1.0 + x;
    // What rounding took from 1 + x.
    let lost = if u < 4.0 {
        x - (u - 1.0)
    } else {
        1.0 - (u - x)
    } / u;
    ln_of(u, lost)
}

/// ln of the gamma function of x >= 1: raised by the recurrence to 8 or more, then Stirling's series
/// (Abramowitz & Stegun 1964, 6.1.40; what is left out is below 1e-14).
#[inline(always)]
fn ln_gamma_one(x: f64) -> f64 {
    const HALF_LN_2PI: f64 = 0.918_938_533_204_672_7;
    let product = ((x * (x + 1.0)) * ((x + 2.0) * (x + 3.0)))
        * (((x + 4.0) * (x + 5.0)) * ((x + 6.0) * (x + 7.0)));
    let low = x < 8.0;
    let raised = if low { x + 8.0 } else { x };
    let product = if low { product } else { 1.0 };
    let inv = 1.0 / raised;
    let r = inv * inv;
    let series = inv
        * (1.0 / 12.0
            - r * (1.0 / 360.0
                - r * (1.0 / 1260.0
                    - r * (1.0 / 1680.0 - r * (1.0 / 1188.0 - r * (691.0 / 360_360.0))))));
    (raised - 0.5) * ln_of(raised, 0.0) - raised + HALF_LN_2PI + series - ln_of(product, 0.0)
}

/// Replaces each x by e to the power x; x is taken to [`EXP_RANGE`] first. Relative error below 4e-16.
pub fn exp(values: &mut [f64]) {
    for v in values {
        *v = exp_one(*v);
    }
}

/// Replaces each x, 0 or more and finite, by ln(1 + x). Relative error below 4e-16.
pub fn ln_1p(values: &mut [f64]) {
    for v in values {
        *v = ln_1p_one(*v);
    }
}

/// The sum of ln(1 + x) over all x, 0 or more and finite: by products, of which few logarithms are taken.
pub fn sum_ln_1p(values: &[f64]) -> f64 {
    // Times the largest mean there is (e^300) still finite.
    const LARGE: f64 = 1e150;
    let mut sum = 0.0;
    let mut strands = [1.0; 4];
    for four in values.chunks(4) {
        for (product, x) in strands.iter_mut().zip(four) {
            *product *= 1.0 + x;
        }
        if strands.iter().any(|p| *p > LARGE) {
            if strands.contains(&f64::INFINITY) {
                return f64::INFINITY;
            }
            for product in &mut strands {
                sum += ln_of(*product, 0.0);
                *product = 1.0;
            }
        }
    }
    if strands.iter().any(|p| p.is_nan()) {
        return f64::NAN;
    }
    strands.iter().fold(sum, |sum, p| sum + ln_of(*p, 0.0))
}

/// Replaces each x, a normal number above 0, by its logarithm. Relative error below 4e-16.
pub fn ln(values: &mut [f64]) {
    for v in values {
        *v = ln_of(*v, 0.0);
    }
}

/// Replaces each x, from 1 to 1e300, by the logarithm of its gamma function. Error below 1e-14 and 6e-16 of it.
pub fn ln_gamma(values: &mut [f64]) {
    for v in values {
        *v = ln_gamma_one(*v);
    }
}

/// The sum, in four strands: another order than one by one, but the same one everywhere.
pub fn sum(values: &[f64]) -> f64 {
    let fours = values.chunks_exact(4);
    let rest: f64 = fours.remainder().iter().sum();
    let mut strands = [0.0; 4];
    for four in fours {
        for (s, v) in strands.iter_mut().zip(four) {
            *s += v;
        }
    }
    (strands[0] + strands[1]) + (strands[2] + strands[3]) + rest
}

/// The sum of products, in four strands as [`sum`].
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (fours, others) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = fours
        .remainder()
        .iter()
        .zip(others.remainder())
        .map(|(a, b)| a * b)
        .sum();
    let mut strands = [0.0; 4];
    for (a, b) in fours.zip(others) {
        for (s, (a, b)) in strands.iter_mut().zip(a.iter().zip(b)) {
            *s += a * b;
        }
    }
    (strands[0] + strands[1]) + (strands[2] + strands[3]) + rest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::maths;

    fn worst(values: &[f64], f: fn(&mut [f64]), truth: fn(f64) -> f64) -> f64 {
        let mut got = values.to_vec();
        f(&mut got);
        values.iter().zip(got).fold(0.0, |worst, (&x, got)| {
            let want = truth(x);
            let off = (got - want).abs() / want.abs().max(f64::MIN_POSITIVE);
            f64::max(worst, off)
        })
    }

    #[test]
    fn exponential_as_libm() {
        let wide: Vec<f64> = (0..400_000)
            .map(|i| -708.0 + f64::from(i) * 0.003_541)
            .collect();
        let near: Vec<f64> = (0..200_000)
            .map(|i| -10.0 + f64::from(i) * 1.000_7e-4)
            .collect();
        let tiny: Vec<f64> = (0..300).map(|i| maths::pow(10.0, -f64::from(i))).collect();
        for values in [wide, near, tiny] {
            let off = worst(&values, exp, maths::exp);
            assert!(off < 4e-16, "{off:e}");
        }
        let mut edge = [0.0, -1e9, 1e9, f64::NEG_INFINITY, f64::NAN];
        exp(&mut edge);
        assert_eq!(edge[0], 1.0);
        assert!(edge[1] > 0.0 && edge[1] < 1e-307 && edge[2] > 1e307 && edge[2].is_finite());
        assert!(edge[3] == edge[1] && edge[4].is_nan());
    }

    #[test]
    fn logarithm_as_libm() {
        let near: Vec<f64> = (0..400_000).map(|i| f64::from(i) * 2.000_3e-5).collect();
        let wide: Vec<f64> = (0..60_000)
            .map(|i| maths::exp(-700.0 + f64::from(i) * 0.0233))
            .collect();
        for values in [near, wide] {
            let off = worst(&values, ln_1p, maths::ln_1p);
            assert!(off < 4e-16, "{off:e}");
        }
    }

    #[test]
    fn sum_of_logarithms_by_products() {
        for scale in [1e-9, 0.3, 40.0, 1e120] {
            let values: Vec<f64> = (0..1003).map(|i| scale * f64::from(i % 37)).collect();
            let want: f64 = values.iter().map(|&x| maths::ln_1p(x)).sum();
            let got = sum_ln_1p(&values);
            assert!((got - want).abs() < 1e-12 * want + 1e-13, "{got} {want}");
        }
        assert_eq!(sum_ln_1p(&[]), 0.0);
        assert_eq!(sum_ln_1p(&[1.0, f64::INFINITY]), f64::INFINITY);
        assert!(sum_ln_1p(&[f64::NAN, 1.0]).is_nan());
    }

    /// A number's place in the slice must not matter, or a plan's result would hang on its number of sites.
    #[test]
    fn alone_or_together_the_same_bits() {
        let values: Vec<f64> = (0..37).map(|i| 0.37 * f64::from(i)).collect();
        let (mut e, mut l) = (values.clone(), values.clone());
        exp(&mut e);
        ln_1p(&mut l);
        for (i, &v) in values.iter().enumerate() {
            let (mut a, mut b) = ([v], [v]);
            exp(&mut a);
            ln_1p(&mut b);
            assert_eq!(
                (a[0].to_bits(), b[0].to_bits()),
                (e[i].to_bits(), l[i].to_bits())
            );
        }
    }
}
