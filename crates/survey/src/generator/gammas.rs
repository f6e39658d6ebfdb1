//! The gamma numbers of n trap-weeks that scatter alike: shape n k, by a table where n is small and comes up again and
//! again.

use numerics::draws::{GammaTable, gamma};
use numerics::random::Stream;

/// Sums of more trap-weeks than this are drawn without a table.
const MOST: u32 = 24;

/// Gamma numbers of shape n k and scale 1.
#[derive(Clone, Debug)]
pub(super) struct Gammas {
    k: f64,
    tables: Vec<Option<GammaTable>>,
}

impl Gammas {
    /// For dispersion k and these numbers of trap-weeks; others are drawn too, only slower.
    pub fn new(k: f64, sizes: impl IntoIterator<Item = u32>) -> Self {
        let mut tables = vec![None; MOST as usize + 1];
        for n in sizes.into_iter().filter(|n| (1..=MOST).contains(n)) {
            let table = &mut tables[n as usize];
            if table.is_none() {
                *table = Some(GammaTable::new(k * f64::from(n)));
            }
        }
        Self { k, tables }
    }

    /// The number of `n` trap-weeks, 1 or more.
    #[inline]
    pub fn draw(&self, rng: &mut Stream, n: u32) -> f64 {
        match self.tables.get(n as usize) {
            Some(Some(table)) => table.draw(rng),
            _ => gamma(rng, self.k * f64::from(n)),
        }
    }
}
