//! Poisson draws.

use crate::maths::{exp, ln, ln_gamma};
use crate::random::Stream;

/// A Poisson number with the given mean (0 or more; 0 gives 0).
///
/// Below 20 by inversion (one uniform, monotone in it); above by transformed rejection, algorithm PTRS of
/// Hörmann (1993), Insurance: Mathematics and Economics 12:39-45. Exact; counts come as whole `f64`.
pub fn poisson(stream: &mut Stream, mean: f64) -> f64 {
    if mean <= 0.0 {
        return 0.0;
    }
    if mean < 20.0 {
        by_inversion(stream, mean)
    } else {
        by_rejection(stream, mean)
    }
}

fn by_inversion(stream: &mut Stream, mean: f64) -> f64 {
    let u = stream.uniform();
    let mut p = exp(-mean);
    let mut below = p;
    let mut count = 0.0;
    while u > below && count < 400.0 {
        count += 1.0;
        p *= mean / count;
        below += p;
    }
    count
}

fn by_rejection(stream: &mut Stream, mean: f64) -> f64 {
    let b = 0.931 + 2.53 * mean.sqrt();
    let a = -0.059 + 0.02483 * b;
    let inverse_alpha = 1.1239 + 1.1328 / (b - 3.4);
    let v_r = 0.9277 - 3.6224 / (b - 2.0);
    let ln_mean = ln(mean);
    loop {
        let u = stream.uniform() - 0.5;
        let v = stream.uniform();
        let us = 0.5 - u.abs();
        let k = ((2.0 * a / us + b) * u + mean + 0.43).floor();
        if us >= 0.07 && v <= v_r {
            return k;
        }
        if k < 0.0 || (us < 0.013 && v > us) {
            continue;
        }
        let left = ln(v * inverse_alpha / (a / (us * us) + b));
        if left <= k * ln_mean - mean - ln_gamma(k + 1.0) {
            return k;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chi_square_of_both_methods() {
        for (i, mean) in [0.3, 4.0, 19.9, 20.1, 45.0].into_iter().enumerate() {
            let mut s = Stream::new(5, i as u64);
            let n = 40_000;
            let mut seen = [0.0; 200];
            for _ in 0..n {
                seen[(poisson(&mut s, mean) as usize).min(199)] += 1.0;
            }
            let mut p = exp(-mean);
            let (mut chi2, mut cells) = (0.0, 0.0);
            for (k, count) in seen.iter().enumerate() {
                if k > 0 {
                    p *= mean / k as f64;
                }
                let want = p * f64::from(n);
                if want > 8.0 {
                    chi2 += (count - want) * (count - want) / want;
                    cells += 1.0;
                }
            }
            // The 1e-5 point of chi-square by Wilson & Hilferty's cube.
            let f: f64 = cells - 1.0;
            let h = 1.0 - 2.0 / (9.0 * f) + 4.26 * (2.0 / (9.0 * f)).sqrt();
            assert!(
                chi2 < f * h * h * h,
                "mean {mean}: chi-square {chi2} on {f}"
            );
        }
    }

    #[test]
    fn large_means_keep_their_variance() {
        let mut s = Stream::new(9, 0);
        let n = 20_000;
        let mean = 1e6;
        let d: Vec<f64> = (0..n).map(|_| poisson(&mut s, mean) - mean).collect();
        let m = d.iter().sum::<f64>() / f64::from(n);
        let v = d.iter().map(|x| x * x).sum::<f64>() / f64::from(n);
        assert!(m.abs() < 4.0 * (mean / f64::from(n)).sqrt());
        assert!((v / mean - 1.0).abs() < 0.04, "{v}");
    }
}
