//! Where the factor has entries, and which entries an elimination step meets.

use super::ordering::minimum_degree;
use std::ops::Range;

/// The pattern of a symmetric matrix and of its factor. Places are positions in the order of elimination: the head
/// first, then the tail, whose last variables are those named last by the caller.
///
/// Entries are numbered: the head's diagonal, then the head's columns below the diagonal one after another, then the
/// tail as a full row-major square of which the lower triangle is used.
#[derive(Clone, Debug)]
pub struct Pattern {
    /// Place of each variable.
    place: Vec<usize>,
    pub(super) head: usize,
    pub(super) tail: usize,
    pub(super) columns: Vec<Column>,
    /// Rows (places) of all head columns.
    pub(super) rows: Vec<usize>,
    /// See [`Column::updates`].
    pub(super) updates: Vec<usize>,
}

/// A column of the head.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// Its entries in `Pattern::rows`: those in head rows, then those in tail rows.
    pub entries: Range<usize>,
    /// How many of them are in head rows.
    pub in_head: usize,
    /// It meets every row of the tail.
    pub full: bool,
    /// In `Pattern::updates`: for each of its head rows a, where (in `Pattern::rows`) column a holds the rows below a
    /// that this column has: head rows, then (unless full) tail rows.
    pub updates: usize,
}

impl Pattern {
    /// The pattern of `free` variables linked by `pairs`, and of `last` more variables (numbered from `free` on) linked
    /// to all and eliminated last.
    pub fn new(free: usize, last: usize, pairs: impl IntoIterator<Item = (usize, usize)>) -> Self {
        let order = minimum_degree(free, pairs);
        let head = order.head.len();
        let tail = order.tail.len() + last;
        let mut place = vec![0; free + last];
        let eliminated = order.head.iter().map(|(v, _)| *v);
        let all = eliminated.chain(order.tail).chain(free..free + last);
        for (at, v) in all.enumerate() {
            place[v] = at;
        }
        let mut near: Vec<Vec<usize>> = Vec::with_capacity(head);
        for (_, linked) in &order.head {
            let mut rows: Vec<usize> = linked.iter().map(|&v| place[v]).collect();
            rows.sort_unstable();
            rows.extend(head + tail - last..head + tail);
            near.push(rows);
        }
        let mut columns: Vec<Column> = Vec::with_capacity(head);
        let mut filled = vec![false; head];
        let mut rows = Vec::new();
        for (j, near) in near.iter().enumerate() {
            let in_head = near.partition_point(|&r| r < head);
            // Half full is filled up: straight loops are worth more than the zeros cost. What a column fills, the
            // column it is first taken off must have too.
            let full = filled[j] || 2 * (near.len() - in_head) >= tail;
            let start = rows.len();
            rows.extend_from_slice(&near[..in_head]);
            if full {
                rows.extend(head..head + tail);
                if in_head > 0 {
                    filled[near[0]] = true;
                }
            } else {
                rows.extend_from_slice(&near[in_head..]);
            }
            columns.push(Column {
                entries: start..rows.len(),
                in_head,
                full,
                updates: 0,
            });
        }
        let mut pattern = Self {
            place,
            head,
            tail,
            columns,
            rows,
            updates: Vec::new(),
        };
        for j in 0..head {
            pattern.columns[j].updates = pattern.updates.len();
            let column = pattern.columns[j].clone();
            let start = column.entries.start;
            let end = if column.full {
                start + column.in_head
            } else {
                column.entries.end
            };
            for s in start..start + column.in_head {
                let a = pattern.rows[s];
                for t in s + 1..end {
                    let at = pattern.entry(a, pattern.rows[t]);
                    pattern.updates.push(at);
                }
            }
        }
        pattern
    }

    /// Number of variables.
    pub fn len(&self) -> usize {
        self.head + self.tail
    }

    /// Whether there are no variables.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Place of a variable in vectors and in the order of elimination.
    pub fn place(&self, variable: usize) -> usize {
        self.place[variable]
    }

    /// Number of entries kept.
    pub fn entries(&self) -> usize {
        self.head + self.rows.len() + self.tail * self.tail
    }

    /// Where in `rows` head column `a` holds row `row` below it.
    fn entry(&self, a: usize, row: usize) -> usize {
        let range = self.columns[a].entries.clone();
        let found = self.rows[range.clone()].binary_search(&row);
        range.start + found.unwrap_or_else(|_| unreachable!("the pattern lacks ({row}, {a})"))
    }

    /// Number of the entry at two places.
    ///
    /// # Panics
    /// When the two were not named as linked.
    pub fn slot(&self, a: usize, b: usize) -> usize {
        let (low, high) = (a.min(b), a.max(b));
        if low >= self.head {
            self.head + self.rows.len() + (high - self.head) * self.tail + low - self.head
        } else if low == high {
            low
        } else {
            self.head + self.entry(low, high)
        }
    }

    /// Where the tail's square begins among the entries, and its width.
    pub fn tail(&self) -> (usize, usize) {
        (self.head + self.rows.len(), self.tail)
    }
}
