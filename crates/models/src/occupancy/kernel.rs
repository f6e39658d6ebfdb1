//! Probability of a row's detections at an occupied site, and its derivatives.
//!
//! With t = rho/(1-rho) the beta-binomial kernel is
//!   prod_{j<d} (p + j t) prod_{j<n-d} (1-p + j t) / prod_{j<n} (1 + j t),
//! which loses no digits as t goes to 0, where it is the binomial one.

use numerics::maths::ln;

/// Logarithm of the kernel with its derivatives by z = logit p and r = logit rho.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Kernel {
    pub ln: f64,
    pub z: f64,
    pub zz: f64,
    pub r: f64,
    pub rr: f64,
    pub zr: f64,
}

/// d detections at n visits: d z - n ln(1 + e^z), with `softplus` the last logarithm, `p` and `q` = 1 - p.
#[inline(always)]
pub(super) fn binomial(d: f64, n: f64, z: f64, softplus: f64, p: f64, q: f64) -> Kernel {
    Kernel {
        ln: d * z - n * softplus,
        z: d * q - (n - d) * p,
        zz: -n * p * q,
        ..Kernel::default()
    }
}

/// d detections at n visits, with `p`, `q` = 1 - p and `t` = rho/(1-rho); the work grows with n.
pub(super) fn beta_binomial(d: f64, n: f64, p: f64, q: f64, t: f64) -> Kernel {
    let found = Rising::new(p, t, d);
    let missed = Rising::new(q, t, n - d);
    let all = Rising::new(1.0, t, n);
    // By z, ln(p + j t) has the slope q p/(p + j t), and ln(q + j t) the slope -p q/(q + j t).
    Kernel {
        ln: found.ln + missed.ln - all.ln,
        z: q * found.own - p * missed.own,
        zz: (q - p) * (q * found.own - p * missed.own)
            - q * q * found.own_own
            - p * p * missed.own_own,
        r: found.step + missed.step - all.step,
        rr: (found.step - found.step_step) + (missed.step - missed.step_step)
            - (all.step - all.step_step),
        zr: p * missed.cross - q * found.cross,
    }
}

/// ln of x (x + t) ... (x + (y-1) t), and sums over the factors f of their parts x/f (own) and j t/f (step), and of the
/// products of these.
#[derive(Clone, Copy, Debug)]
struct Rising {
    ln: f64,
    own: f64,
    own_own: f64,
    step: f64,
    step_step: f64,
    cross: f64,
}

impl Rising {
    fn new(x: f64, t: f64, y: f64) -> Self {
        let (mut sum, mut product) = (0.0, 1.0);
        let [mut own, mut own_own, mut step, mut step_step, mut cross] = [0.0; 5];
        let mut j = 0.0;
        while j < y {
            let factor = x + j * t;
            product *= factor;
            if !(1e-200..1e200).contains(&product) {
                sum += ln(product);
                product = 1.0;
            }
            let inverse = 1.0 / factor;
            // The first is 1 even where x is too small for an inverse.
            let (a, b) = if j == 0.0 {
                (1.0, 0.0)
            } else {
                (x * inverse, j * t * inverse)
            };
            own += a;
            own_own += a * a;
            step += b;
            step_step += b * b;
            cross += a * b;
            j += 1.0;
        }
        Self {
            ln: sum + ln(product),
            own,
            own_own,
            step,
            step_step,
            cross,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::maths::{exp, ln_1p};
    use numerics::special::beta::ln_beta;

    fn at(d: f64, n: f64, z: f64, r: f64) -> Kernel {
        let p = 1.0 / (1.0 + exp(-z));
        beta_binomial(d, n, p, 1.0 - p, exp(r))
    }

    /// B(a+d, c+n-d)/B(a, c) by gamma functions.
    #[test]
    fn as_by_beta_functions() {
        // Of 400 visits the product is beyond the largest number.
        for (d, n) in [(0.0, 3.0), (2.0, 5.0), (7.0, 7.0), (40.0, 400.0)] {
            for (z, r) in [(-1.2, -0.7), (0.4, 1.5), (2.0, -3.0)] {
                let p = 1.0 / (1.0 + exp(-z));
                let (a, c) = (p / exp(r), (1.0 - p) / exp(r));
                let want = ln_beta(a + d, c + n - d) - ln_beta(a, c);
                let got = at(d, n, z, r).ln;
                assert!(
                    (got - want).abs() < 1e-9 * want.abs(),
                    "{d} {n}: {got} {want}"
                );
            }
        }
    }

    #[test]
    fn derivatives_as_differences() {
        let h = 1e-5;
        for (d, n) in [(0.0, 4.0), (1.0, 1.0), (2.0, 6.0), (5.0, 5.0)] {
            for (z, r) in [(-1.2, -0.7), (0.4, 1.5), (1.0, -4.0)] {
                let k = at(d, n, z, r);
                let (up, down) = (at(d, n, z + h, r), at(d, n, z - h, r));
                let (more, less) = (at(d, n, z, r + h), at(d, n, z, r - h));
                for (got, high, low) in [
                    (k.z, up.ln, down.ln),
                    (k.zz, up.z, down.z),
                    (k.zr, up.r, down.r),
                    (k.r, more.ln, less.ln),
                    (k.rr, more.r, less.r),
                    (k.zr, more.z, less.z),
                ] {
                    let want = (high - low) / (2.0 * h);
                    assert!(
                        (got - want).abs() < 1e-8 * (1.0 + want.abs()),
                        "{got} {want}"
                    );
                }
            }
        }
    }

    /// Far out nothing is lost or infinite: not even where p or rho is all but 0 or 1.
    #[test]
    fn finite_far_out() {
        for (d, n, z, r) in [(1.0, 2.0, 705.0, 300.0), (2.0, 9.0, -705.0, -300.0)] {
            let (p, q) = if z > 0.0 {
                (1.0, exp(-z))
            } else {
                (exp(z), 1.0)
            };
            let k = beta_binomial(d, n, p, q, exp(r));
            for v in [k.ln, k.z, k.zz, k.r, k.rr, k.zr] {
                assert!(v.is_finite(), "{k:?}");
            }
        }
    }

    /// With t = 0 the binomial kernel and its derivatives.
    #[test]
    fn without_correlation_binomial() {
        for (d, n, z) in [(0.0, 3.0, 0.2), (2.0, 5.0, -1.0), (4.0, 4.0, 2.0)] {
            let p = 1.0 / (1.0 + exp(-z));
            let a = beta_binomial(d, n, p, 1.0 - p, 0.0);
            let b = binomial(d, n, z, ln_1p(exp(z)), p, 1.0 - p);
            for (a, b) in [(a.ln, b.ln), (a.z, b.z), (a.zz, b.zz), (a.r, b.r)] {
                assert!((a - b).abs() < 1e-13, "{a} {b}");
            }
        }
    }
}
