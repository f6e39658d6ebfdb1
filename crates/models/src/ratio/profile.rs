//! The interval of a ratio by profile likelihood, of a mixed model and of a model of occupancy.

use super::{Ratio, RatioEstimate};
use crate::glmm::{DataError, Design, Family, Fitter, Layout, Likelihood, Model, Terms};
use crate::occupancy::{OccupancyDesign, OccupancyError, OccupancyFitter, OccupancyOutcome};
use numerics::root::bracketed;
use numerics::special::normal;
use std::cell::RefCell;

/// Farthest end that is looked for, in standard errors from the estimate.
const FARTHEST: f64 = 1e4;
/// Relative width to which an end is found.
const WIDTH: f64 = 1e-9;

/// The values whose likelihood is not surely below that of the best one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProfileInterval {
    /// Low end; minus infinity when there is none.
    pub low: f64,
    /// High end; infinity when there is none.
    pub high: f64,
}

/// A ratio of a fitted model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RatioFit {
    /// Estimate and standard error by the delta method.
    pub delta: RatioEstimate,
    /// Interval by profile likelihood.
    pub profile: ProfileInterval,
    /// Root of twice the gain in log likelihood over the model whose ratio is 0, with the sign of the estimate: the
    /// statistic of the likelihood-ratio test. NaN when that model could not be fitted.
    pub root: f64,
}

/// The interval at `confidence` (between 0 and 1) of a value estimated as `at`, from the log likelihood `best` there and
/// the log likelihoods of the best models with other values (`None` where there is none, which ends the look on that
/// side without an end). An end is the one nearest to the estimate, found to nine digits; there is none where 10,000
/// standard errors are not enough to lose as much likelihood. The standard error, above 0, sets the first step alone.
pub fn profile_interval(
    at: RatioEstimate,
    best: f64,
    confidence: f64,
    mut log_likelihood: impl FnMut(f64) -> Option<f64>,
) -> ProfileInterval {
    let z = normal::quantile(0.5 * (1.0 + confidence));
    let mut side = |sign: f64| {
        let mut lost =
            |off: f64| log_likelihood(at.value + sign * off).map(|l| 2.0 * (best - l) - z * z);
        let (mut near, mut far) = (0.0, z * at.se);
        loop {
            match lost(far) {
                Some(l) if l >= 0.0 => break,
                Some(_) if far < FARTHEST * at.se => {
                    near = far;
                    far *= 1.6;
                }
                _ => return sign * f64::INFINITY,
            }
        }
        let lost = RefCell::new(lost);
        let over = |off: f64| {
            // The estimate itself loses nothing; between two models that could be fitted one that could not is on the
            // far side.
            if off == 0.0 {
                -z * z
            } else {
                (lost.borrow_mut())(off).unwrap_or(f64::MAX)
            }
        };
        at.value + sign * bracketed(over, near, far, WIDTH)
    };
    ProfileInterval {
        low: side(-1.0),
        high: side(1.0),
    }
}

/// A ratio of a mixed model's fixed effects by maximum likelihood (restricted likelihoods of models with other fixed
/// effects cannot be compared). `None` when the model has no usable fit.
///
/// # Errors
/// When no model can be made of the data.
pub fn mixed_model(
    design: &Design,
    family: Family,
    terms: Terms,
    counts: &[f64],
    ratio: Ratio,
    confidence: f64,
) -> Result<Option<RatioFit>, DataError> {
    let model = Model {
        family,
        terms,
        likelihood: Likelihood::Maximum,
    };
    let fit = Fitter::new(Layout::new(design)?, model).fit(counts, None)?;
    if !fit.usable() {
        return Ok(None);
    }
    let delta = ratio.estimate(&fit.beta, &fit.covariance, design.columns);
    // A fit with the ratio fixed has one column less; its layout is as sound as the whole one's.
    let fixed = |value: f64| {
        let design = Design {
            x: ratio.fixed_at(&design.x, design.columns, value),
            columns: design.columns - 1,
            ..design.clone()
        };
        let fit = Fitter::new(Layout::new(&design).ok()?, model)
            .fit(counts, None)
            .ok()?;
        fit.usable().then_some(fit.log_likelihood)
    };
    Ok(Some(told(delta, fit.log_likelihood, confidence, fixed)))
}

/// A ratio of the effects on occupancy, by columns of the design's `x`. `None` when the model has no usable fit, or one at
/// a boundary.
///
/// # Errors
/// When no model can be made of the data.
pub fn occupancy(
    design: &OccupancyDesign,
    detections: &[u32],
    visits: &[u32],
    ratio: Ratio,
    confidence: f64,
) -> Result<Option<RatioFit>, OccupancyError> {
    let fit = OccupancyFitter::new(design.clone())?.fit(detections, visits, None)?;
    if fit.outcome != OccupancyOutcome::Converged {
        return Ok(None);
    }
    let width = fit.beta.len() + fit.gamma.len() + usize::from(fit.rho.is_some());
    let delta = ratio.estimate(&fit.beta, &fit.covariance, width);
    let fixed = |value: f64| {
        let design = OccupancyDesign {
            x: ratio.fixed_at(&design.x, design.columns, value),
            columns: design.columns - 1,
            ..design.clone()
        };
        let fit = OccupancyFitter::new(design)
            .ok()?
            .fit(detections, visits, None)
            .ok()?;
        fit.usable().then_some(fit.log_likelihood)
    };
    Ok(Some(told(delta, fit.log_likelihood, confidence, fixed)))
}

fn told(
    delta: RatioEstimate,
    best: f64,
    confidence: f64,
    mut fixed: impl FnMut(f64) -> Option<f64>,
) -> RatioFit {
    let root = fixed(0.0).map_or(f64::NAN, |l| {
        (2.0 * (best - l)).max(0.0).sqrt().copysign(delta.value)
    });
    RatioFit {
        delta,
        profile: profile_interval(delta, best, confidence, fixed),
        root,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::maths::exp;
    use numerics::random::Stream;

    /// A parabola's profile is the Wald interval; one that levels off has no end.
    #[test]
    fn ends_of_known_profiles() {
        let at = RatioEstimate {
            value: 2.0,
            se: 0.5,
        };
        let parabola = |v: f64| Some(-7.0 - 0.5 * (v - 2.0) * (v - 2.0) / 0.25);
        let got = profile_interval(at, -7.0, 0.95, parabola);
        assert!((got.low - (2.0 - 0.5 * 1.959_963_984_540_054)).abs() < 1e-8);
        assert!((got.high - (2.0 + 0.5 * 1.959_963_984_540_054)).abs() < 1e-8);
        let level = |v: f64| {
            let off = v - 2.0;
            Some(
                -7.0 - if off < 0.0 {
                    4.0 * off * off
                } else {
                    off / (1.0 + off)
                },
            )
        };
        let got = profile_interval(at, -7.0, 0.95, level);
        assert!(got.low.is_finite() && got.high == f64::INFINITY);
        let nothing = |v: f64| (v < 2.4).then_some(-7.0);
        assert_eq!(
            profile_interval(at, -7.0, 0.95, nothing).high,
            f64::INFINITY
        );
    }

    /// Fieller's theorem: for two independent normal means with SD 1 the interval of their ratio holds every r with (a - r
    /// b)^2 <= z^2 (1 + r^2), which is the likelihood profile of the ratio (Fieller 1954, JRSS B 16:175).
    #[test]
    fn normal_means_have_fiellers_interval() {
        let (a, b, z) = (3.0, 5.0, 1.959_963_984_540_054_f64);
        let at = RatioEstimate {
            value: a / b,
            se: (1.0f64 / 25.0 + 9.0 / 625.0).sqrt(),
        };
        let profile = |r: f64| Some(-0.5 * (a - r * b) * (a - r * b) / (1.0 + r * r));
        let got = profile_interval(at, 0.0, 0.95, profile);
        // (b^2 - z^2) r^2 - 2 a b r + a^2 - z^2 = 0
        let (p, q, c) = (b * b - z * z, a * b, a * a - z * z);
        let root = (q * q - p * c).sqrt();
        assert!((got.low - (q - root) / p).abs() < 1e-8);
        assert!((got.high - (q + root) / p).abs() < 1e-8);
    }

    /// The edge of a large simulated survey, seen in each of four visits with chance .4: truth within the interval, and
    /// delta method and profile close together.
    #[test]
    fn edge_under_imperfect_detection() {
        let mut rng = Stream::new(21, 3);
        let (sites, years) = (400, 6);
        let (mut x, mut detections) = (Vec::new(), Vec::new());
        let truth = 0.12;
        for s in 0..sites {
            for y in 0..years {
                let (p, t) = (
                    4.0 * f64::from(s) / f64::from(sites) - 2.0,
                    f64::from(y) - 2.5,
                );
                x.extend([1.0, p, t]);
                let occupied = rng.uniform() < 1.0 / (1.0 + exp(2.0 * (p - 0.3 - truth * t)));
                let seen = (0..4).filter(|_| rng.uniform() < 0.4).count() as u32;
                detections.push(if occupied { seen } else { 0 });
            }
        }
        let rows = detections.len();
        let design = OccupancyDesign {
            x,
            columns: 3,
            z: vec![1.0; rows],
            detection_columns: 1,
            ..OccupancyDesign::default()
        };
        let got = occupancy(
            &design,
            &detections,
            &vec![4; rows],
            Ratio::of_edge(1, 2),
            0.99,
        );
        let got = got.unwrap().unwrap();
        let near = |a: f64, b: f64| (a - b).abs() < 0.06 * got.delta.se;
        assert!((got.delta.value - truth).abs() < 2.58 * got.delta.se);
        assert!(got.delta.se < 0.03, "{}", got.delta.se);
        let half = 2.575_829_303_548_9 * got.delta.se;
        assert!(near(got.profile.low, got.delta.value - half), "{got:?}");
        assert!(near(got.profile.high, got.delta.value + half), "{got:?}");
        assert!((got.root / (got.delta.value / got.delta.se) - 1.0).abs() < 0.1);
    }
}
