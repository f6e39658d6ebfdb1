//! What every number means: a short plain sentence, the formula and its source, on demand.
//!
//! Numbers that a user types are asked for by their place in the file ([`of_field`]), numbers that a user is shown by
//! the key of the result ([`of_result`]).

mod answers;
mod catch;
mod closed_forms;
mod cost_told;
mod costs;
mod counts;
mod departures;
mod inventory;
mod kills;
mod least;
mod limits;
mod list;
mod looks;
mod looks_told;
mod places;
mod plan;
mod question;
mod revisit;
mod samples;
mod season;
mod stop_rules;
mod tests_of_change;
mod traps;

#[cfg(test)]
mod tests;

/// What a number means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Meaning {
    /// The number's name, in a few words.
    pub name: &'static str,
    /// One or two short sentences without statistics: what it is, and what a larger one does.
    pub plain: &'static str,
    /// The formula, with its symbols named; `None` where words say all.
    pub formula: Option<&'static str>,
    /// Author, year and journal that the formula or the usual value comes from; `None` without a published one.
    pub source: Option<&'static str>,
}

/// A meaning and the keys it is asked for by; several keys where several numbers mean the same.
#[derive(Clone, Copy)]
struct Entry {
    keys: &'static [&'static str],
    meaning: Meaning,
}

/// A number in words alone.
const fn says(keys: &'static [&'static str], name: &'static str, plain: &'static str) -> Entry {
    let meaning = Meaning {
        name,
        plain,
        formula: None,
        source: None,
    };
    Entry { keys, meaning }
}

impl Entry {
    /// With its formula.
    const fn formula(self, formula: &'static str) -> Self {
        let meaning = Meaning {
            formula: Some(formula),
            ..self.meaning
        };
        Self { meaning, ..self }
    }

    /// With its source.
    const fn source(self, source: &'static str) -> Self {
        let meaning = Meaning {
            source: Some(source),
            ..self.meaning
        };
        Self { meaning, ..self }
    }
}

/// The numbers of a scenario, by theme.
const FIELDS: [&[Entry]; 11] = [
    question::OF,
    catch::OF,
    departures::OF,
    places::OF,
    plan::OF,
    revisit::OF,
    looks::OF,
    stop_rules::OF,
    limits::OF,
    costs::OF,
    traps::OF,
];

/// The numbers that are shown, by theme.
const RESULTS: [&[Entry]; 12] = [
    answers::OF,
    closed_forms::OF,
    tests_of_change::OF,
    counts::OF,
    kills::OF,
    least::OF,
    looks_told::OF,
    inventory::OF,
    list::OF,
    season::OF,
    samples::OF,
    cost_told::OF,
];

fn find(lists: &'static [&'static [Entry]], key: &str) -> Option<&'static Meaning> {
    let mut all = lists.iter().copied().flatten();
    let entry = all.find(|e| e.keys.contains(&key))?;
    Some(&entry.meaning)
}

/// A place in the file as its list's items are asked for: `premises.bycatch[2].dispersion_k.value` is
/// `bycatch.dispersion_k`, and so is `premises.bycatch.dispersion_k`. Another species has the target's numbers.
fn generic(path: &str) -> String {
    let mut whole = String::with_capacity(path.len());
    let mut inside = false;
    for c in path.chars() {
        match c {
            '[' => inside = true,
            ']' => inside = false,
            _ if !inside => whole.push(c),
            _ => {}
        }
    }
    let ends = [".value", ".low", ".high"];
    let end = ends.iter().find_map(|end| whole.strip_suffix(end));
    // A rule's own low and high means are numbers, not the ends of a premise.
    let path = match end {
        Some(shorter) if !whole.contains("probability_ratio") => shorter,
        _ => &whole,
    };
    let path = path.strip_prefix("premises.").unwrap_or(path);
    match path.strip_prefix("others.") {
        Some(rest) => format!("target.{rest}"),
        None => path.into(),
    }
}

/// What the number at a place in the file means, such as `plan.sites` or `premises.bycatch[2].dispersion_k`; items of
/// lists by their generic place too: `bycatch.dispersion_k`, `others.site_sd`, `costs.stepped.money`,
/// `trap_options.catch_factor`, `trap_options.bycatch.factor`. `None` when no number stands there.
pub fn of_field(path: &str) -> Option<&'static Meaning> {
    find(&FIELDS, &generic(path))
}

/// What a number that is shown means, by the key it has in reports, such as `power` or `false_alarm`; `None` of a key
/// that is none. The last part of a key in a report is enough: `significant.wrong_sign` is `wrong_sign`.
pub fn of_result(key: &str) -> Option<&'static Meaning> {
    find(&RESULTS, key).or_else(|| find(&RESULTS, key.rsplit('.').next()?))
}

/// All keys of results that have a meaning, theme by theme.
pub fn result_keys() -> impl Iterator<Item = &'static str> {
    RESULTS
        .iter()
        .copied()
        .flatten()
        .flat_map(|e| e.keys.iter().copied())
}
