//! What weight each row has in the generalised least squares estimate: the way to its variance in a world whose
//! covariance is not the one the analysis takes.

use crate::mixed_equations::MixedEquations;

/// The estimate as a linear form in the rows: `p` by rows, row-major; with V the covariance of
/// [`crate::information::covariance`] and the same arguments, H = (X'V^-1 X)^-1 X'V^-1. When the rows' true
/// covariance is S, that of the estimate is H S H'. `None` when singular.
pub fn estimator(
    w: &[f64],
    x: &[f64],
    p: usize,
    years: usize,
    site_sd: f64,
    year_sd: f64,
) -> Option<Vec<f64>> {
    let one = vec![1.0; w.len() / years];
    estimator_of_kinds(&one, w, x, p, years, site_sd, year_sd)
}

/// The same of kinds of sites ([`crate::information::covariance_of_kinds`]): the form in the rows of one site of each.
pub fn estimator_of_kinds(
    numbers: &[f64],
    w: &[f64],
    x: &[f64],
    p: usize,
    years: usize,
    site_sd: f64,
    year_sd: f64,
) -> Option<Vec<f64>> {
    let rows = w.len();
    let system = MixedEquations::of_kinds(numbers, w, x, p, years, site_sd, year_sd)?;
    let mut out = Vec::with_capacity(p * rows);
    for j in 0..p {
        let m = system.column(j);
        for s in 0..rows / years {
            let site = system.site(s, &m);
            for (y, year) in m[..years].iter().enumerate() {
                let i = s * years + y;
                let fixed: f64 = (0..p).map(|l| x[i * p + l] * m[years + l]).sum();
                out.push(w[i] * (site_sd * site + year_sd * year + fixed));
            }
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::information::covariance;

    /// H X = I, and H V H' is the covariance, on uneven weights.
    #[test]
    fn agrees_with_the_covariance() {
        let (sites, years, p) = (5, 4, 3);
        let rows = sites * years;
        let (site_sd, year_sd) = (0.7, 0.3);
        let mut x = Vec::new();
        let mut w = Vec::new();
        for s in 0..sites {
            for y in 0..years {
                let (u, t) = (s as f64 - 2.0, y as f64 - 1.5);
                x.extend([1.0, t, u * t]);
                w.push(if s == 3 && y == 1 {
                    0.0
                } else {
                    1.0 + ((s * 7 + y * 3) % 5) as f64
                });
            }
        }
        let h = estimator(&w, &x, p, years, site_sd, year_sd).unwrap();
        let c = covariance(&w, &x, p, years, site_sd, year_sd).unwrap();
        for j in 0..p {
            for l in 0..p {
                let hx: f64 = (0..rows).map(|i| h[j * rows + i] * x[i * p + l]).sum();
                assert!((hx - f64::from(u8::from(j == l))).abs() < 1e-12, "{hx}");
                let mut v = 0.0;
                for a in 0..rows {
                    for b in 0..rows {
                        let mut cov = 0.0;
                        if a == b && w[a] > 0.0 {
                            cov += 1.0 / w[a];
                        }
                        if a / years == b / years {
                            cov += site_sd * site_sd;
                        }
                        if a % years == b % years {
                            cov += year_sd * year_sd;
                        }
                        v += h[j * rows + a] * cov * h[l * rows + b];
                    }
                }
                assert!((v - c[j * p + l]).abs() < 1e-12, "{v} {}", c[j * p + l]);
            }
        }
    }
}
