//! How many species there are at least.
//!
//! Chao1 from abundances, S + ((n-1)/n) f1^2/(2 f2), and where no species was seen twice S + ((n-1)/n) f1 (f1-1)/2
//! (Chao 1984, Scand. J. Stat. 11:265-270); Chao2 from incidences with T, Q1, Q2 for n, f1, f2 (Chao 1987, Biometrics
//! 43:783-791). Both are lower bounds: species that are much rarer than those seen once stay out of it.

use super::frequencies::Frequencies;
use numerics::maths::{exp, ln_1p};
use numerics::special::normal;

/// Species seen and species there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Richness {
    /// Species seen, S.
    pub observed: f64,
    /// Species not seen, f0 (or Q0): at least so many.
    pub unseen: f64,
    /// Observed and unseen: Chao1 or Chao2.
    pub estimated: f64,
    /// Standard error of the estimate; NaN for one individual (one sample), which tells nothing of others.
    pub se: f64,
    /// How often a species was seen on average.
    times_seen: f64,
}

/// Species not seen: f0 (or Q0), 0 or more. 0 too when just one species was seen once and none twice.
pub fn unseen(of: &Frequencies) -> f64 {
    if of.total() <= 0.0 {
        return 0.0;
    }
    unseen_from_counts(of.size(), of.once(), of.twice())
}

/// As [`unseen`], from the numbers it takes: size (above 0), and species seen once and twice.
pub fn unseen_from_counts(size: f64, once: f64, twice: f64) -> f64 {
    let k = (size - 1.0) / size;
    if twice > 0.0 {
        k * once * once / (2.0 * twice)
    } else {
        k * once * (once - 1.0).max(0.0) / 2.0
    }
}

/// Chao1 (Chao2) with its standard error.
///
/// With r = f1/f2 and k = (n-1)/n the variance is f2 (k r^2/2 + k^2 r^3 + k^2 r^4/4) (Chao 1987), and where no species was
/// seen twice k f1 (f1-1)/2 + k^2 f1 (2 f1-1)^2/4 - k^2 f1^4/(4 Chao1) (from memory). Where no species is reckoned
/// unseen it is S e (1 - e) with e = exp(-n/S), the chance to miss a species that is as common as the mean one (from
/// memory).
pub fn estimated(of: &Frequencies) -> Richness {
    let (size, once, twice, observed) = (of.size(), of.once(), of.twice(), of.species());
    let unseen = unseen(of);
    let estimated = observed + unseen;
    let times_seen = of.total() / observed;
    let k = (size - 1.0) / size;
    let variance = if size <= 1.0 {
        f64::NAN
    } else if unseen <= 0.0 {
        let e = exp(-times_seen);
        observed * e * (1.0 - e)
    } else if twice > 0.0 {
        let r = once / twice;
        twice * r * r * (0.5 * k + k * k * r * (1.0 + 0.25 * r))
    } else {
        let d = 2.0 * once - 1.0;
        let square = once * once;
        0.5 * k * once * (once - 1.0)
            + k * k * (0.25 * once * d * d - 0.25 * square * square / estimated)
    };
    Richness {
        observed,
        unseen,
        estimated,
        se: variance.sqrt(),
        times_seen,
    }
}

impl Richness {
    /// Confidence interval at `level` (such as 0.95), low and high.
    ///
    /// The unseen species are taken as log-normal: S + f0/K to S + f0 K with K = exp(z sqrt(ln(1 + SE^2/f0^2))) (Chao
    /// 1987). Where none is reckoned unseen, S/(1-e) -+ z sqrt(S e)/(1-e), e = exp(-n/S), not below S (from memory).
    /// S to infinity for one individual (one sample).
    pub fn interval(&self, level: f64) -> (f64, f64) {
        let z = normal::quantile(0.5 + 0.5 * level);
        if self.se.is_nan() {
            return (self.observed, f64::INFINITY);
        }
        if self.unseen > 0.0 {
            let ratio = self.se / self.unseen;
            let k = exp(z * ln_1p(ratio * ratio).sqrt());
            return (
                self.observed + self.unseen / k,
                self.observed + self.unseen * k,
            );
        }
        let e = exp(-self.times_seen);
        let (centre, half) = (
            self.observed / (1.0 - e),
            z * (self.observed * e).sqrt() / (1.0 - e),
        );
        ((centre - half).max(self.observed), centre + half)
    }
}

#[cfg(test)]
mod tests {
    use super::super::frequencies::{Abundances, Incidences, data};
    use super::*;

    /// Spiders: 43.893 (14.306) and 61.403 (18.532) as printed by Chao et al. (2014), Ecol. Monogr. 84:45-67; further
    /// digits and the beetles (Colwell et al. 2012, J. Plant Ecol. 5:3-21) from the formulas of Chao (1984, 1987).
    #[test]
    fn known_inventories() {
        for (a, chao1, se) in [
            (data::spiders_girdled(), 43.892_857, 14.305_578),
            (data::spiders_logged(), 61.402_778, 18.531_548),
            (data::beetles_second_growth(), 283.969_986, 50.474_218),
            (data::beetles_old_growth(), 463.311_392, 136.273_288),
        ] {
            let r = estimated(a.frequencies());
            assert!((r.estimated - chao1).abs() < 6e-7, "{r:?}");
            assert!((r.se - se).abs() < 6e-7, "{r:?}");
        }
        let toy = estimated(data::toy().frequencies());
        assert!((toy.estimated - 10.16).abs() < 1e-12);
        let toy = estimated(data::toy_without_twice().frequencies());
        assert!((toy.estimated - 5.944_444_444_4).abs() < 1e-10);
        // k = 17/18, f1 = 2: k + k^2 (9/2 - 4/5.9444).
        let k: f64 = 17.0 / 18.0;
        let variance = k + k * k * (4.5 - 4.0 / (5.0 + k));
        assert!((toy.se - variance.sqrt()).abs() < 1e-12);
    }

    /// By hand: T = 4, Q1 = 3, Q2 = 1, S = 5: Chao2 = 5 + .75 9/2, variance 1 (.375 9 + .5625 (27 + 81/4)).
    #[test]
    fn incidences() {
        let i = Incidences::new(4, &[4, 2, 1, 1, 1]).unwrap();
        let r = estimated(i.frequencies());
        assert!((r.estimated - 8.375).abs() < 1e-14);
        assert!((r.se * r.se - (3.375 + 0.5625 * 47.25)).abs() < 1e-12);
    }

    /// The log-normal interval's ends are S + f0/K and S + f0 K: their distances from S have f0^2 as their product, and
    /// the logarithm of their ratio is 2 z times the log-normal's standard deviation.
    #[test]
    fn interval_of_the_spiders() {
        let r = estimated(data::spiders_girdled().frequencies());
        let (low, high) = r.interval(0.95);
        assert!(low > 26.0 && low < r.estimated && high > r.estimated);
        let f0: f64 = r.unseen;
        assert!(((low - 26.0) * (high - 26.0) / (f0 * f0) - 1.0).abs() < 1e-12);
        let variance = 204.649_572 / (f0 * f0);
        let want = 2.0 * 1.959_963_985 * ln_1p(variance).sqrt();
        let got = numerics::maths::ln((high - 26.0) / (low - 26.0));
        assert!((got - want).abs() < 1e-6, "{got} {want}");
    }

    #[test]
    fn special_cases() {
        let none = estimated(Abundances::new(&[4, 2, 2]).unwrap().frequencies());
        assert_eq!((none.unseen, none.estimated), (0.0, 3.0));
        assert!(none.se > 0.0);
        let (low, high) = none.interval(0.95);
        assert!(low == 3.0 && high > 3.0 && high < 5.0, "{high}");
        let lone = estimated(Abundances::new(&[5, 1]).unwrap().frequencies());
        assert_eq!(lone.estimated, 2.0);
        let one = estimated(Abundances::new(&[1]).unwrap().frequencies());
        assert_eq!((one.observed, one.unseen), (1.0, 0.0));
        assert!(one.se.is_nan());
        assert_eq!(one.interval(0.95), (1.0, f64::INFINITY));
    }
}
