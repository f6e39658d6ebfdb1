//! The numbers of one fit while it runs: parameters, effects and the work space of the elimination.

use super::family::{Family, HIGHEST, Law};
use super::layout::Layout;
use super::leverage::KindLeverage;
use super::rising::{MODERATE, Rising};
use numerics::maths::{ln, slices};

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

    /// The largest absolute value.
    pub fn largest(&self) -> f64 {
        let all = self.cell.iter().chain(&self.site).chain(&self.dense);
        all.fold(0.0, |m, v| m.max(v.abs()))
    }

    pub fn dot(&self, other: &Self) -> f64 {
        use slices::dot;
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
    /// Sum of all counts.
    pub total: f64,
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
    /// 1/(k + mean) (NB2).
    pub inv: Vec<f64>,
    /// Sum of w over each cell, its x-weighted sums (p each), and 1 + scale^2 sum w.
    pub cell_w: Vec<f64>,
    pub cell_wx: Vec<f64>,
    pub cell_t: Vec<f64>,
    pub site_t: Vec<f64>,
    /// What each row's w leaves to its site and year, w/T of its cell (where each cell has one row).
    pub left: Vec<f64>,
    /// Site-by-dense cross terms, q for each site.
    pub cross: Vec<f64>,
    /// Dense system, then its Cholesky factor, then (when asked) its inverse.
    pub dense: Vec<f64>,
    pub inverse: Vec<f64>,
    pub c: Vec<f64>,
    pub h: Vec<f64>,
    pub rho: Vec<f64>,
    /// Work space: a number for each row.
    pub terms: Vec<f64>,
    /// A number for each kind of row, reused.
    pub by_kind: Vec<f64>,
    pub by_kind_d1: Vec<f64>,
    /// C^-1 u of one site, see [`super::leverage`].
    pub qs: Vec<f64>,
    /// Leverages of each kind, see [`super::leverage`].
    pub kind_leverage: Vec<KindLeverage>,
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
            total: 0.0,
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
            inv: vec![0.0; n],
            cell_w: vec![0.0; cells],
            cell_wx: vec![0.0; cells * p],
            cell_t: vec![1.0; cells],
            site_t: vec![1.0; sites],
            left: vec![0.0; n],
            cross: vec![0.0; sites * q],
            dense: vec![0.0; q * q],
            inverse: vec![0.0; q * q],
            c: vec![0.0; n],
            h: vec![0.0; n],
            rho: vec![0.0; n],
            terms: vec![0.0; n],
            qs: vec![0.0; q],
            by_kind: vec![0.0; layout.kinds.len()],
            by_kind_d1: vec![0.0; layout.kinds.len()],
            kind_leverage: vec![KindLeverage::default(); layout.kinds.len()],
        }
    }

    /// The linear predictor of each row at effects `z`.
    pub fn predict(&mut self, layout: &Layout, from_try: bool) {
        let z = if from_try { &self.z_try } else { &self.z };
        let ny = self.years;
        let kinds = &layout.kinds;
        let beta: &[f64] = if self.inner_fixed {
            &z.dense[ny..]
        } else {
            &self.beta
        };
        for (k, base) in self.by_kind.iter_mut().enumerate() {
            let fixed: f64 = kinds.x(k).iter().zip(beta).map(|(x, b)| x * b).sum();
            let year = if ny > 0 { z.dense[kinds.year[k]] } else { 0.0 };
            *base = fixed + self.scales.year * year;
        }
        for (s, z_site) in z.site.iter().enumerate() {
            let base = self.scales.site * z_site;
            let rows = layout.rows_of(s);
            kinds.spread(&self.by_kind, base, rows, &mut self.eta);
        }
        for (eta, o) in self.eta.iter_mut().zip(&layout.offset) {
            *eta += o;
        }
        if self.has_cells {
            for (cell, z) in layout.cells.iter().zip(&z.cell) {
                for eta in &mut self.eta[cell.start..cell.end] {
                    *eta += self.scales.cell * z;
                }
            }
        }
    }

    /// Means and derivatives at the linear predictor.
    pub fn derive(&mut self, layout: &Layout, law: Law) {
        law.means(&self.eta, &mut self.mean);
        let rows = self.y.iter().zip(&layout.trials).zip(&self.mean);
        let out = self.d1.iter_mut().zip(&mut self.w).zip(&mut self.inv);
        for (((d1, w), inv), ((&y, &trials), &m)) in out.zip(rows) {
            let s = law.slopes(y, trials, m);
            *d1 = s.d1;
            *w = s.w;
            *inv = s.inv;
        }
    }

    /// Sum over rows of ln(1 + mean/k) alone (NB2).
    pub fn log_sum(&mut self, law: Law) {
        if law.k > MODERATE {
            self.log_sums(law);
            return;
        }
        let inv_k = 1.0 / law.k;
        for (h, m) in self.h.iter_mut().zip(&self.mean) {
            *h = m * inv_k;
        }
        self.ln_sum = slices::sum_ln_1p(&self.h);
    }

    /// Sum over rows of ln(1 + mean/k), and the same weighted by count + k (NB2).
    pub fn log_sums(&mut self, law: Law) -> f64 {
        let inv_k = 1.0 / law.k;
        for (h, m) in self.h.iter_mut().zip(&self.mean) {
            *h = m * inv_k;
        }
        slices::ln_1p(&mut self.h);
        self.ln_sum = slices::sum(&self.h);
        slices::dot(&self.y, &self.h) + law.k * self.ln_sum
    }

    /// Sum over rows of y eta - trials ln(1 + e^eta), the logarithm as that of the larger of the two chances, all at once.
    fn binomial(&mut self, layout: &Layout) -> f64 {
        for (h, m) in self.h.iter_mut().zip(&self.mean) {
            *h = m.max(1.0 - m);
        }
        slices::ln(&mut self.h);
        let rows = self
            .y
            .iter()
            .zip(&layout.trials)
            .zip(&self.eta)
            .zip(&self.h);
        for (term, (((y, trials), eta), h)) in self.terms.iter_mut().zip(rows) {
            let eta = eta.clamp(-HIGHEST, HIGHEST);
            *term = y * eta - trials * (eta.max(0.0) - h);
        }
        slices::sum(&self.terms)
    }

    /// sum log f (without the part free of eta) - z'z/2 at `z` (or `z_try`), whose predictor must be current.
    pub fn penalised(&mut self, layout: &Layout, law: Law, from_try: bool) -> f64 {
        let sum = if law.family == Family::NegativeBinomial {
            let ln_k = ln(law.k);
            let linear = slices::dot(&self.y, &self.eta) - ln_k * self.total;
            linear - self.log_sums(law)
        } else if law.family == Family::Binomial {
            self.binomial(layout)
        } else {
            let rows = self
                .y
                .iter()
                .zip(&layout.trials)
                .zip(self.eta.iter().zip(&self.mean));
            rows.map(|((&y, &t), (&eta, &m))| law.kernel(y, t, eta, m))
                .sum()
        };
        let z = if from_try { &self.z_try } else { &self.z };
        let square = |v: &[f64]| slices::dot(v, v);
        sum - 0.5 * (square(&z.cell) + square(&z.site) + square(&z.dense[..self.years]))
    }
}
