//! Means of functions of a standard normal number by Gauss-Hermite quadrature.

use crate::maths::exp;
use std::sync::OnceLock;

/// Most points.
const MOST_POINTS: usize = 60;

/// Places and weights of `n` points (1 to 60), so that the sum of weight times f(place) is the mean of f(Z) for Z standard
/// normal: exact for polynomials of degree 2n - 1 (Golub & Welsch 1969, Math. Comp. 23:221; here the roots of the
/// Hermite polynomial by Newton's method from the outermost inwards).
/// Worked out once for each number of points.
pub fn normal_points(n: usize) -> &'static [(f64, f64)] {
    static KNOWN: [OnceLock<Vec<(f64, f64)>>; MOST_POINTS] =
        [const { OnceLock::new() }; MOST_POINTS];
    let n = n.clamp(1, MOST_POINTS);
    KNOWN[n - 1].get_or_init(|| found(n))
}

fn found(n: usize) -> Vec<(f64, f64)> {
    let (value, weight) = (
        |x| hermite(n, x).0,
        |x| {
            // 1 / (n h_(n-1)(x)^2) for polynomials normed to mean square 1.
            let below = hermite(n, x).1;
            1.0 / (n as f64 * below * below)
        },
    );
    // Roots are no nearer to each other than pi / sqrt(n + 1/2): a grid a third as wide finds the changes of sign. From
    // there bisection and Newton's method, with h_n' = sqrt(n) h_(n-1).
    let end = 2.0 * (n as f64).sqrt() + 1.0;
    let steps = 4 * n + 8;
    let place = |i: usize| -end + 2.0 * end * i as f64 / steps as f64;
    let mut points = Vec::with_capacity(n);
    for i in 0..steps {
        let (mut low, mut high) = (place(i), place(i + 1));
        let sign = value(low);
        if sign * value(high) > 0.0 {
            continue;
        }
        for _ in 0..6 {
            let mid = 0.5 * (low + high);
            if value(mid) * sign > 0.0 {
                low = mid;
            } else {
                high = mid;
            }
        }
        let mut x = 0.5 * (low + high);
        for _ in 0..8 {
            let (here, below) = hermite(n, x);
            x -= here / ((n as f64).sqrt() * below);
        }
        if points.last().is_none_or(|&(last, _)| x - last > 1e-9) {
            points.push((x, weight(x)));
        }
    }
    points
}

/// Hermite polynomials of degree n and n - 1, normed to a mean square of 1.
fn hermite(n: usize, x: f64) -> (f64, f64) {
    let (mut below, mut here) = (0.0, 1.0);
    for j in 0..n {
        let next = (x * here - (j as f64).sqrt() * below) / (j as f64 + 1.0).sqrt();
        (below, here) = (here, next);
    }
    (here, below)
}

/// Places and weights for a lognormal factor e^(s Z): one point of 1 when `sd` is 0.
pub fn lognormal_points(sd: f64, n: usize) -> Vec<(f64, f64)> {
    if sd == 0.0 {
        return vec![(1.0, 1.0)];
    }
    let points = normal_points(n).iter();
    points.map(|(z, w)| (exp(sd * z), *w)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::special::normal;

    fn power(x: f64, n: usize) -> f64 {
        (0..n).fold(1.0, |p, _| p * x)
    }

    #[test]
    fn moments_are_exact() {
        for n in [1usize, 2, 3, 9, 15, 32, 60] {
            let points = normal_points(n);
            assert_eq!(points.len(), n);
            let mut moment = 1.0;
            for degree in (0..(2 * n).min(20)).step_by(2) {
                if degree > 0 {
                    moment *= degree as f64 - 1.0;
                }
                let sum: f64 = points.iter().map(|(x, w)| w * power(*x, degree)).sum();
                assert!((sum / moment - 1.0).abs() < 1e-10, "{n} {degree}: {sum}");
                let odd: f64 = points.iter().map(|(x, w)| w * power(*x, degree + 1)).sum();
                assert!(odd.abs() < 1e-8 * moment.max(1.0), "{n} {degree}: {odd}");
            }
        }
    }

    /// Three points: 0 and -/+ sqrt 3 with weights 2/3 and 1/6 (Abramowitz & Stegun 1964, table 25.10, after rescaling).
    #[test]
    fn three_points() {
        let points = normal_points(3);
        assert!((points[2].0 - 3f64.sqrt()).abs() < 1e-12 && points[1].0.abs() < 1e-12);
        assert!((points[0].1 - 1.0 / 6.0).abs() < 1e-12);
        assert!((points[1].1 - 2.0 / 3.0).abs() < 1e-12);
    }

    /// The mean of a lognormal factor, and of a normal distribution function: E Phi(a + b Z) = Phi(a / sqrt(1 + b^2)).
    #[test]
    fn known_means() {
        let mean: f64 = lognormal_points(0.8, 15).iter().map(|(v, w)| v * w).sum();
        assert!((mean / exp(0.32) - 1.0).abs() < 1e-9);
        let points = normal_points(30);
        let mean: f64 = points.iter().map(|(z, w)| w * normal::cdf(0.3 + z)).sum();
        assert!((mean - normal::cdf(0.3 / 2f64.sqrt())).abs() < 1e-6);
        assert_eq!(lognormal_points(0.0, 9), [(1.0, 1.0)]);
    }
}
