//! The mixed model equations of sites by years with known variances, sites eliminated.
//!
//! With weights w, covariates X and standard effects of sites and years, [X Z]'W[X Z] + prior is assembled site by site;
//! what is left after the sites is a dense system of the years and the fixed effects (Henderson 1975, Biometrics
//! 31:423).

use numerics::linalg::cholesky;

/// The factored system.
pub(crate) struct MixedEquations {
    /// Years, then fixed effects.
    q: usize,
    years: usize,
    /// Cholesky factor of what is left after the sites, q by q.
    factor: Vec<f64>,
    /// Cross terms of each site with the rest, sites by q.
    cross: Vec<f64>,
    /// Each site's own entry.
    own: Vec<f64>,
}

impl MixedEquations {
    /// The system of rows `w[s * years + y]` (the inverse of a row's own variance; 0 when missing) with `p` covariates
    /// each. `None` when singular.
    pub fn new(
        w: &[f64],
        x: &[f64],
        p: usize,
        years: usize,
        site_sd: f64,
        year_sd: f64,
    ) -> Option<Self> {
        Self::of_kinds(
            &vec![1.0; w.len() / years],
            w,
            x,
            p,
            years,
            site_sd,
            year_sd,
        )
    }

    /// The same of kinds of sites, `numbers` of each (not necessarily whole), with the rows of one site of each kind.
    pub fn of_kinds(
        numbers: &[f64],
        w: &[f64],
        x: &[f64],
        p: usize,
        years: usize,
        site_sd: f64,
        year_sd: f64,
    ) -> Option<Self> {
        let sites = numbers.len();
        let q = years + p;
        let mut a = vec![0.0; q * q];
        for j in 0..years {
            a[j * q + j] = 1.0;
        }
        let mut cross = vec![0.0; sites * q];
        let mut own = vec![0.0; sites];
        for (s, (u, own)) in cross.chunks_exact_mut(q).zip(&mut own).enumerate() {
            let (mut total, number) = (0.0, numbers[s]);
            for y in 0..years {
                let i = s * years + y;
                let (wi, xi) = (w[i], &x[i * p..(i + 1) * p]);
                total += wi;
                u[y] = site_sd * year_sd * wi;
                a[y * q + y] += number * (year_sd * year_sd * wi);
                for j in 0..p {
                    let wx = wi * xi[j];
                    u[years + j] += site_sd * wx;
                    a[(years + j) * q + y] += number * (year_sd * wx);
                    for l in 0..=j {
                        a[(years + j) * q + years + l] += number * (wx * xi[l]);
                    }
                }
            }
            *own = 1.0 + site_sd * site_sd * total;
            for j in 0..q {
                let f = number * (u[j] / *own);
                for l in 0..=j {
                    a[j * q + l] -= f * u[l];
                }
            }
        }
        cholesky::factor(&mut a, q).then_some(Self {
            q,
            years,
            factor: a,
            cross,
            own,
        })
    }

    /// Column of the inverse that belongs to fixed effect `j`, its entries of years and fixed effects.
    pub fn column(&self, j: usize) -> Vec<f64> {
        let mut column = vec![0.0; self.q];
        column[self.years + j] = 1.0;
        cholesky::solve(&self.factor, self.q, &mut column);
        column
    }

    /// The entry of site `s` that goes with such a column.
    pub fn site(&self, s: usize, column: &[f64]) -> f64 {
        let u = &self.cross[s * self.q..(s + 1) * self.q];
        -u.iter().zip(column).map(|(u, m)| u * m).sum::<f64>() / self.own[s]
    }
}
