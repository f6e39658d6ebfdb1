//! The general model against glmmTMB: open data, and invented data with slopes, visits, shared weather and given
//! correlations (tests/reference/README.md names the sources, the scripts and the tolerances).

use leastcatch_tests::path;
use models::glmm::general::{
    GeneralDesign, GeneralFit, GeneralFitter, Grouping, ar1_loadings, exponential_loadings,
};
use models::glmm::{Family, Likelihood, Outcome};
use numerics::maths::ln;
use serde_json::Value;
use std::collections::BTreeSet;

/// A table by its columns' names.
struct Table {
    names: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Table {
    fn read(file: &str) -> Self {
        let mut reader = csv::Reader::from_path(path(&format!("reference/{file}.csv"))).unwrap();
        let names = reader
            .headers()
            .unwrap()
            .iter()
            .map(str::to_string)
            .collect();
        let records = reader.records().map(|r| r.unwrap());
        let rows = records.map(|r| r.iter().map(str::to_string).collect());
        Self {
            names,
            rows: rows.collect(),
        }
    }

    fn texts(&self, name: &str) -> Vec<&str> {
        let j = self.names.iter().position(|n| n == name).unwrap();
        self.rows.iter().map(|r| r[j].as_str()).collect()
    }

    fn numbers(&self, name: &str) -> Vec<f64> {
        let texts = self.texts(name);
        texts.iter().map(|t| t.parse().unwrap()).collect()
    }

    /// Levels of the combinations of some columns.
    fn grouping(&self, columns: &[&str]) -> Grouping {
        let texts: Vec<Vec<&str>> = columns.iter().map(|c| self.texts(c)).collect();
        let key = |i: usize| -> Vec<&str> { texts.iter().map(|t| t[i]).collect() };
        let known: BTreeSet<Vec<&str>> = (0..self.rows.len()).map(key).collect();
        let known: Vec<Vec<&str>> = known.into_iter().collect();
        let level = (0..self.rows.len()).map(|i| known.binary_search(&key(i)).unwrap());
        Grouping {
            name: columns.join(":"),
            level: level.collect(),
            ..Grouping::default()
        }
    }

    /// An intercept and, if a middle year is given, the years from there.
    fn design(&self, middle: Option<f64>, groupings: Vec<Grouping>) -> GeneralDesign {
        let n = self.rows.len();
        let x = match middle {
            None => vec![1.0; n],
            Some(m) => self
                .numbers("year")
                .iter()
                .flat_map(|y| [1.0, y - m])
                .collect(),
        };
        GeneralDesign {
            columns: x.len() / n,
            x,
            offset: vec![0.0; n],
            trials: Vec::new(),
            groupings,
        }
    }
}

#[track_caller]
fn near(what: &str, got: f64, want: &Value, tolerance: f64) {
    let want = want
        .as_f64()
        .unwrap_or_else(|| panic!("{what}: no reference value"));
    let off = (got - want).abs() / want.abs();
    assert!(
        off < tolerance,
        "{what}: {got} against {want}, off by {off:.2e}"
    );
}

struct Case<'a> {
    /// File of the fits, without its ending.
    fits: &'a str,
    table: Table,
    family: Family,
    design: GeneralDesign,
    /// Names of fixed effects and random terms in the fits.
    fixed: &'a [&'a str],
    sds: &'a [&'a str],
}

fn check_one(case: &Case, likelihood: Likelihood, suffix: &str) -> GeneralFit {
    let file = format!("reference/{}_{suffix}.json", case.fits);
    let want: Value = serde_json::from_str(&std::fs::read_to_string(path(&file)).unwrap()).unwrap();
    let counts = case.table.numbers("count");
    let mut fitter = GeneralFitter::new(&case.design, case.family, likelihood).unwrap();
    let fit = fitter.fit(&counts, None).unwrap();
    let what = |name: &str| format!("{} {suffix} {name}", case.fits);
    let ll = want["logLik"].as_f64().unwrap();
    let off = (fit.log_likelihood - ll).abs();
    assert!(
        off < 1e-6,
        "{}: {} against {ll}",
        what("logLik"),
        fit.log_likelihood
    );
    for (j, name) in case.fixed.iter().enumerate() {
        near(&what(name), fit.beta[j], &want["fixed"][name], 1e-4);
        near(
            &what(&format!("{name} SE")),
            fit.se(j),
            &want["se"][name],
            1e-3,
        );
    }
    let mut singular = false;
    for (g, name) in case.sds.iter().enumerate() {
        if want["sd"][name] == 0 {
            assert!(fit.sd[g] < 1e-3, "{}: {}", what(name), fit.sd[g]);
            singular = true;
            continue;
        }
        near(&what(name), fit.sd[g], &want["sd"][name], 1e-4);
        let relative = fit.sd_se[g] / fit.sd[g];
        near(
            &what(&format!("log {name} SE")),
            relative,
            &want["log_sd_se"][name],
            1e-3,
        );
    }
    if case.family == Family::NegativeBinomial {
        near(&what("theta"), fit.k, &want["theta"], 1e-4);
        near(
            &what("log theta SE"),
            fit.ln_k_se,
            &want["log_theta_se"],
            1e-3,
        );
    }
    let outcome = if singular {
        Outcome::Singular
    } else {
        Outcome::Converged
    };
    assert_eq!(fit.outcome, outcome, "{}", case.fits);
    fit
}

fn check(case: &Case) -> [GeneralFit; 2] {
    [
        check_one(case, Likelihood::Maximum, "ml"),
        check_one(case, Likelihood::Restricted, "reml"),
    ]
}

fn open(fits: &str, file: &str, groups: &[&str], names: &[&str], offset: Option<&str>) {
    let table = Table::read(&format!("open/{file}"));
    let groupings = groups.iter().map(|g| table.grouping(&[g])).collect();
    let mut design = table.design(None, groupings);
    if let Some(name) = offset {
        design.offset = table.numbers(name).iter().map(|&v| ln(v)).collect();
    }
    check(&Case {
        fits: &format!("open/{fits}"),
        table,
        family: Family::NegativeBinomial,
        design,
        fixed: &["(Intercept)"],
        sds: names,
    });
}

/// Ticks on grouse chicks: broods are nested in sites and years (Elston et al. 2001).
#[test]
fn ticks_with_broods() {
    let groups = ["site", "year", "brood"];
    open("ticks_brood", "grouseticks", &groups, &groups, None);
}

/// Salamanders, site by visit totals (Price et al. 2016): the visits' SD is small, but not 0.
#[test]
fn salamanders_by_visits() {
    let groups = ["site", "visit"];
    open("salamanders", "salamanders", &groups, &groups, None);
}

/// Nights of a light trap in groups of nights (Usseglio-Polatera & Auda 1987).
#[test]
fn caddisflies_by_nights() {
    open("trichometeo", "trichometeo", &["group"], &["group"], None);
}

/// Moths on transects of unequal length, by habitat (S. Wragg, in Maindonald & Braun's DAAG).
#[test]
fn moths_by_metres() {
    open("moths", "moths", &["habitat"], &["habitat"], Some("meters"));
}

/// Every site has its own trend.
#[test]
fn random_slopes() {
    let table = Table::read("data/slope");
    let years: Vec<f64> = table.numbers("year").iter().map(|y| y - 4.5).collect();
    let slope = Grouping {
        weight: Some(years),
        ..table.grouping(&["site"])
    };
    let groupings = vec![table.grouping(&["site"]), slope, table.grouping(&["year"])];
    let design = table.design(Some(4.5), groupings);
    check(&Case {
        fits: "fits/slope",
        table,
        family: Family::NegativeBinomial,
        design,
        fixed: &["(Intercept)", "tc"],
        sds: &["site", "slope", "year"],
    });
}

/// Trap samples of visits, a tenth of them lost.
#[test]
fn visits_of_several_traps() {
    let table = Table::read("data/visits");
    let groupings = [
        vec!["site"],
        vec!["year"],
        vec!["site", "year"],
        vec!["site", "year", "week"],
    ];
    let groupings = groupings.iter().map(|g| table.grouping(g)).collect();
    let mut design = table.design(Some(3.0), groupings);
    let week = table.numbers("week");
    let rows = design.x.chunks_exact(2).zip(&week);
    design.x = rows
        .flat_map(|(x, &w)| {
            let is = |v: f64| f64::from(u8::from(w == v));
            [x[0], x[1], is(2.0), is(3.0), is(4.0)]
        })
        .collect();
    design.columns = 5;
    design.offset = table.numbers("days").iter().map(|d| ln(d / 7.0)).collect();
    check(&Case {
        fits: "fits/visits",
        table,
        family: Family::NegativeBinomial,
        design,
        fixed: &["(Intercept)", "tc", "w2", "w3", "w4"],
        sds: &["site", "year", "site_year", "visit"],
    });
}

/// Weeks within years shared by all sites; the year's own SD is 0 at the optimum.
#[test]
fn weather_shared_by_all_sites() {
    let table = Table::read("data/weather");
    let groupings = [
        vec!["site"],
        vec!["year"],
        vec!["year", "week"],
        vec!["site", "year"],
    ];
    let groupings = groupings.iter().map(|g| table.grouping(g)).collect();
    let design = table.design(Some(3.5), groupings);
    check(&Case {
        fits: "fits/weather",
        table,
        family: Family::Poisson,
        design,
        fixed: &["(Intercept)", "tc"],
        sds: &["site", "year", "week_in_year", "site_year"],
    });
}

/// Years along an autoregression with a year left out, sites correlated by distance; both correlations given.
#[test]
fn correlated_years_and_sites() {
    let table = Table::read("data/correlated");
    let index = |name: &str| -> Vec<usize> {
        table
            .numbers(name)
            .iter()
            .map(|&v| v as usize - 1)
            .collect()
    };
    let (site, year) = (index("site"), index("year"));
    let (east, north) = (table.numbers("km_east"), table.numbers("km_north"));
    let sites = site.iter().max().unwrap() + 1;
    let row = |s: usize| site.iter().position(|&v| v == s).unwrap();
    let mut distances = Vec::new();
    for a in (0..sites).map(row) {
        for b in (0..sites).map(row) {
            let (dx, dy) = (east[a] - east[b], north[a] - north[b]);
            distances.push((dx * dx + dy * dy).sqrt());
        }
    }
    let years = Grouping {
        name: "year".to_string(),
        level: year,
        weight: None,
        loadings: ar1_loadings(10, 0.6),
    };
    let sites = Grouping {
        name: "site".to_string(),
        level: site,
        weight: None,
        loadings: exponential_loadings(&distances, 3.0),
    };
    let design = table.design(Some(5.5), vec![years, sites]);
    check(&Case {
        fits: "fits/correlated",
        table,
        family: Family::NegativeBinomial,
        design,
        fixed: &["(Intercept)", "tc"],
        sds: &["year", "site"],
    });
}
