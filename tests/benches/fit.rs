//! One fit of reference set b (30 sites by 10 years, NB2), started at its truth as a simulated fit is: by the fast
//! engine; by the general one; with a random slope for each site; and four traps' samples of each site-year, with
//! site-year and trap effects.

#![allow(clippy::print_stdout)]

use criterion::{Criterion, criterion_group, criterion_main};
use models::glmm::general::{GeneralDesign, GeneralFitter, GeneralStart, Grouping};
use models::glmm::{Design, Family, Fitter, Layout, Likelihood, Model, Start, Terms};
use numerics::draws::{gamma, poisson};
use numerics::maths::exp;
use numerics::random::Stream;

fn set_b() -> (Design, Vec<f64>) {
    let mut reader =
        csv::Reader::from_path(leastcatch_tests::path("reference/data/b.csv")).unwrap();
    let mut design = Design {
        columns: 2,
        ..Design::default()
    };
    let mut counts = Vec::new();
    for row in reader.records() {
        let v: Vec<f64> = row.unwrap().iter().map(|v| v.parse().unwrap()).collect();
        design.site.push(v[0] as usize - 1);
        design.year.push(v[1] as usize - 1);
        design.x.extend([1.0, v[1] - 5.5]);
        design.offset.push(0.0);
        counts.push(v[5]);
    }
    (design, counts)
}

/// A survey of another size, drawn from the truth of set b.
fn drawn(sites: usize, years: usize) -> (Design, Vec<f64>) {
    let mut rng = Stream::new(7, sites as u64);
    let mut design = Design {
        columns: 2,
        ..Design::default()
    };
    let effects = |rng: &mut Stream, n: usize, sd: f64| -> Vec<f64> {
        (0..n).map(|_| sd * rng.normal()).collect()
    };
    let site = effects(&mut rng, sites, 0.8);
    let year = effects(&mut rng, years, 0.2);
    let mut counts = Vec::new();
    for (s, y) in (0..sites).flat_map(|s| (0..years).map(move |y| (s, y))) {
        let t = y as f64 - 0.5 * (years as f64 - 1.0);
        design.site.push(s);
        design.year.push(y);
        design.x.extend([1.0, t]);
        design.offset.push(0.0);
        let mean = exp(2.3 - 0.04 * t + site[s] + year[y]);
        let mean = mean * gamma(&mut rng, 2.0) / 2.0;
        counts.push(poisson(&mut rng, mean));
    }
    (design, counts)
}

fn fits(c: &mut Criterion) {
    let start = Start {
        beta: vec![2.3, -0.04],
        site_sd: 0.8,
        year_sd: 0.2,
        site_year_sd: 0.3,
        k: 2.0,
    };
    let sizes = [
        ("30x10", set_b()),
        ("20x6", drawn(20, 6)),
        ("100x10", drawn(100, 10)),
    ];
    let likelihoods = [
        ("maximum", Likelihood::Maximum),
        ("restricted", Likelihood::Restricted),
    ];
    for ((size, (design, counts)), (name, likelihood)) in sizes
        .iter()
        .flat_map(|size| likelihoods.map(|likelihood| (size, likelihood)))
    {
        let terms = Terms {
            site: true,
            year: true,
            site_year: false,
        };
        let model = Model {
            family: Family::NegativeBinomial,
            terms,
            likelihood,
        };
        let mut fitter = Fitter::new(Layout::new(design).unwrap(), model);
        // As simulated fits stop.
        fitter.set_tolerance(1e-7);
        fitter.learn(counts, &start).unwrap();
        let fit = fitter.fit(counts, Some(&start)).unwrap();
        println!("{size} {name}: {} evaluations", fit.evaluations);
        c.bench_function(&format!("fit {size} NB2 {name}"), |b| {
            b.iter(|| {
                fitter
                    .fit(std::hint::black_box(counts), Some(&start))
                    .unwrap()
            });
        });
    }
}

fn term(name: &str, level: Vec<usize>) -> Grouping {
    Grouping {
        name: name.to_string(),
        level,
        ..Grouping::default()
    }
}

/// Counts drawn with the given linear predictors, k 2.
fn draw(eta: &[f64], stream: &mut Stream) -> Vec<f64> {
    let one = |e: &f64| {
        let share = gamma(stream, 2.0) / 2.0;
        poisson(stream, exp(*e) * share)
    };
    eta.iter().map(one).collect()
}

/// Set b's totals with its two terms; totals with a slope for each site (SD .06 a year); and samples of four traps, with
/// site-year (SD .3) and trap (SD .4) effects.
fn general() -> [(&'static str, GeneralDesign, Vec<f64>); 3] {
    let (d, counts) = set_b();
    let plain = GeneralDesign {
        x: d.x.clone(),
        columns: d.columns,
        offset: d.offset.clone(),
        trials: Vec::new(),
        groupings: vec![term("site", d.site.clone()), term("year", d.year.clone())],
    };
    let mut stream = Stream::new(1, 1);
    let mut normal =
        |n: usize, sd: f64| -> Vec<f64> { (0..n).map(|_| sd * stream.normal()).collect() };
    let (sites, slopes, years) = (normal(30, 0.8), normal(30, 0.06), normal(10, 0.2));
    let (cells, traps) = (normal(300, 0.3), normal(120, 0.4));
    let mut slope = plain.clone();
    slope.groupings.push(Grouping {
        weight: Some(d.x.chunks_exact(2).map(|x| x[1]).collect()),
        ..term("slope", d.site.clone())
    });
    let mean = |i: usize| 2.3 - 0.04 * d.x[2 * i + 1] + sites[d.site[i]] + years[d.year[i]];
    let eta = (0..300).map(|i| mean(i) + slopes[d.site[i]] * d.x[2 * i + 1]);
    let sloping = draw(&eta.collect::<Vec<f64>>(), &mut stream);
    let rows = || (0..1200).map(|i| (i / 4, i % 4));
    let samples = GeneralDesign {
        x: rows().flat_map(|(i, _)| [1.0, d.x[2 * i + 1]]).collect(),
        columns: 2,
        offset: vec![0.0; 1200],
        trials: Vec::new(),
        groupings: vec![
            term("site", rows().map(|(i, _)| d.site[i]).collect()),
            term("year", rows().map(|(i, _)| d.year[i]).collect()),
            term("site-year", rows().map(|(i, _)| i).collect()),
            term("trap", rows().map(|(i, t)| 4 * d.site[i] + t).collect()),
        ],
    };
    let eta = rows().map(|(i, t)| mean(i) + cells[i] + traps[4 * d.site[i] + t]);
    let caught = draw(&eta.collect::<Vec<f64>>(), &mut stream);
    [
        ("general, totals", plain, counts),
        ("general, site slopes", slope, sloping),
        ("general, 4 traps", samples, caught),
    ]
}

fn general_fits(c: &mut Criterion) {
    for (what, design, counts) in general() {
        for (name, likelihood) in [
            ("maximum", Likelihood::Maximum),
            ("restricted", Likelihood::Restricted),
        ] {
            let start = GeneralStart {
                beta: vec![2.3, -0.04],
                sd: match design.groupings.len() {
                    2 => vec![0.8, 0.2],
                    3 => vec![0.8, 0.2, 0.06],
                    _ => vec![0.8, 0.2, 0.3, 0.4],
                },
                k: 2.0,
            };
            let family = Family::NegativeBinomial;
            let mut fitter = GeneralFitter::new(&design, family, likelihood).unwrap();
            fitter.learn(&counts, &start).unwrap();
            let fit = fitter.fit(&counts, Some(&start)).unwrap();
            println!(
                "{what} {name}: {:?}, {} evaluations",
                fit.outcome, fit.evaluations
            );
            c.bench_function(&format!("fit 30x10 NB2 {what} {name}"), |b| {
                b.iter(|| {
                    fitter
                        .fit(std::hint::black_box(&counts), Some(&start))
                        .unwrap()
                });
            });
        }
    }
}

criterion_group!(benches, fits, general_fits);
criterion_main!(benches);
