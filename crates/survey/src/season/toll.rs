//! What a set of weeks kills, by class, and how its animals are weighed.

use crate::closed_form::{expected_toll, reproductive_shares};
use crate::scenario::{Checked, Class, Plan};
use serde::{Deserialize, Serialize};

/// How many animals of the target one animal counts for.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Weights {
    /// One of the target.
    pub target: f64,
    /// An arthropod of the by-catch, and of other species that are asked about.
    pub arthropod: f64,
    /// A vertebrate.
    pub vertebrate: f64,
    /// A protected animal.
    pub protected: f64,
    /// What a reproductive animal counts for besides.
    pub reproductive: f64,
}

impl Default for Weights {
    /// Every animal counts the same.
    fn default() -> Self {
        Self {
            target: 1.0,
            arthropod: 1.0,
            vertebrate: 1.0,
            protected: 1.0,
            reproductive: 0.0,
        }
    }
}

/// Animals killed besides the target, by class.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Classes {
    /// Arthropods, other species that are asked about among them.
    pub arthropod: f64,
    /// Vertebrates.
    pub vertebrate: f64,
    /// Protected animals.
    pub protected: f64,
}

impl Classes {
    /// All of them.
    pub fn total(&self) -> f64 {
        self.arthropod + self.vertebrate + self.protected
    }
}

/// Expected kill of a plan over all sites and years when the stated change happens.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SetToll {
    /// Target animals.
    pub target: f64,
    /// By-catch by class.
    pub bycatch: Classes,
    /// All animals.
    pub total: f64,
    /// Reproductive animals among them; `null` when no share is given.
    pub reproductives: Option<f64>,
    /// All animals by their weights.
    pub weighted: f64,
}

impl SetToll {
    /// Of a plan. Reproductives: the mean share over years of the whole kill.
    pub fn of(scenario: &Checked, plan: &Plan, weights: &Weights) -> Self {
        let toll = expected_toll(scenario, plan);
        let mut bycatch = Classes::default();
        let killed = scenario.premises.killed_besides();
        for (group, mean) in killed.iter().map(|k| &k.group).zip(&toll.bycatch) {
            match group.class {
                Class::Arthropod => bycatch.arthropod += mean,
                Class::Vertebrate => bycatch.vertebrate += mean,
                Class::Protected => bycatch.protected += mean,
            }
        }
        let kills = std::iter::once(toll.target).chain(toll.bycatch.iter().copied());
        let carrying = |(shares, kill): (Option<Vec<f64>>, f64)| {
            let shares = shares?;
            Some(kill * shares.iter().sum::<f64>() / shares.len() as f64)
        };
        let reproductives = scenario.premises.tells_reproductives().then(|| {
            let each = reproductive_shares(scenario, plan).into_iter().zip(kills);
            each.filter_map(carrying).sum::<f64>()
        });
        Self {
            target: toll.target,
            bycatch,
            total: toll.total(),
            reproductives,
            weighted: weights.target * toll.target
                + weights.arthropod * bycatch.arthropod
                + weights.vertebrate * bycatch.vertebrate
                + weights.protected * bycatch.protected
                + weights.reproductive * reproductives.unwrap_or(0.0),
        }
    }

    /// Share of all animals that is reproductive.
    pub fn reproductive_share(&self) -> Option<f64> {
        self.reproductives
            .filter(|_| self.total > 0.0)
            .map(|n| n / self.total)
    }
}
