//! The inverse of the levels' correlation: what the prior adds to H, and its quadratic form.

use super::design::Grouping;

/// One entry of R^-1 on or below the diagonal, between levels `a` and `b` (later: places).
#[derive(Clone, Copy, Debug)]
pub(super) struct Entry {
    pub a: usize,
    pub b: usize,
    pub value: f64,
}

/// R^-1 of one grouping by its own levels, and log|R|.
pub(super) fn precision(grouping: &Grouping, levels: usize) -> (Vec<Entry>, f64) {
    let Some(l) = &grouping.loadings else {
        let one = |a| Entry {
            a,
            b: a,
            value: 1.0,
        };
        return ((0..levels).map(one).collect(), 0.0);
    };
    // M = L^-1 by rows, then R^-1 = M'M.
    let mut m = vec![0.0; levels * levels];
    for i in 0..levels {
        let (done, own) = m.split_at_mut(i * levels);
        let inv = 1.0 / l[i * levels + i];
        for k in 0..i {
            let share = -l[i * levels + k] * inv;
            for (v, d) in own[..=k].iter_mut().zip(&done[k * levels..]) {
                *v += share * d;
            }
        }
        own[i] = inv;
    }
    let dot = |a: usize, b: usize| -> f64 {
        (a.max(b)..levels)
            .map(|k| m[k * levels + a] * m[k * levels + b])
            .sum()
    };
    // An entry that is 0 but for rounding (beyond an autoregression's neighbours) would only be filled in.
    const ROUNDING: f64 = 1e-13;
    let diagonal: Vec<f64> = (0..levels).map(|a| dot(a, a)).collect();
    let mut entries = Vec::new();
    for a in 0..levels {
        for b in 0..=a {
            let value = if a == b { diagonal[a] } else { dot(a, b) };
            if a == b || value * value > ROUNDING * ROUNDING * diagonal[a] * diagonal[b] {
                entries.push(Entry { a, b, value });
            }
        }
    }
    let ln_det = (0..levels)
        .map(|i| 2.0 * numerics::maths::ln(l[i * levels + i]))
        .sum();
    (entries, ln_det)
}

/// z'R^-1 z.
pub(super) fn square(prior: &[Entry], z: &[f64]) -> f64 {
    let one = |e: &Entry| e.value * z[e.a] * z[e.b] * if e.a == e.b { 1.0 } else { 2.0 };
    prior.iter().map(one).sum()
}

/// Takes R^-1 z off `out`.
pub(super) fn take_off(prior: &[Entry], z: &[f64], out: &mut [f64]) {
    for e in prior {
        out[e.a] -= e.value * z[e.b];
        if e.a != e.b {
            out[e.b] -= e.value * z[e.a];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::loadings::ar1_loadings;
    use super::*;

    /// The inverse of an autoregression's correlation is tridiagonal: 1/(1 - rho^2) times 1 at the ends,
    /// 1 + rho^2 inside, -rho beside the diagonal (Rue & Held 2005, Gaussian Markov Random Fields, eq. 1.3).
    #[test]
    fn autoregression_links_neighbours_alone() {
        let (n, rho) = (30, 0.8);
        let grouping = Grouping {
            loadings: ar1_loadings(n, rho),
            ..Grouping::default()
        };
        let (entries, ln_det) = precision(&grouping, n);
        assert_eq!(entries.len(), 2 * n - 1);
        let fresh = 1.0 - rho * rho;
        for e in entries {
            let want = match (e.a - e.b, e.a) {
                (1, _) => -rho,
                (_, 0) => 1.0,
                (_, a) if a == n - 1 => 1.0,
                _ => 1.0 + rho * rho,
            };
            assert!((e.value - want / fresh).abs() < 1e-13, "{e:?}");
        }
        let want = (n - 1) as f64 * numerics::maths::ln(fresh);
        assert!((ln_det - want).abs() < 1e-12);
    }
}
