//! An assemblage completed for the species not seen, from which further inventories can be drawn.
//!
//! Chao et al. (2014), Ecol. Monogr. 84:45-67, appendix, after Chao & Jost (2012), Ecology 93:2533-2547. A species seen x
//! times has the share (x/n) (1 - lambda (1 - x/n)^n), with lambda such that the shares of the species seen add up to the
//! estimated coverage C; what is left goes in equal parts to the species reckoned unseen, f0 rounded up. For incidences
//! x/n becomes the chance Y/T to be in a sample, which add up to (U/T) C.

use super::coverage;
use super::frequencies::{Abundances, Frequencies, Incidences};
use super::richness;
use numerics::draws::{binomial, multinomial};
use numerics::maths::{exp, ln_1p};
use numerics::random::Stream;

/// Shares of individuals (or chances to be in a sample), species seen and not.
#[derive(Clone, Debug, PartialEq)]
pub struct Completed {
    /// Of each species, in the order of the counts, 0 where a count is 0.
    pub seen: Vec<f64>,
    /// How many species are reckoned unseen, a whole number.
    pub unseen: usize,
    /// Of each species unseen.
    pub each_unseen: f64,
}

impl Completed {
    fn new(counts: &[u64], of: &Frequencies) -> Self {
        let (size, total) = (of.size(), of.total());
        // One individual tells nothing of unseen species: it stands for itself.
        let not_covered = if size > 1.0 {
            total / size * (1.0 - coverage::estimated(of))
        } else {
            0.0
        };
        let missed = |x: f64| {
            if x < size {
                exp(size * ln_1p(-x / size))
            } else {
                0.0
            }
        };
        let taken: f64 = of
            .counts()
            .iter()
            .map(|&(x, species)| species as f64 * x as f64 / size * missed(x as f64))
            .sum();
        let lambda = if not_covered > 0.0 {
            not_covered / taken
        } else {
            0.0
        };
        let seen = counts
            .iter()
            .map(|&x| x as f64 / size * (1.0 - lambda * missed(x as f64)))
            .collect();
        let unseen = richness::unseen(of).ceil();
        Self {
            seen,
            unseen: unseen as usize,
            each_unseen: if unseen > 0.0 {
                not_covered / unseen
            } else {
                0.0
            },
        }
    }

    /// All shares, unseen species last.
    pub fn all(&self) -> impl DoubleEndedIterator<Item = f64> + Clone + '_ {
        let unseen = (0..self.unseen).map(|_| self.each_unseen);
        self.seen.iter().copied().chain(unseen)
    }
}

/// An inventory that can be completed for unseen species and drawn anew.
pub trait Complete {
    /// How many species were seen how often.
    fn frequencies(&self) -> &Frequencies;
    /// The completed assemblage.
    fn completed(&self) -> Completed;
    /// An inventory of the same size drawn from a completed assemblage.
    fn redraw(&self, from: &Completed, stream: &mut Stream) -> Frequencies;
}

impl Complete for Abundances {
    fn frequencies(&self) -> &Frequencies {
        Abundances::frequencies(self)
    }

    fn completed(&self) -> Completed {
        Completed::new(self.counts(), Abundances::frequencies(self))
    }

    /// All individuals over the shares, multinomial.
    fn redraw(&self, from: &Completed, stream: &mut Stream) -> Frequencies {
        let n = self.individuals() as u64;
        Frequencies::new(&multinomial(stream, n, from.all()), n)
    }
}

impl Complete for Incidences {
    fn frequencies(&self) -> &Frequencies {
        Incidences::frequencies(self)
    }

    fn completed(&self) -> Completed {
        Completed::new(self.counts(), Incidences::frequencies(self))
    }

    /// Samples with each species, binomial and apart from each other.
    fn redraw(&self, from: &Completed, stream: &mut Stream) -> Frequencies {
        let samples = self.samples() as u64;
        let counts: Vec<u64> = from.all().map(|p| binomial(stream, samples, p)).collect();
        Frequencies::new(&counts, samples)
    }
}

#[cfg(test)]
mod tests {
    use super::super::frequencies::data;
    use super::*;

    #[test]
    fn shares_add_up() {
        for a in [
            data::spiders_girdled(),
            data::beetles_old_growth(),
            data::toy(),
            data::toy_without_twice(),
            Abundances::new(&[4, 2, 2, 0]).unwrap(),
            Abundances::new(&[5, 1]).unwrap(),
            Abundances::new(&[1, 1, 1]).unwrap(),
            Abundances::new(&[1]).unwrap(),
        ] {
            let c = a.completed();
            let f = Complete::frequencies(&a);
            assert!((c.all().sum::<f64>() - 1.0).abs() < 1e-12);
            if f.size() > 1.0 {
                let seen: f64 = c.seen.iter().sum();
                assert!((seen - coverage::estimated(f)).abs() < 1e-12);
            }
            for (share, &count) in c.seen.iter().zip(a.counts()) {
                assert!(if count > 0 {
                    *share > 0.0
                } else {
                    *share == 0.0
                });
            }
            assert_eq!(c.unseen as f64, richness::unseen(f).ceil());
        }
        let i = Incidences::new(12, &[12, 9, 5, 5, 3, 2, 2, 1, 1, 1, 1]).unwrap();
        let c = i.completed();
        let sum: f64 = c.all().sum();
        assert!((sum - i.total() / 12.0).abs() < 1e-12);
        assert!(c.all().all(|p| p > 0.0 && p <= 1.0));
    }
}
