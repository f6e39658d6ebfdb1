//! Rows alike in all but their site: the same year and the same covariates.
//!
//! A survey has many rows and few kinds (one for each year, when the covariates are those of the year), so what
//! depends on the kind alone is worked out once for each.

use super::layout::Cell;
use numerics::maths::slices;
use std::collections::BTreeMap;
use std::ops::Range;

/// The kinds of a layout.
#[derive(Clone, Debug)]
pub(super) struct Kinds {
    /// Kind of each row.
    pub of: Vec<usize>,
    /// Year of each kind.
    pub year: Vec<usize>,
    /// Covariates of each kind, row-major.
    x: Vec<f64>,
    columns: usize,
    /// All rows of a site-year are of one kind, in every site-year.
    pub one_per_cell: bool,
    /// Every site-year has one row: what holds of the cells can be said row by row.
    pub single: bool,
    /// Every site has each kind once, in order, and there is one kind for each year: no index is then needed.
    pub aligned: bool,
    /// Covariates of the kinds, one covariate after another.
    by_column: Vec<f64>,
}

impl Kinds {
    pub fn new(cells: &[Cell], x: &[f64], columns: usize) -> Self {
        let mut known = BTreeMap::new();
        let (mut of, mut year, mut rows) = (Vec::new(), Vec::new(), Vec::new());
        let mut one_per_cell = true;
        for cell in cells {
            for i in cell.start..cell.end {
                let own = &x[i * columns..(i + 1) * columns];
                let bits: Vec<u64> = own.iter().map(|v| v.to_bits()).collect();
                let next = year.len();
                let kind = *known.entry((cell.year, bits)).or_insert(next);
                if kind == next {
                    year.push(cell.year);
                    rows.extend_from_slice(own);
                }
                of.push(kind);
                one_per_cell &= kind == of[cell.start];
            }
        }
        let n = year.len();
        let single = cells.len() == of.len();
        let aligned = single
            && years_in_order(&year)
            && of.len() % n == 0
            && of.iter().enumerate().all(|(i, &k)| k == i % n)
            && cells
                .chunks(n)
                .all(|site| site.iter().all(|c| c.site == site[0].site));
        let by_column = (0..columns)
            .flat_map(|j| rows.iter().skip(j).step_by(columns).copied())
            .collect();
        Self {
            aligned,
            by_column,
            of,
            year,
            x: rows,
            columns,
            one_per_cell,
            single,
        }
    }

    /// Number of kinds.
    pub fn len(&self) -> usize {
        self.year.len()
    }

    /// Covariates of kind `k`.
    #[inline(always)]
    pub fn x(&self, k: usize) -> &[f64] {
        &self.x[k * self.columns..(k + 1) * self.columns]
    }

    /// Covariate `j` of each kind.
    #[inline(always)]
    pub fn column(&self, j: usize) -> &[f64] {
        &self.by_column[j * self.len()..(j + 1) * self.len()]
    }

    /// Gives each of `rows` `base` and the number of its kind.
    #[inline(always)]
    pub fn spread(&self, by_kind: &[f64], base: f64, rows: Range<usize>, out: &mut [f64]) {
        if self.aligned {
            for (out, v) in out[rows].iter_mut().zip(by_kind) {
                *out = base + v;
            }
        } else {
            for (out, &k) in out[rows.clone()].iter_mut().zip(&self.of[rows]) {
                *out = base + by_kind[k];
            }
        }
    }

    /// Adds the values of `rows` to their kinds, and gives their sum.
    #[inline(always)]
    pub fn collect(&self, values: &[f64], rows: Range<usize>, by_kind: &mut [f64]) -> f64 {
        let values = &values[rows.clone()];
        if self.aligned {
            for (k, v) in by_kind.iter_mut().zip(values) {
                *k += v;
            }
        } else {
            for (v, &k) in values.iter().zip(&self.of[rows]) {
                by_kind[k] += v;
            }
        }
        slices::sum(values)
    }
}

fn years_in_order(year: &[usize]) -> bool {
    year.iter().enumerate().all(|(k, &y)| k == y)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(sites: usize, years: usize) -> Kinds {
        let cells: Vec<Cell> = (0..sites * years)
            .map(|i| Cell {
                site: i / years,
                year: i % years,
                start: i,
                end: i + 1,
            })
            .collect();
        let x: Vec<f64> = cells.iter().flat_map(|c| [1.0, c.year as f64]).collect();
        Kinds::new(&cells, &x, 2)
    }

    #[test]
    fn with_and_without_indices_the_same() {
        let straight = kinds(3, 4);
        assert!(straight.aligned && straight.one_per_cell && straight.len() == 4);
        assert_eq!(straight.column(1), [0.0, 1.0, 2.0, 3.0]);
        let indexed = Kinds {
            aligned: false,
            ..straight.clone()
        };
        let values: Vec<f64> = (0..12).map(|i| 0.1 * f64::from(i)).collect();
        let run = |kinds: &Kinds| {
            let (mut sums, mut out) = (vec![0.0; 4], vec![0.0; 12]);
            let total = kinds.collect(&values, 4..8, &mut sums);
            kinds.spread(&sums, 0.7, 8..12, &mut out);
            (total, sums, out)
        };
        assert_eq!(run(&straight), run(&indexed));
    }
}
