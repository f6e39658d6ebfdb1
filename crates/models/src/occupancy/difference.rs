//! Power to see a difference in occupancy between two periods or groups with sites of their own.
//!
//! Guillera-Arroita & Lahoz-Monfort (2012, Methods Ecol. Evol. 3:860-869): with f_i = psi_i (1-psi_i+F_i), which is the
//! variance of psi_i times the sites S of each ([`super::precision::variance_factor`], of any design),
//!   S = (z_{1-a/2} + z_{1-b})^2 (f_1 + f_2)/(psi_1 - psi_2)^2,
//!   power = 1 - Phi(z_{1-a/2} - D) + Phi(-z_{1-a/2} - D),  D = (psi_1 - psi_2)/sqrt((f_1 + f_2)/S).
//! Both hold for many sites and are a lower bound of the sites that smaller surveys ask for. Where the test is of logit
//! psi, as in a fit with the period as covariate, the same with var(logit psi) = var(psi)/(psi(1-psi))^2.

use super::precision::{SamplingDesign, variance_factor};
use crate::wald::{Alternative, WaldTest};
use numerics::maths::{ln, ln_1p};
use numerics::special::normal;

/// Occupancy and detection of a period or group, and its visits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OccupancySample {
    /// Probability that a site is occupied, above 0 and below 1.
    pub psi: f64,
    /// Probability of a detection at one visit of an occupied site, above 0 and at most 1.
    pub p: f64,
    /// Visits K of a site, at most (2 or more).
    pub visits: u32,
}

/// What the test compares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OccupancyScale {
    /// psi itself.
    Probability,
    /// logit psi.
    Logit,
}

/// Two periods or groups, each with its own psi and p, and as many sites in each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OccupancyDifference {
    /// First period.
    pub first: OccupancySample,
    /// Second period.
    pub second: OccupancySample,
    /// When visits stop, in both.
    pub design: SamplingDesign,
    /// What the test compares.
    pub scale: OccupancyScale,
}

/// Chance that a normal estimate of `effect` with standard error `se` is significant at `level`. NaN where any of them
/// is.
pub fn power_of(effect: f64, se: f64, level: f64, alternative: Alternative) -> f64 {
    let critical = critical(level, alternative);
    let delta = effect / se;
    match alternative {
        Alternative::TwoSided => normal::cdf(delta - critical) + normal::cdf(-delta - critical),
        Alternative::Above => normal::cdf(delta - critical),
        Alternative::Below => normal::cdf(-delta - critical),
    }
}

fn critical(level: f64, alternative: Alternative) -> f64 {
    let test = WaldTest {
        df: f64::INFINITY,
        level,
        alternative,
    };
    test.critical()
}

impl OccupancyDifference {
    /// Second less first.
    pub fn effect(&self) -> f64 {
        let on = |psi: f64| match self.scale {
            OccupancyScale::Probability => psi,
            OccupancyScale::Logit => ln(psi) - ln_1p(-psi),
        };
        on(self.second.psi) - on(self.first.psi)
    }

    /// Variance of the estimated difference times the sites of each period; infinite when a period has one visit.
    pub fn variance(&self) -> f64 {
        let of = |s: &OccupancySample| {
            let f = variance_factor(s.psi, s.p, s.visits, self.design);
            match self.scale {
                OccupancyScale::Probability => f,
                OccupancyScale::Logit => {
                    let slope = s.psi * (1.0 - s.psi);
                    f / (slope * slope)
                }
            }
        };
        of(&self.first) + of(&self.second)
    }

    /// Standard error of the estimated difference with `sites` in each period.
    pub fn standard_error(&self, sites: f64) -> f64 {
        (self.variance() / sites).sqrt()
    }

    /// Sites of each period for a power of `power`, above `level`; not rounded up. The chance of a significant
    /// difference the wrong way is left out, as in the published form. Infinite where there is no difference, or it lies
    /// on the side that is not looked for.
    pub fn sites_for(&self, power: f64, level: f64, alternative: Alternative) -> f64 {
        let effect = self.effect();
        let wrong = match alternative {
            Alternative::TwoSided => effect == 0.0,
            Alternative::Above => effect <= 0.0,
            Alternative::Below => effect >= 0.0,
        };
        if wrong {
            return f64::INFINITY;
        }
        let z = critical(level, alternative) + normal::quantile(power);
        z * z * self.variance() / (effect * effect)
    }

    /// Power with `sites` in each period.
    pub fn power(&self, sites: f64, level: f64, alternative: Alternative) -> f64 {
        power_of(
            self.effect(),
            self.standard_error(sites),
            level,
            alternative,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::occupancy::{OccupancyDesign, OccupancyFitter};
    use Alternative::{Above, Below, TwoSided};
    use numerics::random::Stream;

    fn fall(first: f64, second: f64, p: f64, visits: u32) -> OccupancyDifference {
        let of = |psi| OccupancySample { psi, p, visits };
        OccupancyDifference {
            first: of(first),
            second: of(second),
            design: SamplingDesign::Standard,
            scale: OccupancyScale::Probability,
        }
    }

    /// From the formulas of Guillera-Arroita & Lahoz-Monfort (2012, Methods Ecol. Evol. 3:860).
    #[test]
    fn sites_and_power() {
        for (first, second, p, k, eighty, ninety, power, loose) in [
            (
                0.8,
                0.56,
                0.5,
                3,
                101.708_400,
                136.158_691,
                [0.501_778, 0.793_320, 0.975_504],
                80.115_637,
            ),
            (
                0.8,
                0.4,
                0.5,
                3,
                34.338_849,
                45.969_976,
                [0.922_291, 0.997_606, 0.999_999],
                27.048_688,
            ),
            (
                0.6,
                0.3,
                0.3,
                3,
                163.881_702,
                219.391_102,
                [0.340_217, 0.590_386, 0.871_810],
                129.089_505,
            ),
            (
                0.6,
                0.3,
                0.5,
                5,
                42.263_199,
                56.578_432,
                [0.861_544, 0.990_601, 0.999_982],
                33.290_693,
            ),
            (
                0.4,
                0.2,
                0.3,
                5,
                120.430_843,
                161.222_730,
                [0.438_578, 0.723_394, 0.950_569],
                94.863_293,
            ),
            (
                0.2,
                0.1,
                0.2,
                5,
                489.909_674,
                655.850_055,
                [0.145_602, 0.244_400, 0.432_620],
                385.901_517,
            ),
        ] {
            let d = fall(first, second, p, k);
            for (got, want) in [
                (d.sites_for(0.8, 0.05, TwoSided), eighty),
                (d.sites_for(0.9, 0.05, TwoSided), ninety),
                (d.sites_for(0.8, 0.10, TwoSided), loose),
                // One-sided at half the level: the same critical value.
                (d.sites_for(0.8, 0.05, Below), loose),
            ] {
                assert!((got - want).abs() < 1e-6, "{first} {second}: {got} {want}");
            }
            for (sites, want) in [50.0, 100.0, 200.0].into_iter().zip(power) {
                let got = d.power(sites, 0.05, TwoSided);
                assert!((got - want).abs() < 1e-6, "{first} {sites}: {got} {want}");
            }
        }
    }

    #[test]
    fn sides_and_designs() {
        let d = fall(0.6, 0.3, 0.3, 4);
        assert_eq!(d.sites_for(0.8, 0.05, Above), f64::INFINITY);
        assert_eq!(
            fall(0.5, 0.5, 0.3, 4).sites_for(0.8, 0.05, TwoSided),
            f64::INFINITY
        );
        let two = d.power(100.0, 0.1, TwoSided);
        let sides = d.power(100.0, 0.05, Below) + d.power(100.0, 0.05, Above);
        assert!((two - sides).abs() < 1e-14);
        // The sites asked for have that power.
        for design in [SamplingDesign::Removal, SamplingDesign::Conditional] {
            for scale in [OccupancyScale::Probability, OccupancyScale::Logit] {
                let mut d = OccupancyDifference { design, scale, ..d };
                d.second.p = 0.5;
                d.second.visits = 3;
                let sites = d.sites_for(0.85, 0.05, Below);
                assert!((d.power(sites, 0.05, Below) - 0.85).abs() < 1e-12);
            }
        }
        // Each period's own variance (MacKenzie & Royle 2005, J. Appl. Ecol. 42:1105, removal).
        let mut d = fall(0.4, 0.8, 0.3, 5);
        d.design = SamplingDesign::Removal;
        d.second.p = 0.5;
        d.second.visits = 3;
        assert!((d.variance() - 0.608_238_479_6 - 0.590_769_230_8).abs() < 1e-9);
        // One visit tells nothing.
        d.first.visits = 1;
        assert!((d.power(100.0, 0.05, TwoSided) - 0.05).abs() < 1e-12);
    }

    /// The Wald test of logit psi by simulated surveys. The closed form of psi is a lower bound of the sites needed
    /// (Guillera-Arroita & Lahoz-Monfort 2012), so the simulated power is below it, and nearer to that of logit psi.
    #[test]
    fn as_simulated() {
        let surveys = 3000;
        for (first, second, p, k, sites, off) in
            [(0.8, 0.56, 0.5, 3, 100, 0.07), (0.6, 0.3, 0.5, 5, 50, 0.04)]
        {
            let mut x = Vec::new();
            for i in 0..2 * sites {
                x.extend([1.0, f64::from(u8::from(i >= sites))]);
            }
            let mut fitter = OccupancyFitter::new(OccupancyDesign {
                z: x.clone(),
                x,
                columns: 2,
                detection_columns: 2,
                ..OccupancyDesign::default()
            })
            .unwrap();
            let visits = vec![k; 2 * sites];
            let mut significant = 0.0;
            for survey in 0..surveys {
                let mut rng = Stream::new(12, survey);
                let detections: Vec<u32> = (0..2 * sites)
                    .map(|i| {
                        let psi = if i < sites { first } else { second };
                        if rng.uniform() > psi {
                            return 0;
                        }
                        (0..k).map(|_| u32::from(rng.uniform() < p)).sum()
                    })
                    .collect();
                let fit = fitter.fit(&detections, &visits, None).unwrap();
                significant += f64::from(u8::from(fit.beta[1].abs() > 1.959_964 * fit.se(1)));
            }
            let simulated = significant / surveys as f64;
            let closed = |scale| {
                let d = OccupancyDifference {
                    scale,
                    ..fall(first, second, p, k)
                };
                d.power(sites as f64, 0.05, TwoSided)
            };
            let (bound, logit) = (
                closed(OccupancyScale::Probability),
                closed(OccupancyScale::Logit),
            );
            // Three standard errors of the simulation.
            let luck = 3.0 * (simulated * (1.0 - simulated) / surveys as f64).sqrt();
            assert!(simulated < bound + luck, "{simulated} {bound}");
            assert!(simulated > bound - off - luck, "{simulated} {bound}");
            assert!(
                (simulated - logit).abs() < 0.03 + luck,
                "{simulated} {logit}"
            );
        }
    }
}
