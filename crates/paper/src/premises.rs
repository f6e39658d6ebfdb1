//! What the survey rests on, as a table for paper, and how much of it has a source.

use crate::number::plain;
use figures::Table;
use survey::scenario::fields::{self, BYCATCH, Field, TARGET};
use survey::scenario::{Costs, Premise, Scenario, Source};

/// How many premises there are, and how many of them are a guess or common practice.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sources {
    /// All of them.
    pub all: usize,
    /// Those without a source.
    pub unsourced: usize,
}

impl Sources {
    fn of<'a>(premises: impl Iterator<Item = &'a Premise>) -> Self {
        premises.fold(Self::default(), |mut sum, p| {
            sum.all += 1;
            sum.unsourced += usize::from(is_unsourced(p.source));
            sum
        })
    }

    /// In a few words: "14 numbers, 5 without a source".
    pub fn words(self) -> String {
        let numbers = if self.all == 1 { "number" } else { "numbers" };
        match (self.all, self.unsourced) {
            (0, _) => "nothing stated".into(),
            (n, 0) => format!("{n} {numbers}, all with a source"),
            (n, u) => format!("{n} {numbers}, {u} without a source"),
        }
    }
}

/// Whether nothing but habit or guess stands behind a premise.
pub fn is_unsourced(source: Source) -> bool {
    matches!(source, Source::Guess | Source::CommonPractice)
}

/// Premises of a scenario that its file states, each with its field; costs apart from all others.
fn stated(
    scenario: &Scenario,
    costs: bool,
) -> impl Iterator<Item = (&'static Field<Scenario>, &Premise)> {
    // What is left out of the file is not stated: bare costs have each of those numbers too.
    let mut bare = scenario.clone();
    bare.premises.costs = scenario.premises.costs.as_ref().map(|_| {
        let none = Premise::new(0.0, Source::Guess);
        Costs::new("", none)
    });
    fields::all().filter_map(move |f| {
        let of_costs = f.path.starts_with("premises.costs.");
        let premise = f.premise?;
        let stated = premise(scenario)?;
        // A cost that is not stated and not 0 is used all the same, as a guess.
        let bare = of_costs && premise(&bare) == Some(stated) && stated.value == 0.0;
        let kept = of_costs == costs && !bare;
        kept.then_some((f, stated))
    })
}

/// Sources of the premises of target, losses and departures.
pub fn of_target(scenario: &Scenario) -> Sources {
    Sources::of(stated(scenario, false).map(|(_, p)| p))
}

/// Sources of the rates of work and money.
pub fn of_costs(scenario: &Scenario) -> Sources {
    let stepped = scenario.premises.costs.iter().flat_map(|c| &c.stepped);
    let stepped = stepped.flat_map(|s| [&s.takes_on, &s.money]);
    Sources::of(stated(scenario, true).map(|(_, p)| p).chain(stepped))
}

/// Sources of the by-catch groups' numbers.
pub fn of_bycatch(scenario: &Scenario) -> Sources {
    let groups = scenario.premises.bycatch.iter();
    Sources::of(groups.flat_map(|g| BYCATCH.iter().filter_map(|f| f.premise?(g))))
}

fn row(name: String, unit: &str, p: &Premise) -> Vec<String> {
    let range = match (p.low, p.high) {
        (Some(low), Some(high)) => format!("{} to {}", plain(low), plain(high)),
        _ => String::new(),
    };
    let source = match &p.citation {
        Some(citation) => format!("{}: {citation}", p.source.word()),
        None if is_unsourced(p.source) => format!("{} (unsourced)", p.source.word()),
        None => p.source.word().into(),
    };
    let number = format!("{} {unit}", plain(p.value));
    vec![name, number.trim_end().into(), range, source]
}

/// Every premise of the scenario with its range and source; costs are left to their own tables.
pub fn table(scenario: &Scenario) -> Table {
    let target = &scenario.premises.target.name;
    let own = stated(scenario, false).map(|(f, p)| row(f.label.into(), f.unit, p));
    let others = scenario.premises.others.iter().flat_map(|t| {
        let named = |f: &'static Field<_>| {
            let premise = f.premise?(t)?;
            Some(row(format!("{}: {}", t.name, f.label), f.unit, premise))
        };
        TARGET.iter().filter_map(named)
    });
    let groups = scenario.premises.bycatch.iter().flat_map(|g| {
        let named = |f: &'static Field<_>| {
            let premise = f.premise?(g)?;
            Some(row(format!("{}: {}", g.name, f.label), f.unit, premise))
        };
        BYCATCH.iter().filter_map(named)
    });
    Table {
        caption: format!("Premises of {target}, and of what else is caught"),
        headers: ["premise", "value", "range", "source"]
            .map(String::from)
            .to_vec(),
        rows: own.chain(others).chain(groups).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::scenario::read;

    fn beetles() -> Scenario {
        read(include_str!("../../../demo-data/meadow-beetles.json")).unwrap()
    }

    #[test]
    fn sources_are_counted_as_they_stand() {
        let mut s = beetles();
        let before = of_target(&s);
        assert!(before.unsourced > 0 && before.unsourced < before.all);
        s.premises.target.year_sd.source = Source::Guess;
        let guessed = of_target(&s);
        assert_eq!(
            (guessed.all, guessed.unsourced),
            (before.all, before.unsourced + 1)
        );
        // Five numbers of a group and one more that the usual group has.
        let per_group = BYCATCH.iter().filter(|f| f.premise.is_some()).count();
        assert_eq!(of_bycatch(&s).all, per_group * s.premises.bycatch.len());
        s.premises.costs = None;
        assert_eq!(of_costs(&s).words(), "nothing stated");
    }

    #[test]
    fn every_number_stands_in_the_table_with_its_source() {
        let s = beetles();
        let table = table(&s);
        assert_eq!(table.rows.len(), of_target(&s).all + of_bycatch(&s).all);
        let catch = &table.rows[0];
        assert_eq!(catch[1..], ["9 animals", "5 to 16", "invented"]);
        let practice = table.rows.iter().find(|r| r[3].contains("common"));
        assert_eq!(practice.unwrap()[3], "common practice (unsourced)");
    }
}
