//! Rising factorials of k summed over all counts at once.
//!
//! sum_i ln k(k+1)...(k+y_i-1) = sum_j N_j ln(k+j), N_j the number of counts above j: one logarithm for each j
//! instead of one for each count and j. Beyond a table of 256 the gamma function takes over.

use numerics::maths::{ln, ln_gamma, slices};
use numerics::special::gamma::digamma;

const TABLE: usize = 256;

/// How many counts exceed each number, and the counts beyond the table.
#[derive(Clone, Debug, Default)]
pub(super) struct Rising {
    above: Vec<f64>,
    large: Vec<f64>,
}

impl Rising {
    pub fn set(&mut self, counts: &[f64]) {
        let top = counts
            .iter()
            .fold(0.0, |m: f64, &y| m.max(y))
            .min(TABLE as f64) as usize;
        self.above.clear();
        self.above.resize(top, 0.0);
        self.large.clear();
        for &y in counts {
            if y > TABLE as f64 {
                self.large.push(y);
            }
            if y >= 1.0 {
                self.above[(y.min(TABLE as f64) as usize) - 1] += 1.0;
            }
        }
        for j in (1..top).rev() {
            self.above[j - 1] += self.above[j];
        }
    }

    /// sum of ln of the rising factorials.
    pub fn ln(&self, k: f64) -> f64 {
        let mut sum = 0.0;
        // ln(k + j) = ln k + ln(1 + j/k), eight at a time.
        let (ln_k, inv) = (ln(k), 1.0 / k);
        for (block, above) in self.above.chunks(8).enumerate() {
            let mut logs = [0.0; 8];
            for (j, l) in logs.iter_mut().enumerate() {
                *l = (block * 8 + j) as f64 * inv;
            }
            slices::ln_1p(&mut logs);
            for (n, l) in above.iter().zip(logs) {
                sum += n * (ln_k + l);
            }
        }
        if !self.large.is_empty() {
            let base = k + TABLE as f64;
            for &y in &self.large {
                sum += if base > 1e6 * y {
                    (y - TABLE as f64) * ln(k + 0.5 * (y + TABLE as f64))
                } else {
                    ln_gamma(y + k) - ln_gamma(base)
                };
            }
        }
        sum
    }

    /// Its derivative in k.
    pub fn digamma(&self, k: f64) -> f64 {
        let mut sum = 0.0;
        for (j, n) in self.above.iter().enumerate() {
            sum += n / (k + j as f64);
        }
        if !self.large.is_empty() {
            let base = digamma(k + TABLE as f64);
            sum += self
                .large
                .iter()
                .map(|y| digamma(y + k) - base)
                .sum::<f64>();
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::special::gamma::{digamma_rising, ln_rising};

    #[test]
    fn same_as_one_by_one() {
        let counts = [0.0, 1.0, 1.0, 7.0, 256.0, 257.0, 4000.0];
        let mut r = Rising::default();
        r.set(&counts);
        for k in [0.02, 0.9, 5.0, 800.0] {
            let one: f64 = counts.iter().map(|&y| ln_rising(k, y)).sum();
            assert!((r.ln(k) - one).abs() < 1e-9 * one.abs(), "{k}");
            let one: f64 = counts.iter().map(|&y| digamma_rising(k, y)).sum();
            assert!((r.digamma(k) - one).abs() < 1e-9 * one.abs(), "{k}");
        }
    }
}
