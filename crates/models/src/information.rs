//! The information a plan holds before any count: generalised least squares with known variances.

use crate::mixed_equations::MixedEquations;

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
    Some(of(
        &MixedEquations::new(w, x, p, years, site_sd, year_sd)?,
        p,
        years,
    ))
}

/// The same of kinds of sites, `numbers` of each (not necessarily whole: a number expected), with the rows of one site of
/// each kind.
pub fn covariance_of_kinds(
    numbers: &[f64],
    w: &[f64],
    x: &[f64],
    p: usize,
    years: usize,
    site_sd: f64,
    year_sd: f64,
) -> Option<Vec<f64>> {
    let system = MixedEquations::of_kinds(numbers, w, x, p, years, site_sd, year_sd)?;
    Some(of(&system, p, years))
}

fn of(system: &MixedEquations, p: usize, years: usize) -> Vec<f64> {
    let columns = (0..p).map(|j| system.column(j));
    columns.flat_map(|c| c[years..].to_vec()).collect()
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

    /// Revisit designs by generalised least squares (Urquhart, Paulsen & Larsen 1998, Ecol. Appl. 8:246; Urquhart &
    /// Kincaid 1999, JABES 4:404): variances year .02, site .5, site by year .05, residual .1, T = 12, slope ln .97,
    /// normal test, two-sided .05. Variance, SE and power from the stated covariance by scipy 1.17.
    #[test]
    fn revisit_designs() {
        let years = 12usize;
        let panels = |panels: &[(usize, &dyn Fn(usize) -> bool)]| {
            let (mut w, mut x) = (Vec::new(), Vec::new());
            for (sites, seen) in panels {
                for _ in 0..*sites {
                    for y in 0..years {
                        w.push(if seen(y) { 1.0 / 0.15 } else { 0.0 });
                        x.extend([1.0, y as f64 - 5.5]);
                    }
                }
            }
            let (site_sd, year_sd) = (0.5f64.sqrt(), 0.02f64.sqrt());
            let each = covariance(&w, &x, 2, years, site_sd, year_sd).unwrap()[3];
            // One kind of site for each panel is the same.
            let numbers: Vec<f64> = panels.iter().map(|p| p.0 as f64).collect();
            let first = |list: &[f64], wide: usize| -> Vec<f64> {
                let starts = panels.iter().scan(0, |at, p| {
                    let start = *at;
                    *at += p.0 * wide;
                    Some(start)
                });
                let rows = starts.flat_map(|start| list[start..start + wide].to_vec());
                rows.collect()
            };
            let (w, x) = (first(&w, years), first(&x, 2 * years));
            let kinds = covariance_of_kinds(&numbers, &w, &x, 2, years, site_sd, year_sd);
            assert!((kinds.unwrap()[3] / each - 1.0).abs() < 1e-12);
            each
        };
        let every_fourth = |start: usize| move |y: usize| y % 4 == start;
        let only = |year: usize| move |y: usize| y == year;
        let stay = |enter: i64| move |y: usize| (enter..enter + 4).contains(&(y as i64));
        let always = |_: usize| true;
        let (f0, f1, f2, f3) = (
            every_fourth(0),
            every_fourth(1),
            every_fourth(2),
            every_fourth(3),
        );
        let new: Vec<_> = (0..years).map(only).collect();
        let with = |n: usize| {
            new.iter()
                .map(move |f| (n, f as &dyn Fn(usize) -> bool))
                .collect::<Vec<_>>()
        };
        let mut split = with(10);
        split.push((10, &always));
        let rotating: Vec<_> = (-3..12).map(stay).collect();
        let rotating: Vec<_> = rotating
            .iter()
            .map(|f| (5, f as &dyn Fn(usize) -> bool))
            .collect();
        for (name, got, variance, power) in [
            (
                "always",
                panels(&[(20, &always)]),
                0.000_192_307_7,
                0.593_486,
            ),
            (
                "augmented",
                panels(&[(10, &always), (10, &f0), (10, &f1), (10, &f2), (10, &f3)]),
                0.000_196_117_3,
                0.585_151,
            ),
            (
                "serially alternating",
                panels(&[(20, &f0), (20, &f1), (20, &f2), (20, &f3)]),
                0.000_208_294_8,
                0.559_841,
            ),
            ("split", panels(&split), 0.000_225_087_4, 0.528_038),
            (
                "never revisit",
                panels(&with(20)),
                0.000_367_132_9,
                0.355_775,
            ),
            ("rotating", panels(&rotating), 0.000_433_775_8, 0.309_729),
        ] {
            assert!(
                (got / variance - 1.0).abs() < 1e-6,
                "{name}: {got} {variance}"
            );
            let delta = -numerics::maths::ln(0.97) / got.sqrt();
            let z = numerics::special::normal::quantile(0.975);
            let p = numerics::special::noncentral_t::power(z, f64::INFINITY, delta, true);
            assert!((p - power).abs() < 1e-6, "{name}: {p} {power}");
        }
        // Never revisiting, T = 5, 10, 20.
        for (years, want) in [
            (5usize, 0.005_25),
            (10, 0.000_636_363_6),
            (20, 0.000_078_947_4),
        ] {
            let (mut w, mut x) = (Vec::new(), Vec::new());
            for site in 0..20 * years {
                for y in 0..years {
                    w.push(if site % years == y { 1.0 / 0.15 } else { 0.0 });
                    x.extend([1.0, y as f64]);
                }
            }
            let got = covariance(&w, &x, 2, years, 0.5f64.sqrt(), 0.02f64.sqrt()).unwrap()[3];
            assert!((got / want - 1.0).abs() < 1e-6, "{years}: {got}");
        }
    }
}
