//! Which levels each row meets, at which places of the elimination, and which entries of H it adds to.

use super::super::layout::DataError;
use super::design::GeneralDesign;
use super::prior::{Entry, precision};
use numerics::linalg::sparse::Pattern;
use std::collections::BTreeMap;

/// A design ready for elimination.
#[derive(Clone, Debug)]
pub(super) struct Incidence {
    pub design: GeneralDesign,
    pub groups: usize,
    /// Fixed effects are integrated out with the levels.
    pub inner: bool,
    pub pattern: Pattern,
    /// Number of levels in all; the fixed effects' places follow.
    pub levels: usize,
    /// Grouping of each level, by place.
    pub group: Vec<usize>,
    /// Place of each row's level in each grouping, `groups` for each row.
    pub place: Vec<usize>,
    /// Weights, divided by `scale`.
    pub weight: Vec<f64>,
    /// Root mean square of each grouping's weight: its standard deviation is kept as that of the predictor.
    pub scale: Vec<f64>,
    /// Entry of H for each pair of groupings (o <= g) of each row.
    pub slots: Vec<usize>,
    /// Entry of H for each row's level and the first fixed effect, and from one fixed effect to the next.
    pub fixed: Vec<(usize, usize)>,
    /// Entry of H for the first fixed effect with itself, and from one row to the next.
    pub corner: (usize, usize),
    /// R^-1 by places.
    pub prior: Vec<Entry>,
    /// Entries of H it belongs to.
    pub prior_slots: Vec<usize>,
    /// log|R| of all groupings.
    pub prior_ln_det: f64,
}

/// Levels in use numbered from 0, in their own order.
fn compact(level: &[usize]) -> (Vec<usize>, usize) {
    let mut known: BTreeMap<usize, usize> = level.iter().map(|&l| (l, 0)).collect();
    for (i, new) in known.values_mut().enumerate() {
        *new = i;
    }
    (level.iter().map(|l| known[l]).collect(), known.len())
}

impl Incidence {
    pub fn new(mut design: GeneralDesign, inner: bool) -> Result<Self, DataError> {
        design.check()?;
        let n = design.rows();
        // Without fixed effects there is nothing to integrate out.
        let inner = inner && design.columns > 0;
        if design.trials.is_empty() {
            design.trials = vec![1.0; n];
        }
        let groups = design.groupings.len();
        let last = if inner { design.columns } else { 0 };
        let (mut variable, mut weight) = (vec![0; n * groups], vec![1.0; n * groups]);
        let (mut prior, mut group, mut scale) = (Vec::new(), Vec::new(), Vec::new());
        let (mut levels, mut prior_ln_det) = (0, 0.0);
        for (g, grouping) in design.groupings.iter().enumerate() {
            let (level, count) = match &grouping.loadings {
                Some(l) => (grouping.level.clone(), l.len().isqrt()),
                None => compact(&grouping.level),
            };
            let (entries, ln_det) = precision(grouping, count);
            prior_ln_det += ln_det;
            prior.extend(entries.into_iter().map(|e| Entry {
                a: levels + e.a,
                b: levels + e.b,
                ..e
            }));
            let size = grouping.weight.as_ref().map_or(1.0, |w| {
                (w.iter().map(|v| v * v).sum::<f64>() / n as f64).sqrt()
            });
            for i in 0..n {
                variable[i * groups + g] = levels + level[i];
                if let Some(w) = &grouping.weight {
                    weight[i * groups + g] = w[i] / size;
                }
            }
            group.resize(levels + count, g);
            scale.push(size);
            levels += count;
        }
        let rows = variable.chunks_exact(groups.max(1));
        let met = rows
            .flat_map(|row| (0..groups).flat_map(move |g| (0..g).map(move |o| (row[g], row[o]))));
        let pairs = met.chain(prior.iter().map(|e| (e.a, e.b)));
        let pattern = Pattern::new(levels, last, pairs);
        let place: Vec<usize> = variable.iter().map(|&v| pattern.place(v)).collect();
        let by_place = {
            let mut by_place = vec![0; levels];
            for (v, &g) in group.iter().enumerate() {
                by_place[pattern.place(v)] = g;
            }
            by_place
        };
        for e in &mut prior {
            (e.a, e.b) = (pattern.place(e.a), pattern.place(e.b));
        }
        let mut slots = Vec::with_capacity(n * groups * (groups + 1) / 2);
        for row in place.chunks_exact(groups.max(1)) {
            for g in 0..groups {
                slots.extend((0..=g).map(|o| pattern.slot(row[g], row[o])));
            }
        }
        let (start, width) = pattern.tail();
        let fixed = if last == 0 {
            Vec::new()
        } else {
            let first = |&a: &usize| {
                let slot = pattern.slot(levels, a);
                (slot, if slot >= start { width } else { 1 })
            };
            place.iter().map(first).collect()
        };
        let corner = if last == 0 {
            (0, 0)
        } else {
            (pattern.slot(levels, levels), width)
        };
        let prior_slots = prior.iter().map(|e| pattern.slot(e.a, e.b)).collect();
        Ok(Self {
            groups,
            inner,
            pattern,
            levels,
            group: by_place,
            place,
            weight,
            scale,
            slots,
            fixed,
            corner,
            prior,
            prior_slots,
            prior_ln_det,
            design,
        })
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.design.rows()
    }

    /// Covariates of a row.
    #[inline(always)]
    pub fn x(&self, row: usize) -> &[f64] {
        let p = self.design.columns;
        &self.design.x[row * p..(row + 1) * p]
    }

    /// G'v: adds `sd * weight * v` of each row to its levels and, if `fixed`, x v to the fixed effects.
    pub fn gather(&self, v: &[f64], sd: &[f64], fixed: bool, out: &mut [f64]) {
        let (levels, fixed_out) = out.split_at_mut(self.levels);
        if self.groups > 0 {
            let rows = self.place.chunks_exact(self.groups);
            let rows = rows.zip(self.weight.chunks_exact(self.groups));
            for ((place, weight), v) in rows.zip(v) {
                for ((&a, weight), sd) in place.iter().zip(weight).zip(sd) {
                    levels[a] += sd * weight * v;
                }
            }
        }
        if fixed && self.inner && self.design.columns > 0 {
            for (x, v) in self.design.x.chunks_exact(self.design.columns).zip(v) {
                for (out, x) in fixed_out.iter_mut().zip(x) {
                    *out += x * v;
                }
            }
        }
    }

    /// Adds to each row of `out` its `sd * weight * z` and x'beta.
    pub fn spread(&self, z: &[f64], sd: &[f64], beta: &[f64], out: &mut [f64]) {
        if self.groups > 0 {
            let rows = self.place.chunks_exact(self.groups);
            let rows = rows.zip(self.weight.chunks_exact(self.groups));
            for ((place, weight), out) in rows.zip(&mut *out) {
                for ((&a, weight), sd) in place.iter().zip(weight).zip(sd) {
                    *out += sd * weight * z[a];
                }
            }
        }
        if !beta.is_empty() {
            for (x, out) in self.design.x.chunks_exact(beta.len()).zip(out) {
                *out += x.iter().zip(beta).map(|(x, b)| x * b).sum::<f64>();
            }
        }
    }
}
