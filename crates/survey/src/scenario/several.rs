//! Several species asked about at once.

use models::multiplicity::Adjustment;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The same question of each species of a list: the target and [`super::Premises::others`].
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Several {
    /// Share of the species that must be answered for the survey to have answered, above 0 to 1.
    pub answered_share: f64,
    /// How false alarms over the list are held.
    pub control: Control,
}

impl Several {
    /// How many of so many species make the stated share.
    pub fn needed(&self, species: usize) -> u32 {
        // A share such as .8 of 5 is 4, whatever the last digit of the product.
        let least = (self.answered_share * species as f64 - 1e-9).ceil();
        (least.max(1.0) as u32).min(species as u32)
    }
}

/// Control of false alarms over a list of species ([`models::multiplicity`]).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Control {
    /// None: each species is tested at the significance level.
    None,
    /// Bonferroni: each species at the level over the number of species.
    Bonferroni,
    /// Holm: the chance of even one false alarm stays at the level.
    Holm,
    /// Benjamini and Hochberg: the expected share of false alarms among all that is found stays at the level.
    BenjaminiHochberg,
}

impl Control {
    /// All of them.
    pub const ALL: [Self; 4] = [
        Self::None,
        Self::Bonferroni,
        Self::Holm,
        Self::BenjaminiHochberg,
    ];

    /// Its key in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Bonferroni => "bonferroni",
            Self::Holm => "holm",
            Self::BenjaminiHochberg => "benjamini_hochberg",
        }
    }

    /// How it adjusts p-values; `None` when it does not.
    pub fn adjustment(self) -> Option<Adjustment> {
        match self {
            Self::None => None,
            Self::Bonferroni => Some(Adjustment::Bonferroni),
            Self::Holm => Some(Adjustment::Holm),
            Self::BenjaminiHochberg => Some(Adjustment::BenjaminiHochberg),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_in_species() {
        let needed = |answered_share, species| {
            Several {
                answered_share,
                control: Control::None,
            }
            .needed(species)
        };
        assert_eq!((needed(0.8, 5), needed(0.8, 4)), (4, 4));
        assert_eq!((needed(0.01, 3), needed(1.0, 13)), (1, 13));
        assert_eq!((needed(0.6, 5), needed(0.7, 10)), (3, 7));
    }

    #[test]
    fn keys_are_those_of_the_file() {
        for control in Control::ALL {
            let text = serde_json::to_string(&control).unwrap();
            assert_eq!(text, format!("{:?}", control.key()));
        }
    }
}
