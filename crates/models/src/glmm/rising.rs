//! Rising factorials of k summed over all counts at once.
//!
//! sum_i ln k(k+1)...(k+y_i-1) = sum_j N_j ln(k+j), N_j the number of counts above j: one logarithm for each j
//! instead of one for each count and j. Beyond a table of 64 the rest of a count's product, from b = k + 64 to
//! x = k + y, is the difference of two gamma functions by Stirling's series (Abramowitz & Stegun 1964, 6.1.40 and
//! 6.3.18, what is left out is below 1e-16), written with l = ln(x/b) so that nothing cancels when k is large:
//!   ln G(x) - ln G(b) = (x - 1/2) l + (x - b)(ln b - 1) + S(x) - S(b),  S(x) = 1/12x - 1/360x^3 + ...
//!   digamma(x) - digamma(b) = l + D(x) - D(b),  D(x) = -1/2x - 1/12x^2 + ...

use numerics::maths::ln;
use numerics::maths::slices::{self, sum};

const TABLE: usize = 64;
/// Up to this dispersion a sum of logarithms is made of products; beyond it 1 + x/k keeps too few digits of x/k.
pub(super) const MODERATE: f64 = 300.0;

/// How many counts exceed each number, and the counts beyond the table less its size.
#[derive(Clone, Debug, Default)]
pub(super) struct Rising {
    above: Vec<f64>,
    beyond: Vec<f64>,
    total_beyond: f64,
    /// l of each of `beyond`, at this base.
    logs: Vec<f64>,
    base: f64,
    terms: Vec<f64>,
}

/// S(x) of Stirling's series, for x of 64 or more.
#[inline(always)]
fn stirling(inv: f64) -> f64 {
    let r = inv * inv;
    inv * (1.0 / 12.0 - r * (1.0 / 360.0 - r * (1.0 / 1260.0 - r * (1.0 / 1680.0))))
}

/// D(x), for x of 64 or more.
#[inline(always)]
fn stirling_slope(inv: f64) -> f64 {
    let r = inv * inv;
    -0.5 * inv - r * (1.0 / 12.0 - r * (1.0 / 120.0 - r * (1.0 / 252.0 - r * (1.0 / 240.0))))
}

impl Rising {
    pub fn set(&mut self, counts: &[f64]) {
        let top = counts
            .iter()
            .fold(0.0, |m: f64, &y| m.max(y))
            .min(TABLE as f64) as usize;
        self.above.clear();
        self.above.resize(top, 0.0);
        self.beyond.clear();
        for &y in counts {
            if y > TABLE as f64 {
                self.beyond.push(y - TABLE as f64);
            }
            if y >= 1.0 {
                self.above[(y.min(TABLE as f64) as usize) - 1] += 1.0;
            }
        }
        for j in (1..top).rev() {
            self.above[j - 1] += self.above[j];
        }
        self.total_beyond = sum(&self.beyond);
        self.logs.resize(self.beyond.len(), 0.0);
        self.base = f64::NAN;
        self.terms.resize(self.beyond.len(), 0.0);
    }

    /// l of each count beyond the table.
    fn log_ratios(&mut self, base: f64) {
        if self.base == base {
            return;
        }
        self.base = base;
        let inv = 1.0 / base;
        for (l, d) in self.logs.iter_mut().zip(&self.beyond) {
            *l = d * inv;
        }
        slices::ln_1p(&mut self.logs);
    }

    /// The sum of l over the counts beyond the table.
    fn sum_of_log_ratios(&mut self, k: f64, base: f64) -> f64 {
        if self.base == base || k > MODERATE {
            self.log_ratios(base);
            return sum(&self.logs);
        }
        let inv = 1.0 / base;
        for (t, d) in self.terms.iter_mut().zip(&self.beyond) {
            *t = d * inv;
        }
        slices::sum_ln_1p(&self.terms)
    }

    /// sum of ln of the rising factorials.
    pub fn ln(&mut self, k: f64) -> f64 {
        let mut total = 0.0;
        // ln(k + j) = ln k + ln(1 + j/k), eight at a time.
        let (ln_k, inv) = (ln(k), 1.0 / k);
        for (block, above) in self.above.chunks(8).enumerate() {
            let mut logs = [0.0; 8];
            for (j, l) in logs.iter_mut().enumerate() {
                *l = (block * 8 + j) as f64 * inv;
            }
            slices::ln_1p(&mut logs);
            for (n, l) in above.iter().zip(logs) {
                total += n * (ln_k + l);
            }
        }
        if self.beyond.is_empty() {
            return total;
        }
        let base = k + TABLE as f64;
        self.log_ratios(base);
        let rows = self.logs.iter().zip(&self.beyond);
        for (t, (l, d)) in self.terms.iter_mut().zip(rows) {
            let x = base + d;
            *t = (x - 0.5) * l + stirling(1.0 / x);
        }
        let n = self.beyond.len() as f64;
        total + sum(&self.terms) + self.total_beyond * (ln(base) - 1.0) - n * stirling(1.0 / base)
    }

    /// Its derivative in k.
    pub fn digamma(&mut self, k: f64) -> f64 {
        let mut strands = [0.0; 4];
        for (block, above) in self.above.chunks(4).enumerate() {
            for (j, (total, n)) in strands.iter_mut().zip(above).enumerate() {
                *total += n / (k + (4 * block + j) as f64);
            }
        }
        let total = (strands[0] + strands[1]) + (strands[2] + strands[3]);
        if self.beyond.is_empty() {
            return total;
        }
        let base = k + TABLE as f64;
        let logs = self.sum_of_log_ratios(k, base);
        for (t, d) in self.terms.iter_mut().zip(&self.beyond) {
            *t = stirling_slope(1.0 / (base + d));
        }
        let n = self.beyond.len() as f64;
        total + logs + sum(&self.terms) - n * stirling_slope(1.0 / base)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::special::gamma::{digamma_rising, ln_rising};

    #[test]
    fn same_as_one_by_one() {
        let counts = [0.0, 1.0, 1.0, 7.0, 64.0, 65.0, 256.0, 257.0, 4000.0];
        let mut r = Rising::default();
        r.set(&counts);
        for k in [0.02, 0.9, 5.0, 800.0] {
            let one: f64 = counts.iter().map(|&y| ln_rising(k, y)).sum();
            assert!((r.ln(k) - one).abs() < 1e-9 * one.abs(), "{k}");
            let one: f64 = counts.iter().map(|&y| digamma_rising(k, y)).sum();
            assert!((r.digamma(k) - one).abs() < 1e-9 * one.abs(), "{k}");
            // By itself, without the logarithms that the other sum left.
            r.set(&counts);
            assert!((r.digamma(k) - one).abs() < 1e-9 * one.abs(), "{k}");
        }
    }
}
