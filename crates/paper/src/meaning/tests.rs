use super::{Entry, FIELDS, Meaning, RESULTS, of_field, of_result, result_keys};
use survey::scenario::fields::{
    BYCATCH, CATCH_FACTOR, OTHERS_REPRODUCTIVES, STEPPED, TARGET, TRAP_OPTION, all,
};

/// The paths of every registry, those of items of lists by their generic place.
fn paths() -> Vec<String> {
    fn of(list: &str, paths: impl Iterator<Item = &'static str>, all: &mut Vec<String>) {
        all.extend(paths.map(|p| format!("{list}{p}")));
    }
    let mut paths = Vec::new();
    of("", all().map(|f| f.path), &mut paths);
    of("others.", TARGET.iter().map(|f| f.path), &mut paths);
    let reproductives = OTHERS_REPRODUCTIVES.iter().map(|f| f.path);
    of("others.", reproductives, &mut paths);
    of("bycatch.", BYCATCH.iter().map(|f| f.path), &mut paths);
    of("costs.stepped.", STEPPED.iter().map(|f| f.path), &mut paths);
    let options = TRAP_OPTION.iter().map(|f| f.path);
    of("trap_options.", options, &mut paths);
    let factors = CATCH_FACTOR.iter().map(|f| f.path);
    of("trap_options.bycatch.", factors, &mut paths);
    paths
}

fn entries() -> impl Iterator<Item = &'static Entry> {
    FIELDS.iter().chain(&RESULTS).copied().flatten()
}

#[test]
fn every_number_of_a_scenario_has_a_meaning() {
    let paths = paths();
    assert!(paths.len() > 120, "{}", paths.len());
    let missing: Vec<_> = paths.iter().filter(|p| of_field(p).is_none()).collect();
    assert!(missing.is_empty(), "without a meaning: {missing:?}");
}

#[test]
fn meanings_are_short_plain_sentences() {
    for Entry { meaning: m, .. } in entries() {
        let chars = m.plain.chars().count();
        assert!(m.plain.ends_with('.'), "{}", m.plain);
        assert!((40..=240).contains(&chars), "{chars}: {}", m.plain);
        assert!(!m.name.is_empty() && !m.name.ends_with('.'), "{}", m.name);
        if let Some(formula) = m.formula {
            let chars = formula.chars().count();
            assert!(chars <= 120, "{chars}: {formula}");
            assert!(!formula.ends_with('.'), "{formula}");
        }
    }
}

/// A source has an author and a year.
#[test]
fn sources_have_years() {
    for source in entries().filter_map(|e| e.meaning.source) {
        let mut words = source.split(|c: char| !c.is_alphanumeric());
        let year =
            words.any(|w| w.len() == 4 && w.starts_with(['1', '2']) && w.parse::<u16>().is_ok());
        assert!(year, "{source}");
    }
}

/// Each sentence stands once, and each key has one meaning.
#[test]
fn no_two_numbers_mean_the_same() {
    let mut plain: Vec<&str> = entries().map(|e| e.meaning.plain).collect();
    plain.sort_unstable();
    let twice: Vec<_> = plain.windows(2).filter(|w| w[0] == w[1]).collect();
    assert!(twice.is_empty(), "{twice:?}");
    for list in [&FIELDS[..], &RESULTS[..]] {
        let entries = list.iter().copied().flatten();
        let mut keys: Vec<&str> = entries.flat_map(|e| e.keys.iter().copied()).collect();
        keys.sort_unstable();
        let twice: Vec<_> = keys.windows(2).filter(|w| w[0] == w[1]).collect();
        assert!(twice.is_empty(), "{twice:?}");
    }
}

/// A key that no number has would never be asked for: those of fields stand in a registry or are of numbers that the
/// page has without one.
#[test]
fn no_meaning_without_a_number() {
    const BESIDE: [&str; 3] = ["limits.", "community.", "plan."];
    let known: Vec<String> = paths()
        .into_iter()
        .map(|p| p.strip_prefix("premises.").map_or(p.clone(), Into::into))
        .collect();
    for key in FIELDS.iter().copied().flatten().flat_map(|e| e.keys) {
        let beside = BESIDE.iter().any(|b| key.starts_with(b));
        assert!(beside || known.iter().any(|p| p == key), "{key}");
    }
}

#[test]
fn places_in_a_file_are_understood() {
    let name = |path: &str| of_field(path).map(|m| m.name);
    let k = Some("dispersion k of the by-catch");
    for path in [
        "bycatch.dispersion_k",
        "premises.bycatch.dispersion_k",
        "premises.bycatch[2].dispersion_k",
        "premises.bycatch[12].dispersion_k.value",
        "premises.bycatch[0].dispersion_k.high",
    ] {
        assert_eq!(name(path), k, "{path}");
    }
    assert_eq!(
        name("premises.others[1].site_sd"),
        name("premises.target.site_sd.value")
    );
    assert_eq!(name("premises.others[1].site_sd"), Some("SD of sites"));
    assert_eq!(
        name("premises.trap_options[0].bycatch[3].factor"),
        Some("by-catch with this trap")
    );
    assert_eq!(
        name("premises.costs.stepped[1].takes_on.value"),
        Some("what one takes on")
    );
    assert_eq!(
        name("plan.stop_rule.probability_ratio.low"),
        Some("low mean")
    );
    assert_eq!(
        name("plan.stop_rule.probability_ratio.high"),
        Some("high mean")
    );
    assert_eq!(name("limits.toll[1].most"), Some("most animals of a group"));
    for none in [
        "",
        "plan",
        "plan.site",
        "bycatch",
        "premises.bycatch[0]",
        "power",
    ] {
        assert_eq!(of_field(none), None, "{none}");
    }
}

#[test]
fn results_are_found_by_their_keys() {
    assert!(result_keys().all(|k| of_result(k).is_some()));
    let name = |key: &str| of_result(key).map(|m: &Meaning| m.name);
    assert_eq!(
        name("significant.wrong_sign"),
        Some("findings the wrong way")
    );
    assert_eq!(name("coverage"), Some("intervals that hold the truth"));
    assert_eq!(
        name("inventory.coverage"),
        Some("coverage of the community")
    );
    assert_eq!(name("looks.information"), Some("looks' information"));
    assert_eq!(name("no_worse.power"), Some("claim of no worse a fall"));
    assert_eq!(name("preview.power"), Some("preview"));
    assert_eq!(name("toll.total"), Some("toll"));
    assert_eq!(name("sites"), None);
}
