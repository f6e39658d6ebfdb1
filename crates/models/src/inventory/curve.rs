//! Species expected at any size of an inventory, and the size that is needed.
//!
//! Smaller sizes by exact rarefaction (Hurlbert 1971, Ecology 52:577-586), larger ones by
//! S(n + m) = S + f0 (1 - (1 - f1/(n f0 + f1))^m) (Colwell et al. 2012, J. Plant Ecol. 5:3-21), for samples with T, Q0, Q1.
//! Between whole sizes below n the curve is straight. Coverage of every size is in [`super::coverage::at`].

use super::absence::absent;
use super::coverage;
use super::frequencies::Frequencies;
use super::richness;
use numerics::maths::{ln, pow};

/// How far a size lies from what was seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reach {
    /// Not above the inventory's own size.
    Seen,
    /// Up to twice its size.
    Double,
    /// Up to three times its size: numbers of species hang on the rarest species, coverage still holds.
    Triple,
    /// Beyond: not reliable.
    Beyond,
}

/// How far `m` individuals (samples) lie from what was seen.
///
/// Common practice (Colwell et al. 2012; Chao et al. 2014, Ecol. Monogr. 84:45-67; from memory) goes to twice or at most
/// three times the size: further out the curve runs into the estimated richness, which is a lower bound, so that it is
/// too low and its intervals too narrow. NaN counts as beyond.
pub fn reach(of: &Frequencies, m: f64) -> Reach {
    let times = m / of.size();
    if times <= 1.0 {
        Reach::Seen
    } else if times <= 2.0 {
        Reach::Double
    } else if times <= 3.0 {
        Reach::Triple
    } else {
        Reach::Beyond
    }
}

/// A curve at m from its values at whole sizes; NaN for m below 0 or NaN.
pub(super) fn straight_between(m: f64, whole: impl Fn(f64) -> f64) -> f64 {
    if m.is_nan() || m < 0.0 {
        return f64::NAN;
    }
    let low = m.floor();
    let below = whole(low);
    if m == low {
        return below;
    }
    below + (m - low) * (whole(low + 1.0) - below)
}

/// Species expected among `m` individuals (samples), from 0 up, whole or not; infinity gives the estimated richness.
/// NaN for m below 0 or NaN, and beyond one individual (one sample), which tells of no other.
pub fn species(of: &Frequencies, m: f64) -> f64 {
    if m <= of.size() || m.is_nan() {
        return straight_between(m, |m| rarefied(of, m));
    }
    if of.size() <= 1.0 {
        return f64::NAN;
    }
    let a = coverage::decay(of.size(), of.once(), of.twice());
    of.species() + richness::unseen(of) * (1.0 - pow(a, m - of.size()))
}

/// At a whole size up to the inventory's own.
fn rarefied(of: &Frequencies, m: f64) -> f64 {
    of.counts()
        .iter()
        .map(|&(x, species)| species as f64 * (1.0 - absent(of.size(), x as f64, m)))
        .sum()
}

/// Individuals (samples) in all at which coverage is expected to reach `wanted`, from 0 to 1.
///
/// The inverse of [`coverage::at`] both ways (the smallest size where the curve is level); ask [`reach`] how far to trust
/// it. `None` when no size reaches it (full coverage while species are still seen once), for one individual (one
/// sample), and for a share that is none.
pub fn size_for_coverage(of: &Frequencies, wanted: f64) -> Option<f64> {
    if !(0.0..=1.0).contains(&wanted) || of.size() <= 1.0 || of.total() <= 0.0 {
        return None;
    }
    if wanted <= coverage::estimated(of) {
        return Some(smallest(of.size(), wanted, |m| coverage::at(of, m)));
    }
    if wanted == 1.0 {
        return None;
    }
    let a = coverage::decay(of.size(), of.once(), of.twice());
    Some(of.size() - 1.0 + ln((1.0 - wanted) * of.total() / of.once()) / ln(a))
}

/// Individuals (samples) in all at which the species seen are expected to reach this share, 0 to 1, of the estimated
/// richness (Chao et al. 2009, Ecology 90:1125-1133).
///
/// The inverse of [`species`] both ways; ask [`reach`] how far to trust it. `None` when no size reaches it (all species
/// while some are reckoned unseen), for one individual (one sample), and for a share that is none.
pub fn size_for_share(of: &Frequencies, wanted: f64) -> Option<f64> {
    if !(0.0..=1.0).contains(&wanted) || of.size() <= 1.0 || of.total() <= 0.0 {
        return None;
    }
    let unseen = richness::unseen(of);
    let all = of.species() + unseen;
    let species_wanted = wanted * all;
    if species_wanted <= of.species() {
        return Some(smallest(of.size(), species_wanted, |m| species(of, m)));
    }
    if wanted == 1.0 {
        return None;
    }
    let a = coverage::decay(of.size(), of.once(), of.twice());
    Some(of.size() + ln((1.0 - wanted) * all / unseen) / ln(a))
}

/// The smallest size up to `size` at which a rising curve, straight between whole sizes, reaches `wanted`.
fn smallest(size: f64, wanted: f64, curve: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, size);
    if curve(low) >= wanted {
        return low;
    }
    while high - low > 1.0 {
        let middle = ((low + high) / 2.0).floor();
        if curve(middle) >= wanted {
            high = middle;
        } else {
            low = middle;
        }
    }
    let (below, above) = (curve(low), curve(high));
    low + (wanted - below) / (above - below)
}

#[cfg(test)]
mod tests {
    use super::super::frequencies::{Abundances, Incidences, data};
    use super::*;

    fn inventories() -> Vec<Frequencies> {
        vec![
            data::spiders_girdled().frequencies().clone(),
            data::beetles_old_growth().frequencies().clone(),
            data::toy().frequencies().clone(),
            data::toy_without_twice().frequencies().clone(),
            Incidences::new(12, &[12, 9, 5, 5, 3, 2, 2, 1, 1, 1, 1])
                .unwrap()
                .frequencies()
                .clone(),
        ]
    }

    /// Girdled spiders (S 26, n 168, f1 12, f2 4; Chao et al. 2014, Ecol. Monogr. 84:45-67) by the formulas of Colwell et
    /// al. (2012) and Chao & Jost (2012).
    #[test]
    fn girdled_spiders() {
        let a = data::spiders_girdled();
        let f = a.frequencies();
        assert!((species(f, 252.0) - 31.089_085).abs() < 6e-7);
        assert!((species(f, 336.0) - 34.730_733).abs() < 6e-7);
        let further = size_for_coverage(f, 0.95).unwrap() - 168.0;
        assert!((further - 88.525_293).abs() < 6e-7, "{further}");
        assert_eq!(species(f, f64::INFINITY), richness::estimated(f).estimated);
    }

    /// The mean number of species over every choice of m individuals, and of t samples.
    #[test]
    fn rarefaction_by_enumeration() {
        let a = Abundances::new(&[5, 2, 2, 1, 1]).unwrap();
        let animals: Vec<u32> = a
            .counts()
            .iter()
            .zip(0u32..)
            .flat_map(|(&c, s)| std::iter::repeat_n(1 << s, c as usize))
            .collect();
        check_all_choices(a.frequencies(), &animals);
        // Species of each of 6 samples as bits.
        let samples = [0b00111, 0b00011, 0b01001, 0b10010, 0b00001, 0b00000];
        let table: Vec<u64> = (0..5)
            .flat_map(|s| samples.map(|species| u64::from(species >> s & 1 == 1)))
            .collect();
        let i = Incidences::from_table(&table, 6).unwrap();
        check_all_choices(i.frequencies(), &samples);
    }

    fn check_all_choices(f: &Frequencies, units: &[u32]) {
        let n = units.len();
        let mut sums = vec![(0.0, 0.0); n + 1];
        for chosen in 0u32..1 << n {
            let seen = (0..n)
                .filter(|&i| chosen >> i & 1 == 1)
                .fold(0, |seen, i| seen | units[i]);
            let sum = &mut sums[chosen.count_ones() as usize];
            sum.0 += f64::from(seen.count_ones());
            sum.1 += 1.0;
        }
        for (m, (sum, ways)) in sums.into_iter().enumerate() {
            let got = species(f, m as f64);
            assert!((got - sum / ways).abs() < 1e-12, "{m}: {got}");
        }
    }

    /// At the inventory's own size both sides meet; both curves rise everywhere, except that coverage is level just below
    /// it where no species was seen twice; and each further individual adds fewer species.
    #[test]
    fn continuous_and_rising() {
        for f in inventories() {
            let n = f.size();
            for (curve, at_n) in [
                (species as fn(&Frequencies, f64) -> f64, f.species()),
                (coverage::at, coverage::estimated(&f)),
            ] {
                assert!((curve(&f, n) - at_n).abs() < 1e-9);
                for side in [-1e-7, 1e-7] {
                    assert!((curve(&f, n + side) - at_n).abs() < 1e-6, "{n}");
                }
                let values: Vec<f64> = (0..)
                    .map_while(|i| {
                        let m = f64::from(i) * 0.25;
                        (m <= 3.0 * n).then(|| curve(&f, m))
                    })
                    .collect();
                for pair in values.windows(2) {
                    assert!(
                        pair[1] > pair[0] || (f.twice() == 0.0 && pair[1] >= pair[0] - 1e-14),
                        "{n}: {pair:?}"
                    );
                }
            }
            // Whole steps of species become smaller and smaller.
            let steps: Vec<f64> = (0..3 * n as u32)
                .map(|m| species(&f, f64::from(m) + 1.0) - species(&f, f64::from(m)))
                .collect();
            for pair in steps.windows(2) {
                assert!(pair[1] <= pair[0] + 1e-9, "{n}: {pair:?}");
            }
        }
    }

    /// The next individual's chance to be of a new species is what is not covered (Chao & Jost 2012), exactly so below
    /// and above the inventory's size.
    #[test]
    fn slope_is_what_is_not_covered() {
        for a in [data::spiders_girdled(), data::toy_without_twice()] {
            let f = a.frequencies();
            let n = f.size() as u32;
            for m in [0, 1, n / 2, n - 1, n, n + 7, 2 * n] {
                let m = f64::from(m);
                let step = species(f, m + 1.0) - species(f, m);
                assert!(
                    (step - (1.0 - coverage::at(f, m))).abs() < 1e-10,
                    "{m} {step}"
                );
            }
        }
    }

    #[test]
    fn sizes_invert_the_curves() {
        for f in inventories() {
            let all = richness::estimated(&f).estimated;
            for i in 1..400 {
                let m = f.size() * 3.0 * f64::from(i) / 400.0;
                let back = size_for_coverage(&f, coverage::at(&f, m)).unwrap();
                // Where the curve is level (see above) the smallest size comes back.
                let level = f.twice() == 0.0 && m > f.size() - 2.0 && m < f.size() - 1.0;
                let there = if level { f.size() - 2.0 } else { m };
                assert!((back - there).abs() < 1e-6 * f.size(), "{m} {back}");
                let back = size_for_share(&f, species(&f, m) / all).unwrap();
                assert!((back - m).abs() < 1e-6 * f.size(), "{m} {back}");
            }
            for share in [0.0, 1e-3, 0.3, 0.7, 0.9, 0.99, 0.9999] {
                let m = size_for_coverage(&f, share).unwrap();
                assert!((coverage::at(&f, m) - share).abs() < 1e-12);
                let m = size_for_share(&f, share).unwrap();
                assert!((species(&f, m) / all - share).abs() < 1e-12);
            }
            assert_eq!(size_for_coverage(&f, 1.0), None);
            assert_eq!(size_for_share(&f, 1.0), None);
        }
    }

    #[test]
    fn what_no_size_gives() {
        let a = data::toy();
        let f = a.frequencies();
        for bad in [-0.1, 1.1, f64::NAN] {
            assert_eq!(size_for_coverage(f, bad), None);
            assert_eq!(size_for_share(f, bad), None);
        }
        let one = Abundances::new(&[1]).unwrap();
        assert_eq!(size_for_coverage(one.frequencies(), 0.5), None);
        assert_eq!(size_for_share(one.frequencies(), 0.5), None);
        assert_eq!(species(one.frequencies(), 1.0), 1.0);
        assert!(species(one.frequencies(), 2.0).is_nan());
        assert!(species(f, -1.0).is_nan() && species(f, f64::NAN).is_nan());
        // Nothing seen once: full coverage, and every species, with one animal fewer.
        let full = Abundances::new(&[4, 2, 2]).unwrap();
        assert_eq!(size_for_coverage(full.frequencies(), 1.0), Some(7.0));
        assert_eq!(size_for_share(full.frequencies(), 1.0), Some(7.0));
    }

    #[test]
    fn how_far() {
        let a = data::toy();
        let f = a.frequencies();
        let reaches = [25.0, 26.0, 50.0, 51.0, 75.0, 76.0, f64::NAN].map(|m| reach(f, m));
        use Reach::{Beyond, Double, Seen, Triple};
        assert_eq!(
            reaches,
            [Seen, Double, Double, Triple, Triple, Beyond, Beyond]
        );
    }
}
