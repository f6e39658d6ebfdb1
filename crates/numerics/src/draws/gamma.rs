//! Gamma draws.

use crate::maths::{ln, pow};
use crate::random::Stream;

/// A gamma number with the given shape (> 0) and scale 1: mean and variance are both `shape`.
///
/// Marsaglia & Tsang (2000), ACM Trans. Math. Softw. 26:363-372; for shapes below 1 their boost
/// gamma(a) = gamma(a + 1) U^(1/a).
pub fn gamma(stream: &mut Stream, shape: f64) -> f64 {
    if shape < 1.0 {
        let u = stream.uniform();
        return at_least_one(stream, shape + 1.0) * pow(u, 1.0 / shape);
    }
    at_least_one(stream, shape)
}

fn at_least_one(stream: &mut Stream, shape: f64) -> f64 {
    let d = shape - 1.0 / 3.0;
    let c = 1.0 / (9.0 * d).sqrt();
    loop {
        let x = stream.normal();
        let t = 1.0 + c * x;
        let u = stream.uniform();
        if t <= 0.0 {
            continue;
        }
        let v = t * t * t;
        let x2 = x * x;
        if u < 1.0 - 0.0331 * x2 * x2 || ln(u) < 0.5 * x2 + d * (1.0 - v + ln(v)) {
            return d * v;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean and variance equal the shape; the third central moment is twice the shape.
    #[test]
    fn moments() {
        for (i, shape) in [0.2, 0.8, 1.0, 3.5, 60.0].into_iter().enumerate() {
            let mut s = Stream::new(11, i as u64);
            let n = 60_000;
            let draws: Vec<f64> = (0..n).map(|_| gamma(&mut s, shape)).collect();
            let mean = draws.iter().sum::<f64>() / n as f64;
            let m2 = draws.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / n as f64;
            let m3 = draws
                .iter()
                .map(|x| (x - mean) * (x - mean) * (x - mean))
                .sum::<f64>()
                / n as f64;
            let n = n as f64;
            assert!(
                (mean - shape).abs() < 4.0 * (shape / n).sqrt(),
                "{shape} {mean}"
            );
            let se2 = ((3.0 * shape * (shape + 2.0) - shape * shape) / n).sqrt();
            assert!((m2 - shape).abs() < 4.0 * se2, "{shape} {m2}");
            assert!(
                (m3 - 2.0 * shape).abs() < 0.2 * shape * (1.0 + shape.sqrt() * 0.5),
                "{shape} {m3}"
            );
        }
    }
}
