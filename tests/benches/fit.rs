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

criterion_group!(benches, fits);
criterion_main!(benches);
