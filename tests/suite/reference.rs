//! Our fits against glmmTMB's on the reference sets (tests/reference/README.md names the calls and tolerances).

use leastcatch_tests::path;
use models::glmm::general::{GeneralDesign, GeneralFitter, Grouping};
use models::glmm::{Design, Family, Fit, Fitter, Layout, Likelihood, Model, Outcome, Terms};
use serde_json::Value;

struct Set {
    design: Design,
    counts: Vec<f64>,
    family: Family,
    names: Vec<&'static str>,
    site_year: bool,
}

fn load(id: &str) -> Set {
    let mut reader = csv::Reader::from_path(path(&format!("reference/data/{id}.csv"))).unwrap();
    let headers = reader.headers().unwrap().clone();
    let rows: Vec<Vec<f64>> = reader
        .records()
        .map(|r| r.unwrap().iter().map(|v| v.parse().unwrap()).collect())
        .collect();
    let col = |name: &str| -> Option<Vec<f64>> {
        let j = headers.iter().position(|h| h == name)?;
        Some(rows.iter().map(|r| r[j]).collect())
    };
    let (site, year) = (col("site").unwrap(), col("year").unwrap());
    let mid = 0.5
        * (year.iter().fold(f64::MIN, |a, &b| a.max(b))
            + year.iter().fold(f64::MAX, |a, &b| a.min(b)));
    let (names, site_year): (Vec<&str>, bool) = match id {
        "c" => (vec!["(Intercept)", "tc", "w", "w2"], true),
        "d" => (vec!["(Intercept)", "x", "x2", "tc", "x:tc"], false),
        "e" => (vec!["(Intercept)", "x", "tc"], false),
        _ => (vec!["(Intercept)", "tc"], false),
    };
    let (pos, week) = (col("pos"), col("week").unwrap());
    let mut x = Vec::new();
    for i in 0..rows.len() {
        for name in &names {
            let tc = year[i] - mid;
            let w = week[i] - 2.5;
            let p = pos.as_ref().map_or(0.0, |p| (p[i] - 500.0) / 250.0);
            x.push(match *name {
                "(Intercept)" => 1.0,
                "tc" => tc,
                "w" => w,
                "w2" => w * w,
                "x" => p,
                "x2" => p * p,
                _ => p * tc,
            });
        }
    }
    let index = |v: Vec<f64>| v.into_iter().map(|v| v as usize - 1).collect::<Vec<_>>();
    let offset = col("exposure")
        .unwrap()
        .iter()
        .map(|e| if id == "c" { e.ln() } else { 0.0 })
        .collect();
    let family = match id {
        "a" | "d" | "g" => Family::Poisson,
        "e" => Family::Binomial,
        _ => Family::NegativeBinomial,
    };
    let design = Design {
        site: index(site),
        year: index(year),
        x,
        columns: names.len(),
        offset,
        trials: col("visits").unwrap_or_default(),
    };
    Set {
        design,
        counts: col("count").unwrap(),
        family,
        names,
        site_year,
    }
}

fn fit(set: &Set, likelihood: Likelihood) -> Fit {
    let terms = Terms {
        site: true,
        year: true,
        site_year: set.site_year,
    };
    let model = Model {
        family: set.family,
        terms,
        likelihood,
    };
    let mut fitter = Fitter::new(Layout::new(&set.design).unwrap(), model);
    let fit = fitter.fit(&set.counts, None).unwrap();
    same_by_the_general_engine(set, model, &fit);
    fit
}

fn same_by_the_general_engine(set: &Set, model: Model, fast: &Fit) {
    let d = &set.design;
    let term = |level: Vec<usize>| Grouping {
        level,
        ..Grouping::default()
    };
    let mut groupings = vec![term(d.site.clone()), term(d.year.clone())];
    if set.site_year {
        let cells = d.site.iter().zip(&d.year).map(|(s, y)| s * 1000 + y);
        groupings.push(term(cells.collect()));
    }
    let design = GeneralDesign {
        x: d.x.clone(),
        columns: d.columns,
        offset: d.offset.clone(),
        trials: d.trials.clone(),
        groupings,
    };
    let mut fitter = GeneralFitter::new(&design, model.family, model.likelihood).unwrap();
    let general = fitter.fit(&set.counts, None).unwrap();
    assert_eq!(general.outcome, fast.outcome);
    assert!((general.log_likelihood - fast.log_likelihood).abs() < 1e-9);
    for j in 0..d.columns {
        assert!((general.beta[j] - fast.beta[j]).abs() < 1e-4 * fast.se(j));
        assert!((general.se(j) / fast.se(j) - 1.0).abs() < 1e-4);
    }
}

fn json(file: &str) -> Value {
    serde_json::from_str(&std::fs::read_to_string(path(file)).unwrap()).unwrap()
}

#[track_caller]
fn near(what: &str, got: f64, want: &Value, tolerance: f64) {
    let want = want
        .as_f64()
        .unwrap_or_else(|| panic!("{what}: no reference value"));
    let off = (got - want).abs() / want.abs().max(1e-300);
    assert!(
        off < tolerance,
        "{what}: {got} against {want}, off by {off:.2e}"
    );
}

fn check(
    id: &str,
    suffix: &str,
    likelihood: Likelihood,
    singular: &[&str],
    ll_tol: f64,
    est: f64,
    se: f64,
) {
    let set = load(id);
    let fit = fit(&set, likelihood);
    let want = json(&format!("reference/fits/{id}_{suffix}.json"));
    let ll = want["logLik"].as_f64().unwrap();
    assert!(
        (fit.log_likelihood - ll).abs() < ll_tol,
        "{id}: logLik {} against {ll}",
        fit.log_likelihood
    );
    let outcome = if singular.is_empty() {
        Outcome::Converged
    } else {
        Outcome::Singular
    };
    assert_eq!(fit.outcome, outcome, "{id}");
    for (j, name) in set.names.iter().enumerate() {
        near(
            &format!("{id} {name}"),
            fit.beta[j],
            &want["fixed"][name],
            est,
        );
        near(&format!("{id} {name} SE"), fit.se(j), &want["se"][name], se);
    }
    for (name, sd) in [
        ("site", fit.sd.site),
        ("year", fit.sd.year),
        ("site:year", fit.sd.site_year),
    ] {
        if singular.contains(&name) {
            assert!(sd < 1e-3, "{id} {name}: {sd}");
        } else if name != "site:year" || set.site_year {
            near(&format!("{id} {name} SD"), sd, &want["sd"][name], est);
        }
    }
    if set.family == Family::NegativeBinomial {
        near(&format!("{id} theta"), fit.k, &want["theta"], est);
        if likelihood == Likelihood::Maximum && singular.is_empty() {
            near(
                &format!("{id} log theta SE"),
                fit.ln_k_se,
                &want["log_theta_se"],
                se,
            );
        }
    }
    if likelihood == Likelihood::Maximum && singular.is_empty() {
        near(
            &format!("{id} log site SD SE"),
            fit.sd_se.site / fit.sd.site,
            &want["log_sd_se"]["site"],
            se,
        );
        near(
            &format!("{id} log year SD SE"),
            fit.sd_se.year / fit.sd.year,
            &want["log_sd_se"]["year"],
            se,
        );
    }
}

#[test]
fn maximum_likelihood() {
    for id in ["a", "b", "c", "d", "e", "f2"] {
        check(id, "glmmTMB", Likelihood::Maximum, &[], 1e-6, 1e-4, 1e-3);
    }
}

/// f and g: a standard deviation is 0 at the optimum. glmmTMB's own likelihood stands at its last tiny SD.
#[test]
fn singular_maximum_likelihood() {
    check(
        "f",
        "glmmTMB",
        Likelihood::Maximum,
        &["site", "year"],
        1e-6,
        1e-4,
        1e-3,
    );
    check(
        "g",
        "glmmTMB",
        Likelihood::Maximum,
        &["year"],
        1e-6,
        1e-4,
        1e-3,
    );
}

/// glmmTMB's restricted fits are not polished (gradient up to 1e-4), so estimates are compared at 1e-3.
#[test]
fn restricted_likelihood() {
    for id in ["a", "b", "c", "d", "e", "f2"] {
        check(id, "reml", Likelihood::Restricted, &[], 1e-6, 1e-3, 1e-3);
    }
}

/// Set d: the optimum's speed is -250 b_xt / (2 b_x2) m a year; 9.341 with delta SE 1.341 by glmmTMB's covariance.
#[test]
fn range_shift_of_set_d() {
    let fit = fit(&load("d"), Likelihood::Maximum);
    let cov = |i: usize, j: usize| fit.covariance[i * 5 + j];
    let (shift, se) =
        models::wald::ratio_minus_half(fit.beta[4], fit.beta[2], cov(4, 4), cov(2, 2), cov(2, 4));
    let want = json("reference/fits/d_glmmTMB.json");
    near(
        "shift",
        250.0 * shift,
        &want["derived"]["shift_m_per_year"],
        1e-4,
    );
    near("shift SE", 250.0 * se, &want["derived"]["shift_se"], 1e-3);
}
