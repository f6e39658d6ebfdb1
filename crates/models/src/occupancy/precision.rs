//! Precision of the occupancy estimate when psi and p are the same at all sites, and how many visits are best.
//!
//! MacKenzie & Royle (2005, J. Appl. Ecol. 42:1105-1114): with p* = 1-(1-p)^K the chance of a detection in K visits of
//! an occupied site, and s sites,
//!   standard design  var(psi) = psi/s [(1-psi) + (1-p*)/(p* - K p (1-p)^(K-1))],
//!   removal design   var(psi) = psi/s [(1-psi) + p*(1-p*)/(p*^2 - K^2 p^2 (1-p)^(K-1))].
//! In the conditional design the first visits estimate psi p and the further ones p, which makes
//!   var(psi) = psi/s [(1-psi p)/p + (1-p)/((K-1) p^2)].
//! All three are the inverse of the expected information ([`super::information`]), so they hold for many sites.

use numerics::maths::{exp, exp_m1, ln_1p, pow};

/// When visits of a site stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SamplingDesign {
    /// K visits at every site.
    Standard,
    /// At the first detection, or after K visits.
    Removal,
    /// After the first visit unless it found the species; after K visits where it did.
    Conditional,
}

/// Chance of at least one detection in `visits` visits of an occupied site.
pub fn p_star(p: f64, visits: u32) -> f64 {
    if visits == 0 {
        return 0.0;
    }
    -exp_m1(f64::from(visits) * ln_1p(-p))
}

/// Fewest visits whose [`p_star`] is at least `wanted`, both p and `wanted` above 0 and below 1; `None` beyond
/// 4,000,000,000 or for other numbers.
pub fn visits_for(p: f64, wanted: f64) -> Option<u32> {
    let open = |v: f64| v > 0.0 && v < 1.0;
    if !open(p) || !open(wanted) {
        return None;
    }
    let about = (ln_1p(-wanted) / ln_1p(-p)).ceil();
    if about > 4e9 {
        return None;
    }
    // The quotient may be rounded across a whole number.
    let about = (about as u32).max(1);
    let low = about.saturating_sub(1).max(1);
    (low..=about + 1).find(|&k| p_star(p, k) >= wanted)
}

/// Variance of the estimate of psi times the number of sites; infinite where psi cannot be told from p (one visit, or p of
/// 0), NaN for a psi or p outside [0, 1].
pub fn variance_factor(psi: f64, p: f64, visits: u32, design: SamplingDesign) -> f64 {
    let chance = |v: f64| (0.0..=1.0).contains(&v);
    if !chance(psi) || !chance(p) {
        return f64::NAN;
    }
    if visits < 2 || p == 0.0 {
        return f64::INFINITY;
    }
    let k = f64::from(visits);
    let found = p_star(p, visits);
    let missed = pow(1.0 - p, k);
    psi * match design {
        SamplingDesign::Standard => (1.0 - psi) + missed / twice(p, k, found),
        SamplingDesign::Removal => (1.0 - psi) + found * missed / apart(p, k, found),
        SamplingDesign::Conditional => (1.0 - psi * p) / p + (1.0 - p) / ((k - 1.0) * p * p),
    }
}

/// k p below which differences of nearly equal numbers give way to series.
const SMALL: f64 = 0.01;

/// Chance of more than one detection in k visits, p* - K p (1-p)^(K-1), with p* `found`.
fn twice(p: f64, k: f64, found: f64) -> f64 {
    if k * p >= SMALL {
        return found - k * p * pow(1.0 - p, k - 1.0);
    }
    let (mut term, mut sum, mut d) = (
        0.5 * k * (k - 1.0) * p * p * pow(1.0 - p, k - 2.0),
        0.0,
        2.0,
    );
    while sum + term > sum {
        sum += term;
        term *= (k - d) / (d + 1.0) * (p / (1.0 - p));
        d += 1.0;
    }
    sum
}

/// p*^2 - K^2 p^2 (1-p)^(K-1), with p* `found`: a difference of squares, in which at small p
/// p* - K p (1-p)^((K-1)/2) = 2 e^(-K u) (sinh K u - K sinh u), u = -ln(1-p)/2, comes from the series of sinh.
fn apart(p: f64, k: f64, found: f64) -> f64 {
    if k * p >= SMALL {
        return found * found - k * k * p * p * pow(1.0 - p, k - 1.0);
    }
    let u = -0.5 * ln_1p(-p);
    // (K u)^j/j! (1 - K^(1-j)) for j = 3, 5, ...
    let (mut power, mut shrink, mut sum, mut j) = (k * u, 1.0, 0.0, 1.0);
    loop {
        power *= k * u / (j + 1.0) * (k * u / (j + 2.0));
        shrink /= k * k;
        let next = sum + power * (1.0 - shrink);
        if next == sum {
            break;
        }
        (sum, j) = (next, j + 2.0);
    }
    let half = exp(-(k - 1.0) * u);
    2.0 * exp(-k * u) * sum * (found + k * p * half)
}

/// Standard error of psi with `sites` sites.
pub fn standard_error(psi: f64, p: f64, visits: u32, sites: f64, design: SamplingDesign) -> f64 {
    (variance_factor(psi, p, visits, design) / sites).sqrt()
}

/// Sites for a standard error of psi of `se`, not rounded up.
pub fn sites_for(psi: f64, p: f64, visits: u32, se: f64, design: SamplingDesign) -> f64 {
    variance_factor(psi, p, visits, design) / (se * se)
}

/// Expected visits of a site, p above 0 and `visits` at least 1.
pub fn expected_visits(psi: f64, p: f64, visits: u32, design: SamplingDesign) -> f64 {
    let k = f64::from(visits);
    match design {
        SamplingDesign::Standard => k,
        SamplingDesign::Removal => (1.0 - psi) * k + psi * p_star(p, visits) / p,
        SamplingDesign::Conditional => 1.0 + psi * p * (k - 1.0),
    }
}

/// The number of visits, 2 or more, that makes the variance of psi smallest for the same expected number of visits of
/// all sites together; the smaller of two that are as good. `None` when psi or p is not above 0 and at most 1, when the
/// more visits the better (every site occupied), and beyond 100,000 visits.
pub fn optimal_visits(psi: f64, p: f64, design: SamplingDesign) -> Option<u32> {
    const MOST: u32 = 100_000;
    let chance = |v: f64| v > 0.0 && v <= 1.0;
    let endless = psi == 1.0 && p < 1.0 && design != SamplingDesign::Conditional;
    if !chance(psi) || !chance(p) || endless {
        return None;
    }
    let mut best = (f64::INFINITY, 2);
    for k in 2..=MOST {
        let cost = expected_visits(psi, p, k, design);
        let value = cost * variance_factor(psi, p, k, design);
        if value < best.0 {
            best = (value, k);
        }
        // Costs rise, and no number of visits brings the variance below that of many.
        let least = match design {
            SamplingDesign::Standard | SamplingDesign::Removal => psi * (1.0 - psi),
            SamplingDesign::Conditional => psi * (1.0 - psi * p) / p,
        };
        if cost * least >= best.0 {
            return Some(best.1);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use SamplingDesign::{Conditional, Removal, Standard};

    #[test]
    fn chance_of_any_detection() {
        // 1-(1-p)^K (MacKenzie & Royle 2005, J. Appl. Ecol. 42:1105).
        for (p, k, want) in [
            (0.3, 5, 0.831_93),
            (0.5, 3, 0.875),
            (0.1, 14, 0.771_232_075_5),
            (0.2, 7, 0.790_284_8),
        ] {
            assert!((p_star(p, k) - want).abs() < 1e-10, "{p} {k}");
        }
        assert_eq!((p_star(0.3, 0), p_star(1.0, 2)), (0.0, 1.0));
        for (p, want) in [(0.1, 29), (0.2, 14), (0.3, 9), (0.5, 5)] {
            assert_eq!(visits_for(p, 0.95), Some(want));
        }
        // 1 - .5^3 is .875 to the digit.
        assert_eq!(visits_for(0.5, 0.875), Some(3));
        for k in 1..40 {
            assert_eq!(visits_for(0.1, p_star(0.1, k)), Some(k));
        }
        assert_eq!(visits_for(0.9, 0.5), Some(1));
        assert_eq!((visits_for(0.0, 0.5), visits_for(0.5, 1.0)), (None, None));
        assert_eq!(visits_for(1e-12, 0.95), None);
    }

    /// s var(psi) from the formulas of MacKenzie & Royle (2005).
    #[test]
    fn variance_of_psi() {
        for (psi, p, k, standard, removal) in [
            (0.4, 0.3, 5, 0.382_498_622_2, 0.608_238_479_6),
            (0.8, 0.5, 3, 0.36, 0.590_769_230_8),
            (0.2, 0.1, 14, 0.270_151_167_0, 0.525_311_718_8),
        ] {
            for (design, want) in [(Standard, standard), (Removal, removal)] {
                let got = variance_factor(psi, p, k, design);
                assert!((got - want).abs() < 1e-10, "{psi} {design:?}: {got}");
            }
        }
        for (psi, p, k, s, standard, removal) in [
            (0.4, 0.3, 5, 100.0, 0.061_846_473, 0.077_989_645),
            (0.5, 0.5, 3, 50.0, 0.086_602_540_4, 0.101_904_933_1),
            (0.8, 0.5, 4, 60.0, 0.062_279_915_5, 0.068_764_251_9),
            (0.2, 0.2, 7, 80.0, 0.056_908_894_5, 0.075_771_127_8),
        ] {
            for (design, want) in [(Standard, standard), (Removal, removal)] {
                let got = standard_error(psi, p, k, s, design);
                assert!((got - want).abs() < 1e-9, "{psi} {design:?}: {got}");
            }
        }
    }

    /// Where detections are rare the published form's differences cancel: the leading terms, s var/psi -> 2/(K (K-1) p^2)
    /// for the standard design and 12/(K (K^2-1) p^3) for removal; and both ways of working meet.
    #[test]
    fn rare_detections() {
        for k in [2u32, 3, 7, 40] {
            let n = f64::from(k);
            for p in [1e-7, 1e-9, 1e-30] {
                let got = variance_factor(0.4, p, k, Standard) / 0.4 * p * p;
                let want = 2.0 / (n * (n - 1.0));
                assert!((got / want - 1.0).abs() < 1e-4, "{k} {p}: {got} {want}");
                let got = variance_factor(0.4, p, k, Removal) / 0.4 * p * p * p;
                let want = 12.0 / (n * (n * n - 1.0));
                assert!((got / want - 1.0).abs() < 1e-4, "{k} {p}: {got} {want}");
            }
            for design in [Standard, Removal] {
                let at = |p: f64| variance_factor(0.4, p, k, design);
                let edge = SMALL / n;
                let (below, above) = (at(edge * (1.0 - 1e-9)), at(edge * (1.0 + 1e-9)));
                assert!(
                    (below / above - 1.0).abs() < 2e-8,
                    "{design:?} {k}: {below} {above}"
                );
            }
        }
    }

    #[test]
    fn sites_for_a_standard_error() {
        for (k, design, want) in [
            (3, Standard, 350.074_074_074_1),
            (5, Standard, 152.999_448_895_7),
            (10, Standard, 101.312_858_028_2),
            (5, Removal, 243.295_391_821_6),
        ] {
            let got = sites_for(0.4, 0.3, k, 0.05, design);
            assert!((got - want).abs() < 1e-9, "{k} {design:?}: {got}");
        }
        assert!((expected_visits(0.4, 0.3, 5, Removal) - 4.109_24).abs() < 1e-10);
        assert_eq!(expected_visits(0.4, 0.3, 5, Standard), 5.0);
        assert!((expected_visits(0.4, 0.3, 5, Conditional) - 1.48).abs() < 1e-12);
    }

    /// MacKenzie & Royle (2005), table 1: optimal visits of the standard design, psi = .1 to .9 across.
    #[test]
    fn optimal_visits_of_the_standard_design() {
        for (p, row) in [
            (0.1, [14, 15, 16, 17, 18, 20, 23, 26, 34]),
            (0.2, [7, 7, 8, 8, 9, 10, 11, 13, 16]),
            (0.3, [5, 5, 5, 5, 6, 6, 7, 8, 10]),
            (0.4, [3, 4, 4, 4, 4, 5, 5, 6, 7]),
            (0.5, [3, 3, 3, 3, 3, 3, 4, 4, 5]),
            (0.6, [2, 2, 2, 2, 3, 3, 3, 3, 4]),
            (0.7, [2, 2, 2, 2, 2, 2, 2, 3, 3]),
            (0.8, [2; 9]),
            (0.9, [2; 9]),
        ] {
            check(p, row, Standard);
        }
    }

    /// The same for the removal design, by its variance formula and expected visits (MacKenzie & Royle 2005; made from
    /// the formulas, not copied from the printed table).
    #[test]
    fn optimal_visits_of_the_removal_design() {
        for (p, row) in [
            (0.1, [23, 24, 25, 26, 28, 31, 34, 39, 49]),
            (0.2, [11, 11, 12, 13, 13, 15, 16, 19, 23]),
            (0.3, [7, 7, 7, 8, 8, 9, 10, 12, 15]),
            (0.4, [5, 5, 5, 6, 6, 6, 7, 8, 10]),
            (0.5, [4, 4, 4, 4, 4, 5, 5, 6, 8]),
            (0.6, [3, 3, 3, 3, 3, 4, 4, 5, 6]),
            (0.7, [2, 2, 2, 3, 3, 3, 3, 4, 5]),
            (0.8, [2, 2, 2, 2, 2, 2, 3, 3, 4]),
            (0.9, [2, 2, 2, 2, 2, 2, 2, 2, 3]),
        ] {
            check(p, row, Removal);
        }
    }

    fn check(p: f64, row: [u32; 9], design: SamplingDesign) {
        for (i, want) in row.into_iter().enumerate() {
            let psi = (i + 1) as f64 / 10.0;
            assert_eq!(optimal_visits(psi, p, design), Some(want), "{psi} {p}");
        }
    }

    /// Against all numbers of visits up to 400; and what has no answer.
    #[test]
    fn optima_by_trying_all() {
        for design in [Standard, Removal, Conditional] {
            for (psi, p) in [
                (0.05, 0.03),
                (0.5, 0.1),
                (0.95, 0.07),
                (0.3, 0.999),
                (0.99, 0.4),
            ] {
                let value =
                    |k| expected_visits(psi, p, k, design) * variance_factor(psi, p, k, design);
                let all = (2..400).min_by(|&a, &b| value(a).total_cmp(&value(b)));
                assert_eq!(optimal_visits(psi, p, design), all, "{psi} {p} {design:?}");
            }
        }
        assert_eq!(optimal_visits(1.0, 0.3, Standard), None);
        assert_eq!(optimal_visits(0.0, 0.3, Standard), None);
        assert_eq!(optimal_visits(0.5, f64::NAN, Removal), None);
        assert_eq!(optimal_visits(0.5, 1.0, Standard), Some(2));
        assert_eq!(variance_factor(0.5, 0.4, 1, Removal), f64::INFINITY);
        assert_eq!(variance_factor(0.5, 0.0, 4, Removal), f64::INFINITY);
        assert!(variance_factor(1.2, 0.4, 3, Removal).is_nan());
        // Certain detection leaves the binomial's own variance.
        assert!((variance_factor(0.3, 1.0, 2, Conditional) - 0.21).abs() < 1e-15);
    }
}
