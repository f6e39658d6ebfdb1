//! By detection: the expected information of occupancy and detection ([`models::occupancy::information`]) is what the
//! analysis believes; since the same sites are seen again, the truth is the sandwich of it about the covariance of the
//! scores.

use super::{Seen, Variances, inverse, times};
use crate::evaluate::EDGE_COLUMNS;
use models::occupancy::information::expected_information;
use models::occupancy::precision::SamplingDesign;
use numerics::maths::pow;

/// The variances, from the true coefficients; `None` with one visit a year.
pub(super) fn variances(
    seen: &Seen,
    beta: &[f64],
    weeks: u32,
    each_year: bool,
) -> Option<Variances> {
    if weeks < 2 {
        return None;
    }
    let (sites, years) = (seen.sites, seen.years);
    let own = if each_year { years } else { 1 };
    let wide = EDGE_COLUMNS + own;
    let k = f64::from(weeks);
    let column = |y: usize| EDGE_COLUMNS + if each_year { y } else { 0 };
    let (mut information, mut scores) = (vec![0.0; wide * wide], vec![0.0; wide * wide]);
    for s in 0..sites {
        // Change of the mean score of each year by the site's being occupied then.
        let mut shown: Vec<Vec<f64>> = Vec::with_capacity(years);
        for y in 0..years {
            let i = s * years + y;
            let (psi, p) = (seen.psi[i], seen.detection[y].even());
            if psi < 1e-12 {
                // A site that is far off the edge says nothing. One far within it tells detection.
                shown.push(vec![0.0; wide]);
                continue;
            }
            let x = seen.row(i);
            let to = |v: &mut [f64], of_psi: f64, of_p: f64| {
                for (v, x) in v.iter_mut().zip(x) {
                    *v = of_psi * x;
                }
                v[column(y)] = of_p;
            };
            let [a, b, _, c] = expected_information(psi, p, weeks, SamplingDesign::Standard);
            let (by_psi, by_p) = (psi * (1.0 - psi), p * (1.0 - p));
            let (a, b, c) = (a * by_psi * by_psi, b * by_psi * by_p, c * by_p * by_p);
            for j in 0..=EDGE_COLUMNS {
                for l in 0..=EDGE_COLUMNS {
                    let value = match (j < EDGE_COLUMNS, l < EDGE_COLUMNS) {
                        (true, true) => a * x[j] * x[l],
                        (true, false) => b * x[j],
                        (false, true) => b * x[l],
                        (false, false) => c,
                    };
                    let place = |j: usize| if j < EDGE_COLUMNS { j } else { column(y) };
                    information[place(j) * wide + place(l)] += value;
                }
            }
            let missed = pow(1.0 - p, k);
            let found = 1.0 - missed;
            // Chance that a site which showed nothing is occupied.
            let still = if psi < 1.0 {
                psi * missed / (psi * missed + 1.0 - psi)
            } else {
                1.0
            };
            let mut score = vec![0.0; wide];
            to(
                &mut score,
                found * (1.0 - still),
                k * p * (missed * (1.0 - still) + still),
            );
            shown.push(score);
        }
        for y in 0..years {
            // What the other years' scores have in common with this one's.
            let mut others = vec![0.0; wide];
            for z in (0..years).filter(|z| *z != y) {
                let together = seen.occupied(s * years + y, s * years + z);
                for (o, v) in others.iter_mut().zip(&shown[z]) {
                    *o += together * v;
                }
            }
            for (j, own) in shown[y].iter().enumerate() {
                for (l, other) in others.iter().enumerate() {
                    scores[j * wide + l] += own * other;
                }
            }
        }
    }
    let believed = inverse(information, wide)?;
    let more = times(&times(&believed, &scores, wide), &believed, wide);
    let truth: Vec<f64> = believed.iter().zip(&more).map(|(b, m)| b + m).collect();
    Some(Variances {
        truth: seen.of_move(beta, &truth, wide),
        believed: seen.of_move(beta, &believed, wide),
        floor: 0.0,
    })
}
