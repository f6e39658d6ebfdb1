//! Our fits against glmmTMB's on the reference sets (tests/reference/README.md names the calls and tolerances).

use leastcatch_tests::path;
use models::glmm::general::{GeneralDesign, GeneralFitter, Grouping};
use models::glmm::{Design, Family, Fit, Fitter, Layout, Likelihood, Model, Outcome, Terms};
use models::ratio::{self, Ratio};
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

/// The ratio of a set's model with its interval, at 95 %, in metres a year; and twice the log likelihood that the models
/// with the two ends as their ratio lack, fitted by the general engine on columns made here.
fn shift(id: &str, ratio: Ratio) -> (ratio::RatioFit, [f64; 2]) {
    let set = load(id);
    let terms = Terms {
        site: true,
        year: true,
        site_year: false,
    };
    let got = ratio::mixed_model(&set.design, set.family, terms, &set.counts, ratio, 0.95);
    let got = got.unwrap().unwrap();
    let best = fit(&set, Likelihood::Maximum).log_likelihood;
    let lost = [got.profile.low, got.profile.high].map(|end| {
        let d = &set.design;
        let mut other = load(id);
        other.design.columns -= 1;
        other.design.x.clear();
        for row in d.x.chunks_exact(d.columns) {
            let x = row[1];
            match id {
                // (x - end t)^2 without its t^2 term; t.
                "d" => {
                    let t = row[3];
                    other
                        .design
                        .x
                        .extend([1.0, x, x * x - 2.0 * end * x * t, t]);
                }
                _ => other.design.x.extend([1.0, x - end * row[2]]),
            }
        }
        2.0 * (best - fit(&other, Likelihood::Maximum).log_likelihood)
    });
    (got, lost)
}

/// Quantile of chi-square with 1 degree of freedom at 95 %.
const CHI_SQUARE_95: f64 = 3.841_458_820_694_124;

/// Set d: the optimum moves 9.341 m a year, SE 1.341 by the delta method from glmmTMB's covariance, to three decimals;
/// its profile interval loses what it must at both ends.
#[test]
fn profile_of_the_optimum_of_set_d() {
    let (got, lost) = shift("d", Ratio::of_optimum(2, 4));
    assert_eq!(format!("{:.3}", 250.0 * got.delta.value), "9.341");
    assert_eq!(format!("{:.3}", 250.0 * got.delta.se), "1.341");
    for lost in lost {
        assert!((lost - CHI_SQUARE_95).abs() < 1e-6, "{lost}");
    }
    // A ratio of normal numbers whose divisor is 17 of its standard errors from 0: near the Wald interval, a little
    // farther from 0 at both ends.
    let (low, high) = (250.0 * got.profile.low, 250.0 * got.profile.high);
    let off = [
        low - (9.341 - 1.96 * 1.3405),
        high - (9.341 + 1.96 * 1.3405),
    ];
    assert!(off.iter().all(|o| (0.0..0.15).contains(o)), "{low} {high}");
}

/// Set e: its edge is where detection has an even chance; it moves by -250 b_t/b_x m a year, standard error by the delta
/// method from glmmTMB's covariance; the likelihood ratio against no move is glmmTMB's with and without the year.
#[test]
fn edge_shift_of_set_e() {
    let (got, lost) = shift("e", Ratio::of_edge(1, 2));
    let want = json("reference/fits/e_glmmTMB.json");
    let number = |key: &str| want["fixed"][key].as_f64().unwrap();
    let v = |i: usize, j: usize| want["vcov_fixed"][i][j].as_f64().unwrap();
    let (b, c) = (number("x"), number("tc"));
    let value = -c / b;
    let se = (v(2, 2) - 2.0 * (c / b) * v(1, 2) + c * c / (b * b) * v(1, 1)).sqrt() / b.abs();
    assert!((250.0 * value - 23.506).abs() < 0.001);
    assert!((250.0 * (got.delta.value - value)).abs() < 0.002);
    assert!((got.delta.se / se - 1.0).abs() < 1e-3);
    let ll = |key: &str| want[key].as_f64().unwrap();
    let gain = 2.0 * (ll("logLik") - ll("logLik_without_tc"));
    assert!((got.root * got.root - gain).abs() < 1e-5, "{}", got.root);
    for lost in lost {
        assert!((lost - CHI_SQUARE_95).abs() < 1e-6, "{lost}");
    }
    // No move is within the interval, since its gain is below the quantile; it is longer upwards, where b_x is smaller.
    let (low, high) = (250.0 * got.profile.low, 250.0 * got.profile.high);
    assert!(low < 0.0 && gain < CHI_SQUARE_95);
    assert!(high - 23.506 > 23.506 - low, "{low} {high}");
}
