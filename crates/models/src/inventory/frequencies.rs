//! What an inventory found: abundances or incidences, and how many species were seen once, twice, ...

use thiserror::Error;

/// The largest total that is counted exactly as a floating number: 2^53.
const MOST: u64 = 1 << 53;

/// Why no inventory can be made of the data.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum InventoryError {
    /// No species was seen.
    #[error("no species seen: give at least one species with a count above 0")]
    Empty,
    /// There are no samples.
    #[error("no samples: give how many samples were taken, at least 1")]
    NoSamples,
    /// A table's cells do not fill its columns.
    #[error(
        "the table has {cells} cells, which are not whole rows of {samples} samples: give every species a count for each sample"
    )]
    Ragged {
        /// Cells given.
        cells: usize,
        /// Columns said to be there.
        samples: usize,
    },
    /// A species in more samples than were taken.
    #[error(
        "species {species} is in {incidence} samples of {samples}: an incidence is the number of samples with the species"
    )]
    BeyondSamples {
        /// Place of the species among those given, the first is 0.
        species: usize,
        /// Its incidence.
        incidence: u64,
        /// Samples taken.
        samples: u64,
    },
    /// More than can be counted exactly.
    #[error("the counts add up to more than 2^53: they cannot be counted exactly")]
    TooMany,
}

/// How many species were seen how often, with the size of what they were seen in.
#[derive(Clone, Debug, PartialEq)]
pub struct Frequencies {
    /// (times seen, species seen so often), ascending, none of them 0.
    counts: Vec<(u64, u64)>,
    size: u64,
    total: u64,
    species: u64,
}

impl Frequencies {
    /// Of counts of each species (0 for species not seen) in an inventory of this size; no species at all is allowed
    /// here, since an inventory that is drawn can be empty.
    pub(super) fn new(counts: &[u64], size: u64) -> Self {
        let mut sorted: Vec<u64> = counts.iter().copied().filter(|&c| c > 0).collect();
        sorted.sort_unstable();
        let mut of: Vec<(u64, u64)> = Vec::new();
        for &c in &sorted {
            match of.last_mut() {
                Some((k, species)) if *k == c => *species += 1,
                _ => of.push((c, 1)),
            }
        }
        Self {
            counts: of,
            size,
            total: sorted.iter().sum(),
            species: sorted.len() as u64,
        }
    }

    /// (times seen, species seen so often), ascending.
    pub fn counts(&self) -> &[(u64, u64)] {
        &self.counts
    }

    /// Individuals n, or samples T.
    pub fn size(&self) -> f64 {
        self.size as f64
    }

    /// Individuals n, or total incidences U.
    pub fn total(&self) -> f64 {
        self.total as f64
    }

    /// Species seen.
    pub fn species(&self) -> f64 {
        self.species as f64
    }

    /// Species seen exactly `times` times: f_k or Q_k.
    pub fn seen(&self, times: u64) -> f64 {
        match self.counts.binary_search_by_key(&times, |&(k, _)| k) {
            Ok(i) => self.counts[i].1 as f64,
            Err(_) => 0.0,
        }
    }

    /// Species seen once: f1 or Q1.
    pub fn once(&self) -> f64 {
        self.seen(1)
    }

    /// Species seen twice: f2 or Q2.
    pub fn twice(&self) -> f64 {
        self.seen(2)
    }
}

/// Sum of counts, refused beyond 2^53.
fn total(counts: impl Iterator<Item = u64>) -> Result<u64, InventoryError> {
    let mut sum: u64 = 0;
    for c in counts {
        sum = sum
            .checked_add(c)
            .filter(|&s| s <= MOST)
            .ok_or(InventoryError::TooMany)?;
    }
    Ok(sum)
}

/// Rows of a species-by-sample table.
fn rows(table: &[u64], samples: usize) -> Result<std::slice::ChunksExact<'_, u64>, InventoryError> {
    if samples == 0 {
        return Err(InventoryError::NoSamples);
    }
    if !table.len().is_multiple_of(samples) {
        return Err(InventoryError::Ragged {
            cells: table.len(),
            samples,
        });
    }
    Ok(table.chunks_exact(samples))
}

/// Individuals of each species.
#[derive(Clone, Debug, PartialEq)]
pub struct Abundances {
    counts: Vec<u64>,
    frequencies: Frequencies,
}

impl Abundances {
    /// From the individuals of each species; species with 0 may be among them and are not counted.
    pub fn new(counts: &[u64]) -> Result<Self, InventoryError> {
        let n = total(counts.iter().copied())?;
        if n == 0 {
            return Err(InventoryError::Empty);
        }
        Ok(Self {
            counts: counts.to_vec(),
            frequencies: Frequencies::new(counts, n),
        })
    }

    /// From a table of individuals, `table[species * samples + sample]`: the samples are added up.
    pub fn from_table(table: &[u64], samples: usize) -> Result<Self, InventoryError> {
        let counts = rows(table, samples)?
            .map(|row| total(row.iter().copied()))
            .collect::<Result<Vec<_>, _>>()?;
        Self::new(&counts)
    }

    /// Individuals of each species, in the order given.
    pub fn counts(&self) -> &[u64] {
        &self.counts
    }

    /// How many species were seen how often.
    pub fn frequencies(&self) -> &Frequencies {
        &self.frequencies
    }

    /// All individuals, n.
    pub fn individuals(&self) -> f64 {
        self.frequencies.total()
    }

    /// Species seen, S.
    pub fn species(&self) -> f64 {
        self.frequencies.species()
    }

    /// Species with one individual.
    pub fn f1(&self) -> f64 {
        self.frequencies.once()
    }

    /// Species with two individuals.
    pub fn f2(&self) -> f64 {
        self.frequencies.twice()
    }
}

/// Samples in which each species occurs.
#[derive(Clone, Debug, PartialEq)]
pub struct Incidences {
    counts: Vec<u64>,
    frequencies: Frequencies,
}

impl Incidences {
    /// From the samples in which each species occurs (0 allowed, not counted), of `samples` taken.
    pub fn new(samples: u64, counts: &[u64]) -> Result<Self, InventoryError> {
        if samples == 0 {
            return Err(InventoryError::NoSamples);
        }
        if let Some((species, &incidence)) = counts.iter().enumerate().find(|&(_, &c)| c > samples)
        {
            return Err(InventoryError::BeyondSamples {
                species,
                incidence,
                samples,
            });
        }
        if samples > MOST {
            return Err(InventoryError::TooMany);
        }
        if total(counts.iter().copied())? == 0 {
            return Err(InventoryError::Empty);
        }
        Ok(Self {
            counts: counts.to_vec(),
            frequencies: Frequencies::new(counts, samples),
        })
    }

    /// From a table of individuals (or of 0 and 1), `table[species * samples + sample]`.
    pub fn from_table(table: &[u64], samples: usize) -> Result<Self, InventoryError> {
        let counts: Vec<u64> = rows(table, samples)?
            .map(|row| row.iter().filter(|&&c| c > 0).count() as u64)
            .collect();
        Self::new(samples as u64, &counts)
    }

    /// Samples with each species, in the order given.
    pub fn counts(&self) -> &[u64] {
        &self.counts
    }

    /// How many species were seen how often.
    pub fn frequencies(&self) -> &Frequencies {
        &self.frequencies
    }

    /// Samples taken, T.
    pub fn samples(&self) -> f64 {
        self.frequencies.size()
    }

    /// Species seen, S.
    pub fn species(&self) -> f64 {
        self.frequencies.species()
    }

    /// Incidences of all species, U.
    pub fn total(&self) -> f64 {
        self.frequencies.total()
    }

    /// Species in one sample.
    pub fn q1(&self) -> f64 {
        self.frequencies.once()
    }

    /// Species in two samples.
    pub fn q2(&self) -> f64 {
        self.frequencies.twice()
    }
}

#[cfg(test)]
pub(crate) mod data;
#[cfg(test)]
mod tests;
