use super::*;
use survey::limiting::limiting;
use survey::scenario::{Checked, Premise, Source as From, read};

fn beetles(change: impl Fn(&mut Scenario)) -> Checked {
    let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
    change(&mut s);
    s.check().unwrap()
}

#[test]
fn shares_in_words() {
    for (share, want) in [
        (0.66, "Two thirds"),
        (0.5, "Half"),
        (0.98, "Nearly all"),
        (0.42, "42 %"),
    ] {
        assert_eq!(fraction(share), want);
    }
}

/// Years that scatter much: said first, with what helps, the floor and the years it takes.
#[test]
fn years_limit_and_more_traps_do_not_help() {
    let s = beetles(|s| s.premises.target.year_sd = Premise::new(0.3, From::Invented));
    let l = limiting(&s).unwrap();
    let told = sentences(&s, &l);
    assert!(
        told[0].contains("differences between years that all sites share: more traps or sites cannot lower that; more years can"),
        "{told:?}"
    );
    let all = told.join("\n");
    for words in [
        "No number of traps and sites finds a fall of less than",
        "% a year, in 10 years",
        "lies below that floor",
        "the 96 traps count as",
        "same sites come back",
        "With unlimited traps at the same 24 sites",
    ] {
        assert!(all.contains(words), "{words:?} in {all}");
    }
    let f = figure(&s, &l);
    assert_eq!(f.bars.len(), l.parts.len());
    assert_eq!(f.table().rows[0][2], KINDS[0]);
    assert!(meaning(&l).contains("parts of a whole"), "{}", meaning(&l));
}

/// Every demonstration is told without a number that is none.
#[test]
fn every_question_is_told() {
    for text in [
        include_str!("../../../../demo-data/meadow-mowing.json"),
        include_str!("../../../../demo-data/meadow-no-worse.json"),
        include_str!("../../../../demo-data/mountain-moths.json"),
        include_str!("../../../../demo-data/mountain-edge.json"),
        include_str!("../../../../demo-data/mountain-occupancy.json"),
        include_str!("../../../../demo-data/orchard-absence.json"),
        include_str!("../../../../demo-data/orchard-baseline.json"),
    ] {
        let s = read(text).unwrap().check().unwrap();
        let l = limiting(&s).unwrap();
        let told = sentences(&s, &l).join("\n");
        assert!(told.len() > 80, "{told}");
        for bad in ["NaN", "inf", "-0"] {
            assert!(!told.contains(bad), "{told}");
        }
        let even = figure(&s, &l);
        assert!(even.svg().contains("<desc"));
    }
}
