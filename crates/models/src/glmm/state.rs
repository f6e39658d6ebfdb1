//! The numbers of one fit while it runs: parameters, effects and the work space of the elimination.

use super::family::{Family, Law};
use super::layout::Layout;
use super::rising::Rising;
use numerics::maths::{ln, ln_1p};

/// Standard deviations of the three terms; 0 where the term is absent.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Scales {
    pub site: f64,
    pub year: f64,
    pub cell: f64,
}

/// A vector in the space of the integrated effects: site-years, sites, and the dense part (years, then fixed
/// effects under restricted likelihood).
#[derive(Clone, Debug, Default)]
pub(super) struct Effects {
    pub cell: Vec<f64>,
    pub site: Vec<f64>,
    pub dense: Vec<f64>,
}

impl Effects {
    pub fn zeros(cells: usize, sites: usize, dense: usize) -> Self {
        Self {
            cell: vec![0.0; cells],
            site: vec![0.0; sites],
            dense: vec![0.0; dense],
        }
    }

    pub fn clear(&mut self) {
        self.cell.fill(0.0);
        self.site.fill(0.0);
        self.dense.fill(0.0);
    }

    pub fn copy_from(&mut self, other: &Self) {
        self.cell.copy_from_slice(&other.cell);
        self.site.copy_from_slice(&other.site);
        self.dense.copy_from_slice(&other.dense);
    }

    pub fn add(&mut self, scale: f64, other: &Self) {
        let add = |a: &mut [f64], b: &[f64]| {
            for (a, b) in a.iter_mut().zip(b) {
                *a += scale * b;
            }
        };
        add(&mut self.cell, &other.cell);
        add(&mut self.site, &other.site);
        add(&mut self.dense, &other.dense);
    }

    pub fn dot(&self, other: &Self) -> f64 {
        let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
        dot(&self.cell, &other.cell) + dot(&self.site, &other.site) + dot(&self.dense, &other.dense)
    }
}

/// Everything one evaluation of the likelihood needs, kept between evaluations.
#[derive(Clone, Debug)]
pub(super) struct State {
    /// Fixed effects are part of the dense system (restricted likelihood).
    pub inner_fixed: bool,
    /// The site-by-year term is in the model.
    pub has_cells: bool,
    /// Years in the dense system (0 when the year term is absent).
    pub years: usize,
    /// Size of the dense system.
    pub q: usize,
    pub y: Vec<f64>,
    /// Counts as the rising factorials of k see them.
    pub rising: Rising,
    /// Sum over rows of ln(1 + mean/k) at the mode (NB2).
    pub ln_sum: f64,
    /// Fixed effects when they are outer parameters.
    pub beta: Vec<f64>,
    pub scales: Scales,
    pub k: f64,
    /// Mode of the integrated effects.
    pub z: Effects,
    pub z_try: Effects,
    pub rhs: Effects,
    pub eta: Vec<f64>,
    pub mean: Vec<f64>,
    pub d1: Vec<f64>,
    pub w: Vec<f64>,
    /// Sum of w over each cell, its x-weighted sums (p each), and 1 + scale^2 sum w.
    pub cell_w: Vec<f64>,
    pub cell_wx: Vec<f64>,
    pub cell_t: Vec<f64>,
    pub site_t: Vec<f64>,
    /// Site-by-dense cross terms, q for each site.
    pub cross: Vec<f64>,
    /// Dense system, then its Cholesky factor, then (when asked) its inverse.
    pub dense: Vec<f64>,
    pub inverse: Vec<f64>,
    pub c: Vec<f64>,
    pub h: Vec<f64>,
}

impl State {
    pub fn new(layout: &Layout, inner_fixed: bool, has_years: bool, has_cells: bool) -> Self {
        let (n, p) = (layout.rows(), layout.columns);
        let years = if has_years { layout.years } else { 0 };
        let q = years + if inner_fixed { p } else { 0 };
        let (cells, sites) = (layout.cells.len(), layout.sites.len());
        let effects = Effects::zeros(cells, sites, q);
        Self {
            inner_fixed,
            has_cells,
            years,
            q,
            y: Vec::with_capacity(n),
            rising: Rising::default(),
            ln_sum: 0.0,
            beta: vec![0.0; p],
            scales: Scales::default(),
            k: 1.0,
            z: effects.clone(),
            z_try: effects.clone(),
            rhs: effects,
            eta: vec![0.0; n],
            mean: vec![0.0; n],
            d1: vec![0.0; n],
            w: vec![0.0; n],
            cell_w: vec![0.0; cells],
            cell_wx: vec![0.0; cells * p],
            cell_t: vec![1.0; cells],
            site_t: vec![1.0; sites],
            cross: vec![0.0; sites * q],
            dense: vec![0.0; q * q],
            inverse: vec![0.0; q * q],
            c: vec![0.0; n],
            h: vec![0.0; n],
        }
    }

    /// The linear predictor of each row at effects `z`.
    pub fn predict(&mut self, layout: &Layout, from_try: bool) {
        let z = if from_try { &self.z_try } else { &self.z };
        let p = layout.columns;
        let beta: &[f64] = if self.inner_fixed {
            &z.dense[self.years..]
        } else {
            &self.beta
        };
        for (ci, cell) in layout.cells.iter().enumerate() {
            let mut base = self.scales.site * z.site[cell.site];
            if self.has_cells {
                base += self.scales.cell * z.cell[ci];
            }
            if self.years > 0 {
                base += self.scales.year * z.dense[cell.year];
            }
            for i in cell.start..cell.end {
                let x = &layout.x[i * p..(i + 1) * p];
                let fixed: f64 = x.iter().zip(beta).map(|(x, b)| x * b).sum();
                self.eta[i] = layout.offset[i] + base + fixed;
            }
        }
    }

    /// Means and derivatives at the linear predictor.
    pub fn derive(&mut self, layout: &Layout, law: Law) {
        for i in 0..self.eta.len() {
            let m = law.mean(self.eta[i]);
            let s = law.slopes(self.y[i], layout.trials[i], m);
            self.mean[i] = m;
            self.d1[i] = s.d1;
            self.w[i] = s.w;
        }
    }

    /// sum log f (without the part free of eta) - z'z/2 at `z` (or `z_try`), whose predictor must be current.
    pub fn penalised(&self, layout: &Layout, law: Law, from_try: bool) -> f64 {
        let z = if from_try { &self.z_try } else { &self.z };
        let mut sum = 0.0;
        for i in 0..self.eta.len() {
            sum += law.kernel(self.y[i], layout.trials[i], self.eta[i], self.mean[i]);
        }
        let square = |v: &[f64]| v.iter().map(|a| a * a).sum::<f64>();
        sum - 0.5 * (square(&z.cell) + square(&z.site) + square(&z.dense[..self.years]))
    }

    /// As [`State::penalised`] at the mode, keeping the sum of ln(1 + mean/k) that the gradient wants.
    pub fn penalised_at_mode(&mut self, layout: &Layout, law: Law) -> f64 {
        if law.family != Family::NegativeBinomial {
            return self.penalised(layout, law, false);
        }
        let (mut sum, mut logs) = (0.0, 0.0);
        let (ln_k, inv_k) = (ln(law.k), 1.0 / law.k);
        for i in 0..self.eta.len() {
            let l = ln_1p(self.mean[i] * inv_k);
            logs += l;
            sum += self.y[i] * (self.eta[i] - ln_k) - (self.y[i] + law.k) * l;
        }
        self.ln_sum = logs;
        let square = |v: &[f64]| v.iter().map(|a| a * a).sum::<f64>();
        sum - 0.5
            * (square(&self.z.cell) + square(&self.z.site) + square(&self.z.dense[..self.years]))
    }
}
