//! The fast engine and the general one give the same fit wherever both can.

use models::glmm::general::{GeneralDesign, GeneralFit, GeneralFitter, Grouping};
use models::glmm::{
    Design, Family, Fit, Fitter, Layout, Likelihood, MISSING, Model, Outcome, Terms,
};
use numerics::maths::{exp, ln};

/// Sites by years with `rows` counts in each, an intercept, a trend and a covariate of the row; some rows left out if
/// `ragged`.
fn design(sites: usize, years: usize, rows: usize, ragged: bool) -> Design {
    let mut d = Design {
        columns: 3,
        ..Design::default()
    };
    for (s, y, r) in
        (0..sites * years * rows).map(|i| (i / rows / years, i / rows % years, i % rows))
    {
        if ragged && (3 * s + 5 * y + r) % 7 == 2 {
            continue;
        }
        d.site.push(s);
        d.year.push(y);
        d.offset.push(0.2 * ((s + y) % 3) as f64);
        d.trials.push(25.0);
        let within = ((s * 5 + y * 3 + r * 7) % 9) as f64 - 4.0;
        d.x.extend([1.0, y as f64 - 0.5 * (years as f64 - 1.0), 0.25 * within]);
    }
    d
}

/// Invented counts with site, year and site-year effects, below the number of trials.
fn counts(d: &Design, mean: f64) -> Vec<f64> {
    let mut x: u64 = 77;
    let mut wave = |scale: f64| {
        x = x
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        scale * ((x >> 11) as f64 / (1u64 << 53) as f64 - 0.5)
    };
    let sites: Vec<f64> = (0..64).map(|_| wave(3.0)).collect();
    let years: Vec<f64> = (0..64).map(|_| wave(1.2)).collect();
    let cells: Vec<f64> = (0..4096).map(|_| wave(1.8)).collect();
    let rows = d.site.iter().zip(&d.year).enumerate();
    rows.map(|(i, (&s, &y))| {
        let eta = d.offset[i] + sites[s] + years[y] + cells[s * 64 + y] + 0.1 * d.x[3 * i + 2];
        (mean * exp(eta + wave(2.5))).round().min(25.0)
    })
    .collect()
}

fn general(d: &Design, terms: Terms) -> GeneralDesign {
    let grouping = |name: &str, level: Vec<usize>| Grouping {
        name: name.to_string(),
        level,
        ..Grouping::default()
    };
    let mut groupings = Vec::new();
    if terms.site {
        groupings.push(grouping("site", d.site.clone()));
    }
    if terms.year {
        groupings.push(grouping("year", d.year.clone()));
    }
    if terms.site_year {
        let cells = d.site.iter().zip(&d.year).map(|(s, y)| s * 1000 + y);
        groupings.push(grouping("site-year", cells.collect()));
    }
    GeneralDesign {
        x: d.x.clone(),
        columns: d.columns,
        offset: d.offset.clone(),
        trials: d.trials.clone(),
        groupings,
    }
}

fn both(d: &Design, counts: &[f64], model: Model) -> (Fit, GeneralFit) {
    let mut fast = Fitter::new(Layout::new(d).unwrap(), model);
    let general = general(d, model.terms);
    let mut slow = GeneralFitter::new(&general, model.family, model.likelihood).unwrap();
    fast.set_tolerance(1e-15);
    slow.set_tolerance(1e-15);
    (
        fast.fit(counts, None).unwrap(),
        slow.fit(counts, None).unwrap(),
    )
}

#[track_caller]
fn near(what: &str, a: f64, b: f64, tolerance: f64) {
    let off = (a - b).abs() / (1.0 + a.abs());
    assert!(
        off < tolerance || (a.is_nan() && b.is_nan()),
        "{what}: {a} {b}"
    );
}

fn compare(what: &str, fast: &Fit, slow: &GeneralFit, terms: Terms) {
    assert_eq!(fast.outcome, slow.outcome, "{what}");
    if !fast.usable() {
        return;
    }
    near(what, fast.log_likelihood, slow.log_likelihood, 1e-11);
    let p = fast.beta.len();
    for j in 0..p {
        near(
            &format!("{what}: beta {j}"),
            fast.beta[j],
            slow.beta[j],
            1e-6,
        );
    }
    for (a, b) in fast.covariance.iter().zip(&slow.covariance) {
        near(&format!("{what}: covariance"), *a, *b, 1e-5);
    }
    let mut next = 0;
    for (on, sd, se) in [
        (terms.site, fast.sd.site, fast.sd_se.site),
        (terms.year, fast.sd.year, fast.sd_se.year),
        (terms.site_year, fast.sd.site_year, fast.sd_se.site_year),
    ] {
        if on {
            near(&format!("{what}: SD {next}"), sd, slow.sd[next], 1e-5);
            near(
                &format!("{what}: SE of SD {next}"),
                se,
                slow.sd_se[next],
                1e-4,
            );
            next += 1;
        }
    }
    if fast.k.is_finite() {
        near(&format!("{what}: ln k"), ln(fast.k), ln(slow.k), 1e-5);
        near(
            &format!("{what}: SE of ln k"),
            fast.ln_k_se,
            slow.ln_k_se,
            1e-4,
        );
    } else {
        assert!(slow.k.is_infinite(), "{what}");
    }
    let df = |c: &[f64]| {
        fast.conditional
            .as_ref()
            .and_then(|f| f.degrees_of_freedom(c))
    };
    for contrast in [[0.0, 1.0, 0.0], [1.0, 0.5, -0.3]] {
        match (df(&contrast), slow.satterthwaite(&contrast)) {
            (None, None) => {}
            (Some(a), Some(b)) if a.is_finite() => {
                near(&format!("{what}: df"), 1.0 / a, 1.0 / b, 1e-4)
            }
            (a, b) => assert_eq!(a, b, "{what}: df"),
        }
    }
}

#[test]
fn the_same_fit_of_every_model_and_layout() {
    let mut converged = 0;
    for (rows, ragged, mean) in [
        (1, false, 4.0),
        (1, true, 9.0),
        (3, false, 2.0),
        (3, true, 5.0),
    ] {
        let d = design(9, 6, rows, ragged);
        let y = counts(&d, mean);
        for family in [Family::Poisson, Family::NegativeBinomial, Family::Binomial] {
            for likelihood in [Likelihood::Maximum, Likelihood::Restricted] {
                for bits in 0..8 {
                    let terms = Terms {
                        site: bits & 1 != 0,
                        year: bits & 2 != 0,
                        site_year: bits & 4 != 0,
                    };
                    let model = Model {
                        family,
                        terms,
                        likelihood,
                    };
                    let (fast, slow) = both(&d, &y, model);
                    compare(&format!("{rows} {ragged} {model:?}"), &fast, &slow, terms);
                    converged += usize::from(fast.outcome == Outcome::Converged);
                }
            }
        }
    }
    assert!(converged > 150, "{converged}");
}

/// Rows taken out by their offset are as rows that were never there.
#[test]
fn missing_rows_say_nothing() {
    let d = design(8, 6, 2, false);
    let mut y = counts(&d, 5.0);
    let gone = |i: usize| i % 9 == 4;
    let terms = Terms {
        site: true,
        year: true,
        site_year: true,
    };
    let whole = general(&d, terms);
    let mut less = whole.clone();
    let keep: Vec<usize> = (0..y.len()).filter(|&i| !gone(i)).collect();
    less.x = keep
        .iter()
        .flat_map(|&i| whole.x[3 * i..3 * i + 3].to_vec())
        .collect();
    less.offset = keep.iter().map(|&i| whole.offset[i]).collect();
    less.trials = keep.iter().map(|&i| whole.trials[i]).collect();
    for g in &mut less.groupings {
        g.level = keep.iter().map(|&i| g.level[i]).collect();
    }
    let mut offset = whole.offset.clone();
    for i in (0..y.len()).filter(|&i| gone(i)) {
        y[i] = 0.0;
        offset[i] = MISSING;
    }
    let few: Vec<f64> = keep.iter().map(|&i| y[i]).collect();
    for likelihood in [Likelihood::Maximum, Likelihood::Restricted] {
        let family = Family::NegativeBinomial;
        let mut fitter = GeneralFitter::new(&whole, family, likelihood).unwrap();
        fitter.set_offset(&offset).unwrap();
        let out = fitter.fit(&y, None).unwrap();
        let without = GeneralFitter::new(&less, family, likelihood)
            .unwrap()
            .fit(&few, None)
            .unwrap();
        assert_eq!(out.outcome, Outcome::Converged);
        near(
            "log likelihood",
            out.log_likelihood,
            without.log_likelihood,
            1e-11,
        );
        near("trend", out.beta[1], without.beta[1], 1e-7);
        near("its error", out.se(1), without.se(1), 1e-6);
    }
}
