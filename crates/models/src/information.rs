//! The information a plan holds before any count: generalised least squares with known variances.

use numerics::linalg::cholesky;

/// Covariance of the fixed effects for rows in sites by years, each with weight `w[s * years + y]` (the inverse of
/// the row's own variance on the link scale; 0 when missing), covariates `x` (`p` each), site SD and year SD known.
///
/// It is (X'V^-1 X)^-1 with V = diag(1/w) + site^2 blocks + year^2 blocks: the last corner of the factored system
/// [X Z]'W[X Z] + prior, with sites eliminated first. `None` when singular.
pub fn covariance(
    w: &[f64],
    x: &[f64],
    p: usize,
    years: usize,
    site_sd: f64,
    year_sd: f64,
) -> Option<Vec<f64>> {
    let sites = w.len() / years;
    let q = years + p;
    let mut a = vec![0.0; q * q];
    for j in 0..years {
        a[j * q + j] = 1.0;
    }
    let mut u = vec![0.0; q];
    for s in 0..sites {
        u.fill(0.0);
        let mut total = 0.0;
        for y in 0..years {
            let i = s * years + y;
            let (wi, xi) = (w[i], &x[i * p..(i + 1) * p]);
            total += wi;
            u[y] = site_sd * year_sd * wi;
            a[y * q + y] += year_sd * year_sd * wi;
            for j in 0..p {
                let wx = wi * xi[j];
                u[years + j] += site_sd * wx;
                a[(years + j) * q + y] += year_sd * wx;
                for l in 0..=j {
                    a[(years + j) * q + years + l] += wx * xi[l];
                }
            }
        }
        let t = 1.0 + site_sd * site_sd * total;
        for j in 0..q {
            let f = u[j] / t;
            for l in 0..=j {
                a[j * q + l] -= f * u[l];
            }
        }
    }
    if !cholesky::factor(&mut a, q) {
        return None;
    }
    let mut column = vec![0.0; q];
    let mut out = vec![0.0; p * p];
    for j in 0..p {
        column.fill(0.0);
        column[years + j] = 1.0;
        cholesky::solve(&a, q, &mut column);
        out[j * p..(j + 1) * p].copy_from_slice(&column[years..]);
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Balanced sites and years: var(slope) = (s_year^2 + v/S)/sum(t^2) (Larsen et al. 2001, BioScience 51:1069).
    #[test]
    fn balanced_trend_has_the_textbook_variance() {
        let (sites, years, v) = (7, 6, 0.3);
        let mut x = Vec::new();
        for _ in 0..sites {
            for y in 0..years {
                x.extend([1.0, y as f64 - 2.5]);
            }
        }
        let c = covariance(&vec![1.0 / v; sites * years], &x, 2, years, 0.8, 0.2).unwrap();
        let want = (0.04 + v / 7.0) / 17.5;
        assert!((c[3] / want - 1.0).abs() < 1e-12, "{} {want}", c[3]);
    }
}
