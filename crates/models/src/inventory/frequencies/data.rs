//! Data sets for tests. The counts are recalled from memory; their totals agree with those published.

use super::*;

fn abundances(of: &[(u64, u64)]) -> Abundances {
    let counts: Vec<u64> = of
        .iter()
        .flat_map(|&(k, species)| std::iter::repeat_n(k, species as usize))
        .collect();
    Abundances::new(&counts).unwrap()
}

/// Spiders under girdled hemlocks (Sackett et al. 2011, Ecosphere 2:art38; Chao et al. 2014, Ecol. Monogr. 84:45):
/// S 26, n 168.
pub fn spiders_girdled() -> Abundances {
    abundances(&[
        (46, 1),
        (22, 1),
        (17, 1),
        (15, 2),
        (9, 1),
        (8, 1),
        (6, 2),
        (4, 1),
        (2, 4),
        (1, 12),
    ])
}

/// Spiders where hemlocks were logged (the same sources): S 37, n 252.
pub fn spiders_logged() -> Abundances {
    abundances(&[
        (88, 1),
        (22, 1),
        (16, 1),
        (15, 1),
        (13, 1),
        (10, 1),
        (8, 2),
        (7, 3),
        (5, 1),
        (4, 3),
        (3, 4),
        (2, 4),
        (1, 14),
    ])
}

/// Beetles of a second-growth forest in Osa, Costa Rica (Janzen 1973, Ecology 54:659-686; Colwell et al. 2012,
/// J. Plant Ecol. 5:3-21): S 140, n 976.
pub fn beetles_second_growth() -> Abundances {
    abundances(&[
        (1, 70),
        (2, 17),
        (3, 4),
        (4, 5),
        (5, 5),
        (6, 5),
        (7, 5),
        (8, 3),
        (9, 1),
        (10, 2),
        (11, 3),
        (12, 2),
        (14, 2),
        (17, 1),
        (19, 2),
        (20, 3),
        (21, 1),
        (24, 1),
        (26, 1),
        (40, 1),
        (57, 2),
        (60, 1),
        (64, 1),
        (71, 1),
        (77, 1),
    ])
}

/// Beetles of an old-growth forest there (the same sources): S 112, n 237.
pub fn beetles_old_growth() -> Abundances {
    abundances(&[
        (1, 84),
        (2, 10),
        (3, 4),
        (4, 3),
        (5, 5),
        (6, 1),
        (7, 2),
        (8, 1),
        (14, 1),
        (42, 1),
    ])
}

/// A toy inventory with f1 = 3 and f2 = 2.
pub fn toy() -> Abundances {
    Abundances::new(&[10, 5, 3, 2, 2, 1, 1, 1]).unwrap()
}

/// A toy inventory without species seen twice.
pub fn toy_without_twice() -> Abundances {
    Abundances::new(&[9, 4, 3, 1, 1]).unwrap()
}
