//! Precision of a trend of occupancy that is linear on the logit scale, logit psi_t = b_0 + b_1 t, over seasons whose
//! sites' states do not hang on those of the season before (new sites each season, or sites that change hands freely).
//!
//! By expected information: seasons add theirs ([`super::information`]). With detection of its own, a season says of
//! logit psi_t what is left once p_t is estimated too, S (psi(1-psi))^2 / f with f the variance factor of psi
//! ([`super::precision::variance_factor`]), and the slope has the variance of weighted least squares. With a common
//! level of detection, information about (b_0, b_1, level) is added up and inverted.

use super::information::expected_information_logit;
use super::precision::{SamplingDesign, variance_factor};
use numerics::linalg::cholesky;
use numerics::maths::{exp, ln, ln_1p};

/// What is known of detection when the trend is estimated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeasonalDetection {
    /// Each season's p is estimated from its own visits.
    Own,
    /// One level of logit p is estimated for all; by how much seasons differ from it is known (they are alike, say).
    Common,
}

/// One season's survey.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OccupancySeason {
    /// Probability that a site is occupied, above 0 and below 1.
    pub psi: f64,
    /// Probability of a detection at one visit of an occupied site, above 0 and below 1.
    pub p: f64,
    /// Visits of a site, at most.
    pub visits: u32,
    /// Sites, 0 in a season without a survey.
    pub sites: f64,
}

/// Occupancy of `seasons` seasons from `first`, above 0 and below 1, with `slope` a season on the logit scale.
pub fn occupancy_of_trend(first: f64, slope: f64, seasons: usize) -> Vec<f64> {
    let start = ln(first) - ln_1p(-first);
    (0..seasons)
        .map(|t| 1.0 / (1.0 + exp(-(start + slope * t as f64))))
        .collect()
}

/// Variance of the estimated slope a season. `None` when the seasons do not tell it: fewer than two with sites (and, with
/// detection of their own, with 2 or more visits), or a number out of its range.
pub fn trend_variance(
    seasons: &[OccupancySeason],
    design: SamplingDesign,
    detection: SeasonalDetection,
) -> Option<f64> {
    let open = |v: f64| v > 0.0 && v < 1.0;
    let sound = |s: &OccupancySeason| open(s.psi) && open(s.p) && s.sites >= 0.0;
    if !seasons.iter().all(sound) {
        return None;
    }
    let m = match detection {
        SeasonalDetection::Own => 2,
        SeasonalDetection::Common => 3,
    };
    // Time from the middle, so that nothing cancels.
    let middle = 0.5 * (seasons.len() as f64 - 1.0);
    let mut information = vec![0.0; m * m];
    for (t, s) in seasons.iter().enumerate() {
        if s.sites == 0.0 || s.visits == 0 {
            continue;
        }
        let t = t as f64 - middle;
        let (a, b, c) = match detection {
            SeasonalDetection::Own => {
                let slope = s.psi * (1.0 - s.psi);
                let f = variance_factor(s.psi, s.p, s.visits, design);
                (slope * slope / f, 0.0, 0.0)
            }
            SeasonalDetection::Common => {
                let [a, b, _, c] = expected_information_logit(s.psi, s.p, s.visits, design);
                (a, b, c)
            }
        };
        for (at, by) in [
            (0, a),
            (m, t * a),
            (m + 1, t * t * a),
            (2 * m, b),
            (2 * m + 1, t * b),
            (2 * m + 2, c),
        ] {
            if let Some(v) = information.get_mut(at) {
                *v += s.sites * by;
            }
        }
    }
    invert(information, m)
}

/// The slope's own entry of the inverse; `None` when the information is singular but for rounding.
fn invert(mut information: Vec<f64>, m: usize) -> Option<f64> {
    /// The share of its information that each parameter must have for itself.
    const OWN: f64 = 1e-11;
    let before: Vec<f64> = (0..m).map(|i| information[i * m + i]).collect();
    let own = |l: &[f64], i: usize| l[i * m + i] * l[i * m + i] > OWN * before[i];
    if !cholesky::factor(&mut information, m) || !(0..m).all(|i| own(&information, i)) {
        return None;
    }
    let mut slope = vec![0.0; m];
    slope[1] = 1.0;
    cholesky::solve(&information, m, &mut slope);
    Some(slope[1])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::occupancy::difference::{
        OccupancyDifference, OccupancySample, OccupancyScale, power_of,
    };
    use crate::occupancy::{OccupancyDesign, OccupancyFitter};
    use crate::wald::Alternative;
    use SamplingDesign::{Conditional, Removal, Standard};
    use SeasonalDetection::{Common, Own};
    use numerics::random::Stream;

    fn seasons(psi: &[f64], p: f64, visits: u32, sites: f64) -> Vec<OccupancySeason> {
        let season = |&psi| OccupancySeason {
            psi,
            p,
            visits,
            sites,
        };
        psi.iter().map(season).collect()
    }

    #[test]
    fn occupancy_along_a_trend() {
        let psi = occupancy_of_trend(0.5, -0.4, 3);
        assert_eq!(psi[0], 0.5);
        assert!((ln(psi[2] / (1.0 - psi[2])) + 0.8).abs() < 1e-14);
    }

    /// Two seasons are a difference of logits (Guillera-Arroita & Lahoz-Monfort 2012, Methods Ecol. Evol. 3:860).
    #[test]
    fn two_seasons_are_a_difference() {
        for design in [Standard, Removal, Conditional] {
            let sample = |psi| OccupancySample {
                psi,
                p: 0.4,
                visits: 4,
            };
            let d = OccupancyDifference {
                first: sample(0.6),
                second: sample(0.3),
                design,
                scale: OccupancyScale::Logit,
            };
            let two = seasons(&[0.6, 0.3], 0.4, 4, 70.0);
            let got = trend_variance(&two, design, Own).unwrap();
            assert!(
                (got * 70.0 / d.variance() - 1.0).abs() < 1e-12,
                "{design:?}"
            );
            // Sharing p cannot cost.
            assert!(trend_variance(&two, design, Common).unwrap() < got);
        }
    }

    /// Equal seasons: variance of one season's logit over the sum of squares of time; a common p then adds nothing,
    /// since it does not move the slope. Seasons left out count as no sites.
    #[test]
    fn equal_seasons_are_least_squares() {
        let f = variance_factor(0.4, 0.3, 5, Standard) / (0.24 * 0.24);
        let six = seasons(&[0.4; 6], 0.3, 5, 50.0);
        let own = trend_variance(&six, Standard, Own).unwrap();
        assert!((own / (f / 50.0 / 17.5) - 1.0).abs() < 1e-12);
        let common = trend_variance(&six, Standard, Common).unwrap();
        let [a, _, _, _] = expected_information_logit(0.4, 0.3, 5, Standard);
        assert!((common * 17.5 * 50.0 * a - 1.0).abs() < 1e-12);
        let mut gaps = six.clone();
        for s in &mut gaps[1..5] {
            s.sites = 0.0;
        }
        let ends = trend_variance(&gaps, Standard, Own).unwrap();
        assert!((ends / (f / 50.0 / 12.5) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn what_does_not_tell_a_slope() {
        let three = seasons(&[0.4; 3], 0.3, 4, 30.0);
        assert_eq!(trend_variance(&three[..1], Standard, Own), None);
        assert_eq!(trend_variance(&[], Standard, Common), None);
        for (visits, p, sites) in [
            (1, 0.3, 30.0),
            (4, 1.2, 30.0),
            (4, 0.3, f64::NAN),
            (4, 0.3, 0.0),
        ] {
            let wrong = seasons(&[0.4; 3], p, visits, sites);
            assert_eq!(trend_variance(&wrong, Standard, Own), None);
            assert_eq!(trend_variance(&wrong, Standard, Common), None);
        }
    }

    /// The scatter of slopes, their standard errors and power by simulated surveys, each season's p its own and one for
    /// all.
    #[test]
    fn as_simulated() {
        let (sites, k, p, slope) = (60, 4, 0.4, -0.25);
        let psi = occupancy_of_trend(0.7, slope, 5);
        let plan = seasons(&psi, p, k, sites as f64);
        for detection in [Own, Common] {
            let (mut x, mut z) = (Vec::new(), Vec::new());
            for t in 0..5 {
                for _ in 0..sites {
                    x.extend([1.0, f64::from(t)]);
                    match detection {
                        Own => z.extend((0..5).map(|j| f64::from(u8::from(j == t)))),
                        Common => z.push(1.0),
                    }
                }
            }
            let detection_columns = z.len() / (5 * sites);
            let mut fitter = OccupancyFitter::new(OccupancyDesign {
                x,
                columns: 2,
                z,
                detection_columns,
                ..OccupancyDesign::default()
            })
            .unwrap();
            let visits = vec![k; 5 * sites];
            let surveys = 1000;
            let (mut sum, mut squares, mut significant) = (0.0, 0.0, 0.0);
            for survey in 0..surveys {
                let mut rng = Stream::new(14, survey);
                let detections: Vec<u32> = (0..5 * sites)
                    .map(|i| {
                        if rng.uniform() > psi[i / sites] {
                            return 0;
                        }
                        (0..k).map(|_| u32::from(rng.uniform() < p)).sum()
                    })
                    .collect();
                let fit = fitter.fit(&detections, &visits, None).unwrap();
                sum += fit.beta[1];
                squares += fit.beta[1] * fit.beta[1];
                significant += f64::from(u8::from(fit.beta[1].abs() > 1.959_964 * fit.se(1)));
            }
            let of = surveys as f64;
            let spread = (squares / of - sum / of * sum / of).sqrt();
            let se = trend_variance(&plan, Standard, detection).unwrap().sqrt();
            // Three standard errors of a standard deviation, and some more for so few sites.
            assert!(
                (spread / se - 1.0).abs() < 0.12,
                "{detection:?}: {spread} {se}"
            );
            let power = power_of(slope, se, 0.05, Alternative::TwoSided);
            assert!(
                (significant / of - power).abs() < 0.07,
                "{significant} {power}"
            );
        }
    }
}
