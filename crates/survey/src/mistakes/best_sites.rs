//! The best sites chosen by one year's catch.
//!
//! Log catch = site + that year's luck, SDs a and b, s^2 = a^2 + b^2. Of the sites, the share q with the largest catch is
//! kept: those beyond z s, with P(Z > z) = q. Their mean log is then z-selected by i s, i = phi(z)/q (mean of a truncated
//! normal number: Johnson, Kotz & Balakrishnan 1994, Continuous Univariate Distributions 1, section 13.10), and next
//! year, with new luck, i a^2/s: regression to the mean (Galton 1886, J. Anthropol. Inst. 15:246-263). The typical
//! (geometric mean) catch falls by 1 - exp(-i b^2/s). Mean catches: E[e^X; Z > z] = e^(v/2) Phi(c - z) for X of
//! variance v and covariance c with Z, so that they fall by 1 - Phi(a^2/s - z)/Phi(s - z).

use super::base::Base;
use super::knob::{Knob, Origin, value};
use numerics::maths::{exp, exp_m1};
use numerics::random::Stream;
use numerics::special::normal;
use serde::Serialize;

/// Sites of each simulated survey.
const SITES: usize = 200;
/// Simulated surveys.
const SURVEYS: u64 = 100;
/// Years of the picture.
const YEARS: u32 = 5;

/// What becomes of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BestSites {
    /// Share of the sites kept.
    pub share: f64,
    /// SD of sites.
    pub site_sd: f64,
    /// SD of a site's luck in a year.
    pub noise_sd: f64,
    /// Fall of the typical catch of those sites from the year of choice to any later one.
    pub fall: f64,
    /// Fall of their mean catch.
    pub fall_of_mean: f64,
    /// The fall of the typical catch in simulated surveys.
    pub simulated_fall: f64,
    /// Simulated surveys.
    pub surveys: u64,
    /// Sites in each of them.
    pub sites: u64,
    /// Year, typical catch of those sites over that of all sites.
    pub points: Vec<[f64; 2]>,
}

pub(super) fn knobs(base: &Base) -> Vec<Knob> {
    vec![
        Knob::new(
            "share_percent",
            "share of the sites that is kept",
            "%",
            (2.0, 100.0, 1.0),
            (25.0, Origin::Example),
        ),
        Knob::new(
            "site_sd",
            "how much sites differ for good (SD)",
            "log scale",
            (0.0, 1.5, 0.01),
            (base.site_sd, Origin::Scenario),
        ),
        Knob::new(
            "noise_sd",
            "a site's luck in one year (SD)",
            "log scale",
            (0.0, 1.5, 0.01),
            (base.own.sqrt(), Origin::Scenario),
        ),
    ]
}

pub(super) fn shown(knobs: &[Knob], seed: u64) -> BestSites {
    let share = value(knobs, "share_percent") / 100.0;
    let (site, noise) = (value(knobs, "site_sd"), value(knobs, "noise_sd"));
    let s = (site * site + noise * noise).sqrt();
    let z = -normal::quantile(share);
    let (chosen, later, of_mean) = if s > 0.0 && share < 1.0 {
        let intensity = normal::pdf(z) / share;
        let kept = site * site / s;
        let ratio = normal::cdf(kept - z) / normal::cdf(s - z);
        (intensity * s, intensity * kept, 1.0 - ratio)
    } else {
        (0.0, 0.0, 0.0)
    };
    BestSites {
        share,
        site_sd: site,
        noise_sd: noise,
        fall: -exp_m1(later - chosen),
        fall_of_mean: of_mean,
        simulated_fall: simulated(share, site, noise, seed),
        surveys: SURVEYS,
        sites: SITES as u64,
        points: (1..=YEARS)
            .map(|y| [f64::from(y), exp(if y == 1 { chosen } else { later })])
            .collect(),
    }
}

/// The same by surveys: the mean over surveys of the mean log of the sites kept, in the year of choice and the next.
fn simulated(share: f64, site: f64, noise: f64, seed: u64) -> f64 {
    let kept = ((share * SITES as f64).round() as usize).clamp(1, SITES);
    let mut change = 0.0;
    for survey in 0..SURVEYS {
        let mut rng = Stream::new(seed, survey);
        rng.go_to(super::place::SITES, 0, 0);
        let mut sites: Vec<(f64, f64)> = (0..SITES)
            .map(|_| {
                let own = site * rng.normal();
                (own + noise * rng.normal(), own)
            })
            .collect();
        sites.sort_by(|a, b| b.0.total_cmp(&a.0));
        for (_, own) in sites.iter_mut() {
            *own += noise * rng.normal();
        }
        let best = &sites[..kept];
        change += best.iter().map(|(then, now)| now - then).sum::<f64>() / kept as f64;
    }
    -exp_m1(change / SURVEYS as f64)
}
