//! Binomial and multinomial draws, exact, without drawing one individual at a time.

use super::gamma;
use crate::maths::{exp, ln_1p};
use crate::random::Stream;

/// Expected successes (or failures) up to which a binomial number is found by inversion.
const FEW: f64 = 12.0;

/// A binomial number: successes of `n` trials with chance `p`, which is held to 0 to 1.
///
/// Where many are expected the trials' uniforms are split at their median, a beta number (Devroye 1986, Non-Uniform
/// Random Variate Generation, section X.4), until few are left; those by inversion.
pub fn binomial(stream: &mut Stream, n: u64, p: f64) -> u64 {
    let (mut n, mut p, mut count) = (n, p, 0);
    while n as f64 * p.min(1.0 - p) > FEW {
        let middle = n / 2 + 1;
        let below = gamma(stream, middle as f64);
        let above = gamma(stream, (n + 1 - middle) as f64);
        let median = below / (below + above);
        if median <= p {
            count += middle;
            n -= middle;
            p = (p - median) / (1.0 - median);
        } else {
            n = middle - 1;
            p /= median;
        }
    }
    count
        + if p > 0.5 {
            n - by_inversion(stream, n, 1.0 - p)
        } else {
            by_inversion(stream, n, p)
        }
}

/// By inversion, for an expectation of at most [`FEW`], where counts of 400 do not come up.
fn by_inversion(stream: &mut Stream, n: u64, p: f64) -> u64 {
    if n == 0 || p <= 0.0 {
        return 0;
    }
    let u = stream.uniform();
    let odds = p / (1.0 - p);
    let mut term = exp(n as f64 * ln_1p(-p));
    let (mut below, mut count) = (term, 0);
    while u > below && count < n.min(400) {
        term *= odds * (n - count) as f64;
        count += 1;
        term /= count as f64;
        below += term;
    }
    count
}

/// `n` individuals over cells with these weights (0 or more, their sum above 0), one conditional binomial a cell.
pub fn multinomial(
    stream: &mut Stream,
    n: u64,
    weights: impl DoubleEndedIterator<Item = f64> + Clone,
) -> Vec<u64> {
    // What is left of the weights from each cell on, added up from the end so that nothing cancels.
    let mut left: Vec<f64> = Vec::new();
    let mut sum = 0.0;
    for w in weights.clone().rev() {
        sum += w;
        left.push(sum);
    }
    let mut still = n;
    weights
        .zip(left.into_iter().rev())
        .map(|(w, left)| {
            let here = if left > 0.0 {
                binomial(stream, still, w / left)
            } else {
                0
            };
            still -= here;
            here
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::maths::{ln, ln_gamma};

    /// Chi-square of the counts against binomial probabilities, across both methods and the turn at p = 1/2.
    #[test]
    fn binomial_law() {
        for (i, (n, p)) in [
            (1, 0.3),
            (7, 0.9),
            (40, 0.2),
            (60, 0.5),
            (400, 0.93),
            (5000, 0.01),
        ]
        .into_iter()
        .enumerate()
        {
            let mut s = Stream::new(31, i as u64);
            let draws = 40_000;
            let mut seen = vec![0.0; n as usize + 1];
            for _ in 0..draws {
                seen[binomial(&mut s, n, p) as usize] += 1.0;
            }
            let (mut chi2, mut cells) = (0.0, 0.0);
            for (k, count) in seen.iter().enumerate() {
                let (nf, k) = (n as f64, k as f64);
                let ln_p = ln_gamma(nf + 1.0) - ln_gamma(k + 1.0) - ln_gamma(nf - k + 1.0)
                    + k * ln(p)
                    + (nf - k) * ln(1.0 - p);
                let want = exp(ln_p) * f64::from(draws);
                if want > 8.0 {
                    chi2 += (count - want) * (count - want) / want;
                    cells += 1.0;
                }
            }
            // The 1e-5 point of chi-square by Wilson & Hilferty's cube.
            let f: f64 = cells - 1.0;
            let h = 1.0 - 2.0 / (9.0 * f) + 4.26 * (2.0 / (9.0 * f)).sqrt();
            assert!(chi2 < f * h * h * h, "{n} {p}: {chi2} on {f}");
        }
    }

    #[test]
    fn ends() {
        let mut s = Stream::new(1, 1);
        assert_eq!(binomial(&mut s, 1_000_000, 0.0), 0);
        assert_eq!(binomial(&mut s, 1_000_000, 1.0), 1_000_000);
        assert_eq!(binomial(&mut s, 0, 0.4), 0);
    }

    /// Every individual goes somewhere, none where there is no weight; means and a covariance as they should be.
    #[test]
    fn multinomial_moments() {
        let weights = [3.0, 0.0, 1.0, 5.0, 1.0];
        let mut s = Stream::new(2, 0);
        let (n, draws) = (200, 20_000);
        let (mut sums, mut cross) = ([0.0; 5], 0.0);
        for _ in 0..draws {
            let x = multinomial(&mut s, n, weights.iter().copied());
            assert_eq!(x.iter().sum::<u64>(), n);
            assert_eq!(x[1], 0);
            for (sum, x) in sums.iter_mut().zip(&x) {
                *sum += *x as f64;
            }
            cross += (x[0] as f64 - 60.0) * (x[3] as f64 - 100.0);
        }
        let d = f64::from(draws);
        for (sum, w) in sums.iter().zip(weights) {
            let p: f64 = w / 10.0;
            let se = (200.0 * p * (1.0 - p) / d).sqrt();
            assert!((sum / d - 200.0 * p).abs() <= 4.0 * se, "{w} {sum}");
        }
        // Covariance -n p q; its standard error is below 60/sqrt(draws).
        assert!((cross / d + 30.0).abs() < 4.0 * 60.0 / d.sqrt(), "{cross}");
    }
}
