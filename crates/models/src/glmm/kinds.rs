//! Rows alike in all but their site: the same year and the same covariates.
//!
//! A survey has many rows and few kinds (one for each year, when the covariates are those of the year), so what
//! depends on the kind alone is worked out once for each.

use super::layout::Cell;
use std::collections::BTreeMap;

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
        Self {
            of,
            year,
            x: rows,
            columns,
            one_per_cell,
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
}
