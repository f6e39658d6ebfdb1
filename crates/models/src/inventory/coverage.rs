//! Sample coverage: the share of a community's individuals that belongs to the species seen.
//!
//! Good (1953), Biometrika 40:237-264; Chao & Jost (2012), Ecology 93:2533-2547: C = 1 - (f1/n) A with
//! A = (n-1) f1/((n-1) f1 + 2 f2), and where no species was seen twice A = (n-1)(f1-1)/((n-1)(f1-1) + 2). For
//! incidences f1, f2 become Q1, Q2, the n of the ratio f1/n the total incidences U, and the n of A the samples T; what
//! is covered is then the sum of the species' chances to be in a sample.
//!
//! Individuals must be caught apart from each other. Where they come in clumps, species are seldom seen just once, and
//! coverage by individuals is told too high; incidences of separate samples are proof against that.

use super::absence::absent;
use super::frequencies::Frequencies;
use numerics::maths::pow;

/// Good & Turing's coverage 1 - f1/n (for incidences 1 - Q1/U): that of an inventory one individual (sample) smaller.
pub fn good_turing(of: &Frequencies) -> f64 {
    1.0 - share_once(of.total(), of.once())
}

/// Coverage of the inventory by Chao & Jost (2012).
///
/// Special cases: 1 when no species was seen once; 0 for one individual (one sample), or where nothing was caught, of
/// which the formula cannot speak. With just one species seen once and none twice the published formula gives 1,
/// above Good & Turing's 1 - 1/n.
pub fn estimated(of: &Frequencies) -> f64 {
    from_counts(of.size(), of.total(), of.once(), of.twice())
}

/// As [`estimated`], from the numbers it takes: size, total, and species seen once and twice.
pub fn from_counts(size: f64, total: f64, once: f64, twice: f64) -> f64 {
    if size <= 1.0 || total <= 0.0 {
        return 0.0;
    }
    1.0 - share_once(total, once) * decay(size, once, twice)
}

fn share_once(total: f64, once: f64) -> f64 {
    if total > 0.0 { once / total } else { 1.0 }
}

/// A of the module's formulas, from 0 to below 1: by how much one more individual (sample) shortens what is not yet
/// covered, and the expected number of species still unseen.
pub(super) fn decay(size: f64, once: f64, twice: f64) -> f64 {
    if once <= 0.0 {
        0.0
    } else if twice > 0.0 {
        (size - 1.0) * once / ((size - 1.0) * once + 2.0 * twice)
    } else {
        let pairs = (size - 1.0) * (once - 1.0);
        pairs / (pairs + 2.0)
    }
}

/// Coverage expected of `m` individuals (samples) from 0 up, whole or not.
///
/// Below the inventory's size the unbiased 1 - sum of (x/n) C(n-x, m)/C(n-1, m) over the species, and straight between
/// whole m; at it [`estimated`]; beyond it 1 - (f1/n) A^(m-n+1) (both Chao & Jost 2012; for how far that holds see
/// [`super::curve::reach`]). NaN for m below 0 or NaN, and beyond one individual (one sample), which tells of no other.
pub fn at(of: &Frequencies, m: f64) -> f64 {
    if m > of.size() {
        return beyond(of, m - of.size());
    }
    super::curve::straight_between(m, |m| smaller(of, m))
}

/// At a whole size up to the inventory's own.
fn smaller(of: &Frequencies, m: f64) -> f64 {
    if m >= of.size() {
        return estimated(of);
    }
    if of.total() <= 0.0 {
        return 0.0;
    }
    let missed: f64 = of
        .counts()
        .iter()
        .map(|&(x, species)| {
            let x = x as f64;
            species as f64 * x * absent(of.size() - 1.0, x - 1.0, m)
        })
        .sum();
    1.0 - missed / of.total()
}

fn beyond(of: &Frequencies, further: f64) -> f64 {
    if of.size() <= 1.0 {
        return f64::NAN;
    }
    if of.total() <= 0.0 {
        return 0.0;
    }
    let a = decay(of.size(), of.once(), of.twice());
    1.0 - share_once(of.total(), of.once()) * pow(a, further + 1.0)
}

#[cfg(test)]
mod tests {
    use super::super::frequencies::{Abundances, Incidences, data};
    use super::*;

    /// From the formulas of Good (1953) and Chao & Jost (2012), on spiders (Chao et al. 2014, Ecol. Monogr. 84:45-67),
    /// beetles (Colwell et al. 2012, J. Plant Ecol. 5:3-21) and toy inventories.
    #[test]
    fn known_inventories() {
        for (a, good, chao_jost) in [
            (data::spiders_girdled(), 0.928_571_4, 0.928_855_4),
            (data::spiders_logged(), 0.944_444_4, 0.944_570_6),
            (data::beetles_second_growth(), 0.928_278_7, 0.928_314_4),
            (data::beetles_old_growth(), 0.645_569_6, 0.645_926_8),
            (data::toy(), 0.88, 0.886_315_789_5),
            (data::toy_without_twice(), 0.888_888_888_9, 0.900_584_795_3),
        ] {
            let f = a.frequencies();
            assert!((good_turing(f) - good).abs() < 6e-8, "{}", good_turing(f));
            assert!((estimated(f) - chao_jost).abs() < 6e-8, "{}", estimated(f));
        }
    }

    /// Extrapolated coverage of the girdled spiders (S 26, n 168, f1 12, f2 4) by the formula of Chao & Jost (2012).
    #[test]
    fn extrapolated() {
        let a = data::spiders_girdled();
        let f = a.frequencies();
        assert!((at(f, 252.0) - 0.949_090_370_9).abs() < 1e-10);
        assert!((at(f, 336.0) - 0.963_570_084_7).abs() < 1e-10);
    }

    #[test]
    fn special_cases() {
        let none_once = Abundances::new(&[4, 2, 2]).unwrap();
        let f = none_once.frequencies();
        assert_eq!((good_turing(f), estimated(f), at(f, 90.0)), (1.0, 1.0, 1.0));
        let three = Abundances::new(&[3]).unwrap();
        assert_eq!(estimated(three.frequencies()), 1.0);
        let one = Abundances::new(&[1]).unwrap();
        let f = one.frequencies();
        assert_eq!(
            (good_turing(f), estimated(f), at(f, 1.0), at(f, 0.0)),
            (0.0, 0.0, 0.0, 0.0)
        );
        assert!(at(f, 2.0).is_nan());
        // All seen once: A = 9/11 for n = 4.
        let once = Abundances::new(&[1, 1, 1, 1]).unwrap();
        assert!((estimated(once.frequencies()) - 2.0 / 11.0).abs() < 1e-15);
        let lone = Abundances::new(&[5, 1]).unwrap();
        assert_eq!(estimated(lone.frequencies()), 1.0);
        assert!(at(lone.frequencies(), -1.0).is_nan() && at(lone.frequencies(), f64::NAN).is_nan());
    }

    /// By hand from the formula of Chao & Jost (2012): Q1 = 3, Q2 = 1, U = 9, T = 4: A = 9/11.
    #[test]
    fn incidences() {
        let i = Incidences::new(4, &[4, 2, 1, 1, 1]).unwrap();
        let f = i.frequencies();
        assert!((good_turing(f) - 2.0 / 3.0).abs() < 1e-15);
        assert!((estimated(f) - (1.0 - 3.0 / 11.0)).abs() < 1e-15);
        assert!((at(f, 6.0) - (1.0 - 729.0 / 3993.0)).abs() < 1e-15);
        // Q2 = 0: A = (3)(1)/((3)(1) + 2).
        let i = Incidences::new(4, &[4, 3, 1, 1]).unwrap();
        assert!((estimated(i.frequencies()) - (1.0 - 2.0 / 9.0 * 0.6)).abs() < 1e-15);
        let single = Incidences::new(1, &[1, 1]).unwrap();
        assert_eq!(estimated(single.frequencies()), 0.0);
    }

    /// Mean over every choice of m individuals of Good & Turing's estimate made with one more: the unbiased estimate of
    /// an inventory of m individuals is the share of the n - m left that is of a species among the m.
    #[test]
    fn smaller_sizes_by_enumeration() {
        let a = Abundances::new(&[4, 3, 1, 1, 1]).unwrap();
        let animals: Vec<usize> = a
            .counts()
            .iter()
            .enumerate()
            .flat_map(|(s, &c)| std::iter::repeat_n(s, c as usize))
            .collect();
        let n = animals.len();
        let mut sums = vec![(0.0, 0.0); n];
        for chosen in 0u32..1 << n {
            let m = chosen.count_ones() as usize;
            if m == n {
                continue;
            }
            let taken = |i: usize| chosen >> i & 1 == 1;
            let seen: Vec<usize> = (0..n).filter(|&i| taken(i)).map(|i| animals[i]).collect();
            let left = (0..n).filter(|&i| !taken(i));
            let of_seen = left.filter(|&i| seen.contains(&animals[i])).count();
            sums[m].0 += of_seen as f64 / (n - m) as f64;
            sums[m].1 += 1.0;
        }
        for (m, (sum, ways)) in sums.into_iter().enumerate() {
            let got = at(a.frequencies(), m as f64);
            assert!((got - sum / ways).abs() < 1e-12, "{m}: {got}");
        }
    }

    /// One individual fewer gives Good & Turing's estimate.
    #[test]
    fn one_fewer_is_good_turing() {
        for a in [data::beetles_old_growth(), data::toy()] {
            let f = a.frequencies();
            assert!((at(f, f.size() - 1.0) - good_turing(f)).abs() < 1e-12);
        }
    }
}
