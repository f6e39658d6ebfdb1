//! Quasi-Newton minimisation with a gradient, after Broyden, Fletcher, Goldfarb and Shanno
//! (Nocedal & Wright 2006, Numerical Optimization, algorithm 6.1), inside simple bounds.

/// Settings of a minimisation.
#[derive(Clone, Debug)]
pub struct Bfgs {
    /// Stop when a full quasi-Newton step promises to lower f by less than this.
    pub tolerance: f64,
    /// Give up after so many evaluations of f.
    pub evaluations: usize,
    /// The longest step allowed in any coordinate.
    pub longest_step: f64,
}

impl Default for Bfgs {
    fn default() -> Self {
        Self {
            tolerance: 1e-11,
            evaluations: 200,
            longest_step: 2.0,
        }
    }
}

/// How a minimisation ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ending {
    /// The promised gain fell below the tolerance.
    Converged,
    /// No step along the last direction lowered f, though the gradient is not yet small.
    Stalled,
    /// The evaluations were used up.
    Exhausted,
    /// f was not finite at the start.
    Undefined,
}

/// The place found.
#[derive(Clone, Debug)]
pub struct Minimum {
    /// Coordinates.
    pub x: Vec<f64>,
    /// The function there.
    pub value: f64,
    /// Its gradient there.
    pub gradient: Vec<f64>,
    /// How it ended.
    pub ending: Ending,
    /// How many times f was evaluated.
    pub evaluations: usize,
}

impl Bfgs {
    /// Minimises `f` (which fills the gradient and returns the value, infinite or NaN where it is undefined) from
    /// `start`, inside `bounds` (low, high per coordinate), with `metric` (n by n, row-major) as the first guess at
    /// the inverse of the Hessian.
    pub fn minimise(
        &self,
        mut f: impl FnMut(&[f64], &mut [f64]) -> f64,
        start: &[f64],
        bounds: &[(f64, f64)],
        metric: &[f64],
    ) -> Minimum {
        let n = start.len();
        let clamp = |x: &mut [f64]| {
            for (v, &(low, high)) in x.iter_mut().zip(bounds) {
                *v = v.clamp(low, high);
            }
        };
        let mut x = start.to_vec();
        clamp(&mut x);
        let mut g = vec![0.0; n];
        let mut value = f(&x, &mut g);
        let mut used = 1;
        if !value.is_finite() {
            return Minimum {
                x,
                value,
                gradient: g,
                ending: Ending::Undefined,
                evaluations: used,
            };
        }
        let mut h = metric.to_vec();
        let mut fresh = true;
        let (mut d, mut next, mut next_g) = (vec![0.0; n], vec![0.0; n], vec![0.0; n]);
        let (mut s, mut y, mut hy) = (vec![0.0; n], vec![0.0; n], vec![0.0; n]);
        let held = |x: &[f64], g: &[f64], i: usize| {
            (x[i] <= bounds[i].0 && g[i] > 0.0) || (x[i] >= bounds[i].1 && g[i] < 0.0)
        };
        let ending = loop {
            let mut promise = 0.0;
            for i in 0..n {
                d[i] = 0.0;
                if held(&x, &g, i) {
                    continue;
                }
                for j in 0..n {
                    if !held(&x, &g, j) {
                        d[i] -= h[i * n + j] * g[j];
                    }
                }
                promise -= d[i] * g[i];
            }
            if promise < 0.0 || promise.is_nan() {
                reset(&mut h, n);
                if fresh {
                    break Ending::Stalled;
                }
                fresh = true;
                continue;
            }
            if 0.5 * promise < self.tolerance {
                break Ending::Converged;
            }
            let longest = d.iter().fold(0.0, |m: f64, v| m.max(v.abs()));
            let mut step = if longest > self.longest_step {
                self.longest_step / longest
            } else {
                1.0
            };
            let mut found = false;
            while used < self.evaluations {
                for i in 0..n {
                    next[i] = x[i] + step * d[i];
                }
                clamp(&mut next);
                let v = f(&next, &mut next_g);
                used += 1;
                if v.is_finite() && v <= value - 1e-4 * step * promise + 1e-13 * value.abs() {
                    found = true;
                    for i in 0..n {
                        s[i] = next[i] - x[i];
                        y[i] = next_g[i] - g[i];
                    }
                    std::mem::swap(&mut x, &mut next);
                    std::mem::swap(&mut g, &mut next_g);
                    value = v;
                    break;
                }
                // The parabola through the value, slope and new value; a tenth to a half of the step.
                let shrink = if v.is_finite() {
                    let curvature = v - value + step * promise;
                    (0.5 * step * promise / curvature).clamp(0.1, 0.5)
                } else {
                    0.25
                };
                step *= shrink;
                if step * longest < 1e-13 {
                    break;
                }
            }
            if !found {
                if used >= self.evaluations {
                    break Ending::Exhausted;
                }
                if fresh {
                    // Rounding hides any further gain: that is as converged as this function gets.
                    break if promise < 1e-6 {
                        Ending::Converged
                    } else {
                        Ending::Stalled
                    };
                }
                reset(&mut h, n);
                fresh = true;
                continue;
            }
            update(&mut h, &s, &y, &mut hy);
            fresh = false;
        };
        Minimum {
            x,
            value,
            gradient: g,
            ending,
            evaluations: used,
        }
    }
}

fn reset(h: &mut [f64], n: usize) {
    h.fill(0.0);
    for i in 0..n {
        h[i * n + i] = 0.01;
    }
}

fn update(h: &mut [f64], s: &[f64], y: &[f64], hy: &mut [f64]) {
    let n = s.len();
    let sy: f64 = s.iter().zip(y).map(|(a, b)| a * b).sum();
    let ss: f64 = s.iter().map(|a| a * a).sum();
    let yy: f64 = y.iter().map(|a| a * a).sum();
    if sy <= 1e-10 * (ss * yy).sqrt() {
        return;
    }
    let mut yhy = 0.0;
    for i in 0..n {
        hy[i] = (0..n).map(|j| h[i * n + j] * y[j]).sum();
        yhy += hy[i] * y[i];
    }
    let a = (1.0 + yhy / sy) / sy;
    for i in 0..n {
        for j in 0..n {
            h[i * n + j] += a * s[i] * s[j] - (hy[i] * s[j] + s[i] * hy[j]) / sy;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rosenbrock's (1960) valley, minimum 0 at (1, 1).
    fn valley(x: &[f64], g: &mut [f64]) -> f64 {
        let (a, b) = (1.0 - x[0], x[1] - x[0] * x[0]);
        g[0] = -2.0 * a - 400.0 * x[0] * b;
        g[1] = 200.0 * b;
        a * a + 100.0 * b * b
    }

    #[test]
    fn walks_a_curved_valley() {
        let free = [(-10.0, 10.0); 2];
        let m = Bfgs::default().minimise(valley, &[-1.2, 1.0], &free, &[0.01, 0.0, 0.0, 0.01]);
        assert_eq!(m.ending, Ending::Converged);
        assert!((m.x[0] - 1.0).abs() < 1e-4 && (m.x[1] - 1.0).abs() < 1e-4);
    }

    #[test]
    fn stops_at_a_bound() {
        let m = Bfgs::default().minimise(
            valley,
            &[-1.2, 0.3],
            &[(-10.0, 0.5), (-10.0, 10.0)],
            &[0.01, 0.0, 0.0, 0.01],
        );
        assert_eq!(m.ending, Ending::Converged);
        assert!(
            (m.x[0] - 0.5).abs() < 1e-9 && (m.x[1] - 0.25).abs() < 1e-6,
            "{:?}",
            m.x
        );
    }

    #[test]
    fn undefined_start_is_told() {
        let m = Bfgs::default().minimise(|_, _| f64::NAN, &[0.0], &[(-1.0, 1.0)], &[1.0]);
        assert_eq!(m.ending, Ending::Undefined);
    }
}
