//! The numbers of one fit while it runs.

use super::super::family::{Family, Law};
use super::super::rising::Rising;
use super::incidence::Incidence;
use super::prior::square;
use numerics::linalg::sparse::Factor;
use numerics::maths::{ln, slices};

/// Everything one evaluation of the likelihood needs, kept between evaluations.
#[derive(Clone, Debug)]
pub(super) struct State {
    pub y: Vec<f64>,
    pub rising: Rising,
    /// Sum over rows of ln(1 + mean/k) (NB2).
    pub ln_sum: f64,
    /// Fixed effects when they are outer parameters; empty under restricted likelihood.
    pub beta: Vec<f64>,
    /// Standard deviations of the predictor.
    pub sd: Vec<f64>,
    pub k: f64,
    /// Mode of the levels' effects and, under restricted likelihood, the fixed effects; by places.
    pub z: Vec<f64>,
    pub z_try: Vec<f64>,
    pub rhs: Vec<f64>,
    pub eta: Vec<f64>,
    pub mean: Vec<f64>,
    pub d1: Vec<f64>,
    pub w: Vec<f64>,
    /// 1/(k + mean) (NB2).
    pub inv: Vec<f64>,
    pub c: Vec<f64>,
    pub h: Vec<f64>,
    pub rho: Vec<f64>,
    /// H, then its factor.
    pub system: Factor,
    /// H^-1 on the same pattern.
    pub inverse: Factor,
}

impl State {
    pub fn new(incidence: &Incidence) -> Self {
        let n = incidence.rows();
        let size = incidence.pattern.len();
        let beta = if incidence.inner {
            Vec::new()
        } else {
            vec![0.0; incidence.design.columns]
        };
        Self {
            y: vec![0.0; n],
            rising: Rising::default(),
            ln_sum: 0.0,
            beta,
            sd: vec![0.0; incidence.groups],
            k: 1.0,
            z: vec![0.0; size],
            z_try: vec![0.0; size],
            rhs: vec![0.0; size],
            eta: vec![0.0; n],
            mean: vec![0.0; n],
            d1: vec![0.0; n],
            w: vec![0.0; n],
            inv: vec![0.0; n],
            c: vec![0.0; n],
            h: vec![0.0; n],
            rho: vec![0.0; n],
            system: Factor::new(&incidence.pattern),
            inverse: Factor::new(&incidence.pattern),
        }
    }

    /// The linear predictor at `z` (or `z_try`), the means and the derivatives.
    pub fn predict(&mut self, incidence: &Incidence, law: Law, from_try: bool) {
        let z = if from_try { &self.z_try } else { &self.z };
        let beta = if incidence.inner {
            &z[incidence.levels..]
        } else {
            &self.beta
        };
        self.eta.copy_from_slice(&incidence.design.offset);
        incidence.spread(z, &self.sd, beta, &mut self.eta);
        law.means(&self.eta, &mut self.mean);
        let rows = self.y.iter().zip(&incidence.design.trials).zip(&self.mean);
        let out = self.d1.iter_mut().zip(&mut self.w).zip(&mut self.inv);
        for (((d1, w), inv), ((&y, &trials), &m)) in out.zip(rows) {
            let s = law.slopes(y, trials, m);
            *d1 = s.d1;
            *w = s.w;
            *inv = s.inv;
        }
    }

    /// Builds and factors H at the current w. False when it is not positive definite.
    pub fn factor(&mut self, incidence: &Incidence) -> bool {
        let groups = incidence.groups;
        let pairs = groups * (groups + 1) / 2;
        let h = &mut self.system.values;
        h.fill(0.0);
        for (&slot, e) in incidence.prior_slots.iter().zip(&incidence.prior) {
            h[slot] += e.value;
        }
        let mut scaled = vec![0.0; groups];
        for (i, &w) in self.w.iter().enumerate() {
            let weight = &incidence.weight[i * groups..(i + 1) * groups];
            for ((s, sd), weight) in scaled.iter_mut().zip(&self.sd).zip(weight) {
                *s = sd * weight;
            }
            let mut slots = incidence.slots[i * pairs..(i + 1) * pairs].iter();
            for (g, a) in scaled.iter().enumerate() {
                let wa = w * a;
                for (o, &slot) in scaled[..=g].iter().zip(slots.by_ref()) {
                    h[slot] += wa * o;
                }
            }
            if !incidence.inner {
                continue;
            }
            let x = incidence.x(i);
            let fixed = &incidence.fixed[i * groups..(i + 1) * groups];
            for (&(first, stride), a) in fixed.iter().zip(&scaled) {
                let wa = w * a;
                for (j, x) in x.iter().enumerate() {
                    h[first + j * stride] += wa * x;
                }
            }
            let (first, stride) = incidence.corner;
            for (j, x_j) in x.iter().enumerate() {
                let row = &mut h[first + j * stride..];
                for (v, x_l) in row.iter_mut().zip(&x[..=j]) {
                    *v += w * x_j * x_l;
                }
            }
        }
        self.system.factor(&incidence.pattern)
    }

    /// Sum over rows of ln(1 + mean/k), kept, and the same weighted by count + k (NB2).
    pub fn log_sums(&mut self, law: Law) -> f64 {
        let inv_k = 1.0 / law.k;
        for (h, m) in self.h.iter_mut().zip(&self.mean) {
            *h = m * inv_k;
        }
        slices::ln_1p(&mut self.h);
        self.ln_sum = self.h.iter().sum();
        let rows = self.h.iter().zip(&self.y);
        rows.map(|(l, y)| (y + law.k) * l).sum()
    }

    /// sum log f (without the part free of eta) - z'R^-1 z/2 at `z` (or `z_try`), whose predictor must be current.
    pub fn penalised(&mut self, incidence: &Incidence, law: Law, from_try: bool) -> f64 {
        let sum = if law.family == Family::NegativeBinomial {
            let ln_k = ln(law.k);
            let rows = self.y.iter().zip(&self.eta);
            let linear: f64 = rows.map(|(y, e)| y * (e - ln_k)).sum();
            linear - self.log_sums(law)
        } else {
            let rows = self.y.iter().zip(&incidence.design.trials);
            let rows = rows.zip(self.eta.iter().zip(&self.mean));
            rows.map(|((&y, &t), (&eta, &m))| law.kernel(y, t, eta, m))
                .sum()
        };
        let z = if from_try { &self.z_try } else { &self.z };
        sum - 0.5 * square(&incidence.prior, z)
    }
}
