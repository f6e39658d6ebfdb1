//! Expected information of one site about psi and p: the squares of the score of the row likelihood, over all that its
//! visits can find.

use super::precision::SamplingDesign;
use numerics::maths::pow;

/// Something the visits of a site can find, and in how many orders of the visits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VisitOutcome {
    /// Visits made.
    pub visits: f64,
    /// Visits with a detection.
    pub detections: f64,
    /// Number of orders.
    pub orders: f64,
}

/// All that at most `visits` visits (1 or more) of a site can find.
pub fn visit_outcomes(visits: u32, design: SamplingDesign) -> Vec<VisitOutcome> {
    let k = f64::from(visits);
    let outcome = |visits: f64, detections: f64, orders: f64| VisitOutcome {
        visits,
        detections,
        orders,
    };
    // Detections at m visits, `before` of them certain.
    let all = |m: u32, before: f64| {
        let mut orders = 1.0;
        (0..=m)
            .map(move |d| {
                if d > 0 {
                    orders *= f64::from(m - d + 1) / f64::from(d);
                }
                outcome(k, f64::from(d) + before, orders)
            })
            .collect::<Vec<_>>()
    };
    match design {
        SamplingDesign::Standard => all(visits, 0.0),
        SamplingDesign::Removal => (1..=visits)
            .map(|at| outcome(f64::from(at), 1.0, 1.0))
            .chain([outcome(k, 0.0, 1.0)])
            .collect(),
        SamplingDesign::Conditional => [outcome(1.0, 0.0, 1.0)]
            .into_iter()
            .chain(all(visits.saturating_sub(1), 1.0))
            .collect(),
    }
}

/// Expected information of one site about (psi, p), both between 0 and 1, row-major. The sum over all outcomes takes a
/// time that grows with `visits`; up to 1000 of them (beyond, the numbers of orders overflow to NaN).
pub fn expected_information(psi: f64, p: f64, visits: u32, design: SamplingDesign) -> [f64; 4] {
    let q = 1.0 - p;
    let mut out = [0.0; 4];
    for o in visit_outcomes(visits, design) {
        let (d, n) = (o.detections, o.visits);
        let kernel = pow(p, d) * pow(q, n - d);
        let by_p = if d > 0.0 {
            kernel * (d / p - (n - d) / q)
        } else {
            -n * pow(q, n - 1.0)
        };
        let empty = if d > 0.0 { 0.0 } else { 1.0 };
        let chance = psi * kernel + (1.0 - psi) * empty;
        // An outcome that cannot be, or whose chance is beyond the smallest number.
        if chance == 0.0 {
            continue;
        }
        let slope = [kernel - empty, psi * by_p];
        for i in 0..2 {
            for j in 0..=i {
                out[2 * i + j] += o.orders * slope[i] * slope[j] / chance;
            }
        }
    }
    out[1] = out[2];
    out
}

/// The same about (logit psi, logit p).
pub fn expected_information_logit(
    psi: f64,
    p: f64,
    visits: u32,
    design: SamplingDesign,
) -> [f64; 4] {
    let [a, b, _, c] = expected_information(psi, p, visits, design);
    let (u, v) = (psi * (1.0 - psi), p * (1.0 - p));
    [u * u * a, u * v * b, u * v * b, v * v * c]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::occupancy::precision::{expected_visits, variance_factor};
    use SamplingDesign::{Conditional, Removal, Standard};

    /// The closed variances of MacKenzie & Royle (2005, J. Appl. Ecol. 42:1105) and of the conditional design.
    #[test]
    fn inverse_is_the_closed_variance() {
        for design in [Standard, Removal, Conditional] {
            for (psi, p, k) in [
                (0.4, 0.3, 5),
                (0.8, 0.5, 3),
                (0.2, 0.1, 14),
                (0.95, 0.7, 2),
                (0.03, 0.6, 9),
                (0.5, 0.02, 120),
            ] {
                let [a, b, c, d] = expected_information(psi, p, k, design);
                assert_eq!(b, c);
                let got = d / (a * d - b * b);
                let want = variance_factor(psi, p, k, design);
                assert!(
                    (got / want - 1.0).abs() < 1e-9,
                    "{design:?} {psi}: {got} {want}"
                );
            }
        }
    }

    /// Chances add to 1, and visits to those expected.
    #[test]
    fn outcomes_are_all_there_are() {
        for design in [Standard, Removal, Conditional] {
            for (psi, p, k) in [(0.4, 0.3, 5), (0.7, 0.8, 1), (0.2, 0.1, 14)] {
                let (mut total, mut visits) = (0.0, 0.0);
                for o in visit_outcomes(k, design) {
                    let empty = if o.detections > 0.0 { 0.0 } else { 1.0 - psi };
                    let kernel = pow(p, o.detections) * pow(1.0 - p, o.visits - o.detections);
                    let chance = o.orders * (psi * kernel + empty);
                    total += chance;
                    visits += chance * o.visits;
                }
                assert!((total - 1.0).abs() < 1e-13, "{design:?} {k}: {total}");
                let want = expected_visits(psi, p, k, design);
                assert!(
                    (visits - want).abs() < 1e-12,
                    "{design:?} {k}: {visits} {want}"
                );
            }
        }
    }

    /// By the chain rule: var(logit psi) = var(psi)/(psi(1-psi))^2.
    #[test]
    fn on_the_logit_scale() {
        let (psi, p, k) = (0.3, 0.4, 4);
        let [a, b, _, d] = expected_information_logit(psi, p, k, Standard);
        let got = d / (a * d - b * b);
        let want = variance_factor(psi, p, k, Standard) / (0.21 * 0.21);
        assert!((got / want - 1.0).abs() < 1e-12);
    }
}
