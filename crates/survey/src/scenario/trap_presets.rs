//! Options of traps with what has been published about them, to start from.
//!
//! The catch of another trap in another place is to be measured there: what a publication does not tell is a guess here,
//! and marked as one.

use super::premise::{Premise, Source};
use super::premises::Class;
use super::trap_option::{CatchFactor, TrapOption};

const LANGE: &str = "Lange et al. 2011, Methods Ecol. Evol.";
const CSASZAR: &str = "Csaszar 2018";
const LID: &str = "Pedobiologia 1999, 43:245";
const PEARCE: &str = "Pearce 2005, Can. Entomol. 137:233";
const SIPOLSKI: &str = "Sipolski 2019, Environ. Entomol. 48:1203";
const THOMAS: &str = "Thomas & Thomas 1994, J. Lepid. Soc.";

fn published(value: f64, citation: &str) -> Premise {
    Premise {
        citation: Some(citation.into()),
        ..Premise::new(value, Source::Published)
    }
}

fn guess(value: f64) -> Premise {
    Premise::new(value, Source::Guess)
}

fn of(class: Class, factor: Premise) -> CatchFactor {
    CatchFactor {
        group: None,
        class: Some(class),
        factor,
    }
}

fn option(name: &str, catch: Premise, bycatch: Vec<CatchFactor>, notes: &str) -> TrapOption {
    TrapOption {
        catch_factor: catch,
        bycatch,
        notes: notes.into(),
        ..TrapOption::unchanged(name)
    }
}

/// Options that a scenario can begin with.
pub fn trap_presets() -> Vec<TrapOption> {
    let third = || of(Class::Vertebrate, published(1.0 / 3.0, LANGE));
    vec![
        option(
            "funnel of about 9 cm",
            published(1.0, LANGE),
            vec![third()],
            "Pitfalls: funnels or smaller mouths cut small mammals by at least two thirds, and funnels of about 9 cm keep beetles. Other vertebrates are taken to go with the mammals.",
        ),
        option(
            "funnel with roof",
            published(1.0, CSASZAR),
            vec![third()],
            "Pitfalls: no loss of beetles or spiders with funnel and roof; small mammals as with the funnel (Lange et al. 2011).",
        ),
        option(
            "integrated lid",
            guess(1.0),
            vec![of(Class::Vertebrate, published(1.0 / 13.0, LID))],
            "Pitfalls: amphibians caught 1 to 13. What it does to the target is not told: a guess.",
        ),
        option(
            "shallow trap",
            published(1.0, PEARCE),
            vec![of(Class::Vertebrate, guess(0.5))],
            "Pitfalls: shallow traps kept the fauna of beetles and spiders, and every modification cut mammals and amphibians; by how much is a guess here.",
        ),
        option(
            "lure with one component fewer, or a green, black, brown or red trap",
            published(1.0, SIPOLSKI),
            vec![of(Class::Arthropod, guess(0.5))],
            "Lures: bees were cut and the target unchanged; by how much is a guess here. Name the bees as a group of their own, for the factor is for all arthropods.",
        ),
        option(
            "light for one hour a night",
            published(971.0 / 6088.0, THOMAS),
            vec![of(Class::Arthropod, published(971.0 / 6088.0, THOMAS))],
            "Light traps: 971 moths instead of 6,088 all night (161 species instead of 255).",
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::read;

    /// Each can be added and chosen as it is; what is published names its publication.
    #[test]
    fn presets_are_sound() {
        let mut s = read(include_str!("../../../../demo-data/meadow-beetles.json")).unwrap();
        s.premises.trap_options = trap_presets();
        let s = s.check().unwrap();
        for preset in trap_presets() {
            let chosen = s.with_option(Some(&preset.name)).unwrap();
            let vertebrates = |s: &crate::scenario::Scenario| -> f64 {
                let groups = s.premises.bycatch.iter();
                groups
                    .filter(|g| g.class == Class::Vertebrate)
                    .map(|g| g.catch_per_trap_week.value)
                    .sum()
            };
            let share = vertebrates(&chosen) / vertebrates(&s);
            let want = preset.of_group("any", Class::Vertebrate);
            assert!((share / want - 1.0).abs() < 1e-12, "{}", preset.name);
        }
    }
}
