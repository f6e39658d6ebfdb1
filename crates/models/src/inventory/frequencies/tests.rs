use super::*;

/// Totals as published (Chao et al. 2014, Ecol. Monogr. 84:45-67; Colwell et al. 2012, J. Plant Ecol. 5:3-21).
#[test]
fn published_totals() {
    for (a, s, n, f1, f2) in [
        (data::spiders_girdled(), 26.0, 168.0, 12.0, 4.0),
        (data::spiders_logged(), 37.0, 252.0, 14.0, 4.0),
        (data::beetles_second_growth(), 140.0, 976.0, 70.0, 17.0),
        (data::beetles_old_growth(), 112.0, 237.0, 84.0, 10.0),
    ] {
        assert_eq!(
            (a.species(), a.individuals(), a.f1(), a.f2()),
            (s, n, f1, f2)
        );
    }
}

#[test]
fn a_table_gives_both() {
    let table = [3, 0, 1, 0, 0, 0, 0, 2, 0, 1, 1, 1];
    let a = Abundances::from_table(&table, 3).unwrap();
    assert_eq!(a.counts(), &[4, 0, 2, 3]);
    assert_eq!((a.individuals(), a.species()), (9.0, 3.0));
    let i = Incidences::from_table(&table, 3).unwrap();
    assert_eq!(i.counts(), &[2, 0, 1, 3]);
    assert_eq!(
        (i.samples(), i.species(), i.total(), i.q1(), i.q2()),
        (3.0, 3.0, 6.0, 1.0, 1.0)
    );
    assert_eq!(i.frequencies().counts(), &[(1, 1), (2, 1), (3, 1)]);
    assert_eq!(i.frequencies().seen(4), 0.0);
}

#[test]
fn errors_say_what_is_wrong() {
    assert_eq!(Abundances::new(&[]), Err(InventoryError::Empty));
    assert_eq!(Abundances::new(&[0, 0]), Err(InventoryError::Empty));
    assert_eq!(
        Abundances::new(&[u64::MAX, 1]),
        Err(InventoryError::TooMany)
    );
    assert_eq!(Abundances::new(&[MOST, 1]), Err(InventoryError::TooMany));
    assert!(Abundances::new(&[MOST]).is_ok());
    assert_eq!(Incidences::new(0, &[1]), Err(InventoryError::NoSamples));
    assert_eq!(Incidences::new(4, &[0]), Err(InventoryError::Empty));
    let e = Incidences::new(4, &[4, 5]).unwrap_err();
    assert!(e.to_string().contains("species 1 is in 5 samples of 4"));
    assert_eq!(
        Incidences::from_table(&[1, 2, 3], 0),
        Err(InventoryError::NoSamples)
    );
    let e = Abundances::from_table(&[1, 2, 3], 2).unwrap_err();
    assert!(e.to_string().contains("3 cells") && e.to_string().contains("2 samples"));
}
