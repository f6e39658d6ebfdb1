//! One fit of reference set b (30 sites by 10 years, NB2), started at its truth as a simulated fit is.

#![allow(clippy::print_stdout)]

use criterion::{Criterion, criterion_group, criterion_main};
use models::glmm::{Design, Family, Fitter, Layout, Likelihood, Model, Start, Terms};

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

fn fits(c: &mut Criterion) {
    let (design, counts) = set_b();
    let start = Start {
        beta: vec![2.3, -0.04],
        site_sd: 0.8,
        year_sd: 0.2,
        site_year_sd: 0.3,
        k: 2.0,
    };
    for (name, likelihood) in [
        ("maximum", Likelihood::Maximum),
        ("restricted", Likelihood::Restricted),
    ] {
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
        let mut fitter = Fitter::new(Layout::new(&design).unwrap(), model);
        fitter.learn(&counts, &start).unwrap();
        let fit = fitter.fit(&counts, Some(&start)).unwrap();
        println!("{name}: {} evaluations", fit.evaluations);
        c.bench_function(&format!("fit 30x10 NB2 {name}"), |b| {
            b.iter(|| {
                fitter
                    .fit(std::hint::black_box(&counts), Some(&start))
                    .unwrap()
            });
        });
    }
}

criterion_group!(benches, fits);
criterion_main!(benches);
