//! The log likelihood of all rows with its gradient and Hessian.
//!
//! With w the probability that a row's site is occupied given its detections (1 when there are any; logit w =
//! logit psi + ln k for a row without, k the kernel), a row's derivatives by its two predictors e = logit psi and
//! z = logit p are
//!   l_e = w - psi,  l_ee = w(1-w) - psi(1-psi),  l_z = w k_z,  l_ez = w(1-w) k_z,  l_zz = w k_zz + w(1-w) k_z^2,
//! where k_z and k_zz are derivatives of ln k; the same with r = logit rho. The terms without w(1-w) are the information
//! that known occupancy would give.

use super::design::{DetectionKernel, OccupancyDesign};
use super::kernel::{beta_binomial, binomial};
use numerics::maths::{exp, slices};

/// logit rho is taken to this, beyond which nothing changes, lest rho/(1-rho) be infinite.
const LARGEST_R: f64 = 300.0;

/// The log likelihood at one place. Matrices are `parameters` square, row-major, both triangles filled.
#[derive(Clone, Debug, Default)]
pub(super) struct Derivatives {
    pub value: f64,
    pub gradient: Vec<f64>,
    pub hessian: Vec<f64>,
    /// The information that known occupancy would give: positive definite wherever the rows tell anything.
    pub complete: Vec<f64>,
}

/// Design and data, with room to work in.
#[derive(Clone, Debug)]
pub(super) struct Likelihood {
    pub design: OccupancyDesign,
    pub detections: Vec<f64>,
    pub visits: Vec<f64>,
    z: Sparse,
    /// Linear predictors at the last place.
    pub eta: Vec<f64>,
    pub zeta: Vec<f64>,
    eta_exp: Vec<f64>,
    eta_ln: Vec<f64>,
    zeta_exp: Vec<f64>,
    zeta_ln: Vec<f64>,
    /// logit w of rows without a detection.
    posterior: Vec<f64>,
    posterior_exp: Vec<f64>,
    posterior_ln: Vec<f64>,
    kernel_z: Vec<f64>,
    kernel_zz: Vec<f64>,
    kernel_r: Vec<f64>,
    kernel_rr: Vec<f64>,
    kernel_zr: Vec<f64>,
}

/// exp(-|v|) and ln(1 + exp(-|v|)) of each value.
fn tails(values: &[f64], e: &mut [f64], l: &mut [f64]) {
    e.iter_mut().zip(values).for_each(|(e, v)| *e = -v.abs());
    slices::exp(e);
    l.copy_from_slice(e);
    slices::ln_1p(l);
}

/// The logistic function and its complement, each without cancellation, from e = exp(-|v|).
#[inline(always)]
pub(super) fn logistic(v: f64, e: f64) -> (f64, f64) {
    let large = 1.0 / (1.0 + e);
    let small = e * large;
    if v >= 0.0 {
        (large, small)
    } else {
        (small, large)
    }
}

impl Likelihood {
    pub fn new(design: OccupancyDesign) -> Self {
        let rows = design.rows();
        let room = || vec![0.0; rows];
        Self {
            z: Sparse::new(&design.z, design.detection_columns),
            design,
            detections: room(),
            visits: room(),
            eta: room(),
            zeta: room(),
            eta_exp: room(),
            eta_ln: room(),
            zeta_exp: room(),
            zeta_ln: room(),
            posterior: room(),
            posterior_exp: room(),
            posterior_ln: room(),
            kernel_z: room(),
            kernel_zz: room(),
            kernel_r: room(),
            kernel_rr: room(),
            kernel_zr: room(),
        }
    }

    /// Number of parameters with this kernel: coefficients of occupancy, of detection, then logit rho.
    pub fn parameters(&self, kernel: DetectionKernel) -> usize {
        self.design.coefficients() + usize::from(kernel == DetectionKernel::BetaBinomial)
    }

    /// Fills `out` at `theta`, which has logit rho as its last number with the beta-binomial kernel and only then.
    pub fn evaluate(&mut self, theta: &[f64], kernel: DetectionKernel, out: &mut Derivatives) {
        let m = self.parameters(kernel);
        let correlated = kernel == DetectionKernel::BetaBinomial;
        let (columns, coefficients) = (self.design.columns, self.design.coefficients());
        let rows = self.eta.len();
        let t = if correlated {
            exp(theta[m - 1].min(LARGEST_R))
        } else {
            0.0
        };
        for i in 0..rows {
            self.eta[i] = dot(self.design.x_row(i), &theta[..columns]);
            self.zeta[i] = self.z.dot(i, &theta[columns..coefficients]);
        }
        tails(&self.eta, &mut self.eta_exp, &mut self.eta_ln);
        tails(&self.zeta, &mut self.zeta_exp, &mut self.zeta_ln);
        let mut value = 0.0;
        for i in 0..rows {
            let (d, n, eta, zeta) = (
                self.detections[i],
                self.visits[i],
                self.eta[i],
                self.zeta[i],
            );
            let (p, q) = logistic(zeta, self.zeta_exp[i]);
            let k = if correlated {
                beta_binomial(d, n, p, q, t)
            } else {
                binomial(d, n, zeta, zeta.max(0.0) + self.zeta_ln[i], p, q)
            };
            self.kernel_z[i] = k.z;
            self.kernel_zz[i] = k.zz;
            if correlated {
                self.kernel_r[i] = k.r;
                self.kernel_rr[i] = k.rr;
                self.kernel_zr[i] = k.zr;
            }
            // ln psi + ln k, or ln(1 + e^posterior) - ln(1 + e^eta), so that no large predictor is taken from itself.
            value -= self.eta_ln[i];
            if d > 0.0 {
                value += eta.min(0.0) + k.ln;
                self.posterior[i] = 0.0;
            } else {
                let posterior = eta + k.ln;
                value += if posterior > 0.0 { k.ln } else { -eta.max(0.0) };
                self.posterior[i] = posterior;
            }
        }
        tails(
            &self.posterior,
            &mut self.posterior_exp,
            &mut self.posterior_ln,
        );
        out.gradient.clear();
        out.gradient.resize(m, 0.0);
        for matrix in [&mut out.hessian, &mut out.complete] {
            matrix.clear();
            matrix.resize(m * m, 0.0);
        }
        for i in 0..rows {
            let (psi, empty) = logistic(self.eta[i], self.eta_exp[i]);
            let (w, out_of) = if self.detections[i] > 0.0 {
                (1.0, 0.0)
            } else {
                value += self.posterior_ln[i];
                logistic(self.posterior[i], self.posterior_exp[i])
            };
            let spread = w * out_of;
            let known = psi * empty;
            let (p, q) = logistic(self.zeta[i], self.zeta_exp[i]);
            let kz = self.kernel_z[i];
            let by_eta = if psi > 0.5 { empty - out_of } else { w - psi };
            let by = Row {
                eta: by_eta,
                zeta: w * kz,
                eta_eta: spread - known,
                eta_zeta: spread * kz,
                zeta_zeta: w * self.kernel_zz[i] + spread * kz * kz,
                complete_eta: known,
                complete_zeta: w * self.visits[i] * p * q,
            };
            let (x, z) = (self.design.x_row(i), self.z.row(i));
            by.add(x, z, m, out);
            if correlated {
                let last = m - 1;
                let kr = self.kernel_r[i];
                let zeta_r = w * self.kernel_zr[i] + spread * kz * kr;
                out.gradient[last] += w * kr;
                let row = &mut out.hessian[last * m..];
                for (h, x) in row.iter_mut().zip(x) {
                    *h += spread * kr * x;
                }
                for &(j, z) in z {
                    row[columns + j] += zeta_r * z;
                }
                row[last] += w * self.kernel_rr[i] + spread * kr * kr;
                out.complete[last * m + last] += w * (kr * kr + self.kernel_rr[i].abs());
            }
        }
        for matrix in [&mut out.hessian, &mut out.complete] {
            for i in 0..m {
                for j in 0..i {
                    matrix[j * m + i] = matrix[i * m + j];
                }
            }
        }
        out.value = value;
    }

    /// The largest change of any visited row's predictor (or of logit rho) by this change of the parameters.
    pub fn reach(&self, change: &[f64]) -> f64 {
        let (columns, coefficients) = (self.design.columns, self.design.coefficients());
        let mut largest = change[coefficients..]
            .iter()
            .fold(0.0, |m: f64, v| m.max(v.abs()));
        for i in (0..self.eta.len()).filter(|&i| self.visits[i] > 0.0) {
            let eta = dot(self.design.x_row(i), &change[..columns]);
            let zeta = self.z.dot(i, &change[columns..coefficients]);
            largest = largest.max(eta.abs()).max(zeta.abs());
        }
        largest
    }
}

/// The covariates of detection other than 0, with their columns: with a chance of its own for each year there is one a
/// row.
#[derive(Clone, Debug)]
struct Sparse {
    entries: Vec<(usize, f64)>,
    /// Where each row's begin, and the end.
    starts: Vec<usize>,
}

impl Sparse {
    fn new(values: &[f64], columns: usize) -> Self {
        let (mut entries, mut starts) = (Vec::new(), vec![0]);
        for row in values.chunks_exact(columns) {
            let some = row.iter().copied().enumerate().filter(|(_, v)| *v != 0.0);
            entries.extend(some);
            starts.push(entries.len());
        }
        Self { entries, starts }
    }

    #[inline(always)]
    fn row(&self, i: usize) -> &[(usize, f64)] {
        &self.entries[self.starts[i]..self.starts[i + 1]]
    }

    #[inline(always)]
    fn dot(&self, i: usize, by: &[f64]) -> f64 {
        self.row(i).iter().map(|(j, v)| v * by[*j]).sum()
    }
}

/// A row's derivatives by its two predictors.
struct Row {
    eta: f64,
    zeta: f64,
    eta_eta: f64,
    eta_zeta: f64,
    zeta_zeta: f64,
    complete_eta: f64,
    complete_zeta: f64,
}

impl Row {
    /// Adds them to gradient and lower triangles.
    #[inline(always)]
    fn add(&self, x: &[f64], z: &[(usize, f64)], m: usize, out: &mut Derivatives) {
        let columns = x.len();
        for (i, xi) in x.iter().enumerate() {
            out.gradient[i] += self.eta * xi;
            let (h, c) = (self.eta_eta * xi, self.complete_eta * xi);
            let at = i * m;
            for (j, xj) in x[..=i].iter().enumerate() {
                out.hessian[at + j] += h * xj;
                out.complete[at + j] += c * xj;
            }
        }
        for (place, &(i, zi)) in z.iter().enumerate() {
            out.gradient[columns + i] += self.zeta * zi;
            let (h, cross) = (self.zeta_zeta * zi, self.eta_zeta * zi);
            let c = self.complete_zeta * zi;
            let at = (columns + i) * m;
            for (j, xj) in x.iter().enumerate() {
                out.hessian[at + j] += cross * xj;
            }
            for (j, zj) in &z[..=place] {
                out.hessian[at + columns + j] += h * zj;
                out.complete[at + columns + j] += c * zj;
            }
        }
    }
}

#[inline(always)]
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::maths::{ln, pow};

    /// Uneven visits, one row without any, two covariates each.
    fn rows() -> Likelihood {
        let d = [0.0, 2.0, 0.0, 1.0, 0.0, 3.0, 0.0, 1.0];
        let n = [3.0, 3.0, 5.0, 1.0, 0.0, 3.0, 1.0, 4.0];
        let mut x = Vec::new();
        let mut z = Vec::new();
        for i in 0..d.len() {
            x.extend([1.0, i as f64 * 0.4 - 1.1]);
            z.extend([1.0, ((i * 5) % 7) as f64 * 0.3 - 0.8]);
        }
        let mut l = Likelihood::new(OccupancyDesign {
            x,
            columns: 2,
            z,
            detection_columns: 2,
            kernel: DetectionKernel::BetaBinomial,
        });
        l.detections = d.to_vec();
        l.visits = n.to_vec();
        l
    }

    /// psi p^d (1-p)^(n-d) + (1-psi) 1[d = 0] as written (MacKenzie et al. 2002, Ecology 83:2248).
    #[test]
    fn value_as_written() {
        let mut l = rows();
        let theta = [0.3, -0.8, -0.2, 0.6];
        let mut out = Derivatives::default();
        l.evaluate(&theta, DetectionKernel::Binomial, &mut out);
        let inverse = |v: f64| 1.0 / (1.0 + exp(-v));
        let mut want = 0.0;
        for i in 0..8 {
            let psi = inverse(dot(l.design.x_row(i), &theta[..2]));
            let p = inverse(dot(l.design.z_row(i), &theta[2..]));
            let (d, n) = (l.detections[i], l.visits[i]);
            let empty = if d == 0.0 { 1.0 - psi } else { 0.0 };
            want += ln(psi * pow(p, d) * pow(1.0 - p, n - d) + empty);
        }
        assert!((out.value - want).abs() < 1e-13, "{} {want}", out.value);
    }

    #[test]
    fn gradient_and_hessian_as_differences() {
        let mut l = rows();
        for kernel in [DetectionKernel::Binomial, DetectionKernel::BetaBinomial] {
            for scale in [1.0, -2.5, 6.0] {
                let mut theta = vec![0.3 * scale, -0.8, -0.2, 0.2 * scale];
                if kernel == DetectionKernel::BetaBinomial {
                    theta.push(-0.9 * scale);
                }
                let m = theta.len();
                let h = 1e-5;
                let mut at = Derivatives::default();
                l.evaluate(&theta, kernel, &mut at);
                let (mut up, mut down) = (Derivatives::default(), Derivatives::default());
                for j in 0..m {
                    let mut moved = theta.clone();
                    moved[j] += h;
                    l.evaluate(&moved, kernel, &mut up);
                    moved[j] -= 2.0 * h;
                    l.evaluate(&moved, kernel, &mut down);
                    let want = (up.value - down.value) / (2.0 * h);
                    let got = at.gradient[j];
                    assert!((got - want).abs() < 1e-8, "{kernel:?} {j}: {got} {want}");
                    for i in 0..m {
                        let want = (up.gradient[i] - down.gradient[i]) / (2.0 * h);
                        let got = at.hessian[i * m + j];
                        assert!(
                            (got - want).abs() < 1e-8,
                            "{kernel:?} {i} {j}: {got} {want}"
                        );
                    }
                }
            }
        }
    }

    /// A row without visits says nothing.
    #[test]
    fn no_visits_no_word() {
        let mut l = rows();
        let theta = [0.3, -0.8, -0.2, 0.6, -1.0];
        let (mut with, mut without) = (Derivatives::default(), Derivatives::default());
        l.evaluate(&theta, DetectionKernel::BetaBinomial, &mut with);
        l.design.x[8..10].copy_from_slice(&[3.0, -4.0]);
        l.evaluate(&theta, DetectionKernel::BetaBinomial, &mut without);
        assert!((with.value - without.value).abs() < 1e-14);
        for (a, b) in with.hessian.iter().zip(&without.hessian) {
            assert!((a - b).abs() < 1e-14);
        }
    }
}
