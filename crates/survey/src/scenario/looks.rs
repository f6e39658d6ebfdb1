//! Planned interim analyses: after which years one looks, and when one stops before the last.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Planned looks at a survey that runs over years.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Looks {
    /// After how many years one looks, rising. The look after the plan's last year is always there and may be left out.
    pub after_years: Vec<u32>,
    /// The shape of the line that a statistic must pass to stop with the change found.
    pub boundary: LookBoundary,
    /// When to stop because the change will hardly be found any more; left out, one never does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub futility: Option<LookFutility>,
}

/// The shape of the line. All hold the significance level over all looks together; t is a look's share of the final
/// information, a the level.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LookBoundary {
    /// The same line at every look (Pocock 1977, Biometrika 64:191-199).
    Pocock,
    /// High at first, falling as 1 / sqrt(t) (O'Brien & Fleming 1979, Biometrics 35:549-556).
    ObrienFleming,
    /// Spends the level like O'Brien & Fleming, each direction its own half: 4 - 4 Phi(z(1 - a/4) / sqrt(t)) where a change
    /// in either direction counts, 2 - 2 Phi(z(1 - a/2) / sqrt(t)) where one does (Lan & DeMets 1983, Biometrika
    /// 70:659-663).
    SpendObrienFleming,
    /// The same with the whole level in one function whatever directions count: 2 - 2 Phi(z(1 - a/2) / sqrt(t)), which
    /// where either counts spends more at early looks.
    SpendObrienFlemingWhole,
    /// Spends the level like Pocock: a ln(1 + (e - 1) t) (Lan & DeMets 1983).
    SpendPocock,
}

impl LookBoundary {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Pocock,
        Self::ObrienFleming,
        Self::SpendObrienFleming,
        Self::SpendObrienFlemingWhole,
        Self::SpendPocock,
    ];
}

/// Stopping for futility.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LookFutility {
    /// Where the futility line lies.
    pub rule: FutilityRule,
    /// Whether a survey below the futility line must stop. If so the other line may lie a little lower; if not, the
    /// significance level is held even when futility is never heeded.
    pub binding: bool,
}

/// Where the futility line lies.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FutilityRule {
    /// Spends this chance of stopping for futility although the stated change is there, as 2 - 2 Phi(z(1 - b/2) / sqrt(t));
    /// what would be spent at the last look is not.
    SpendBeta(f64),
    /// Stops where the chance of still finding the stated change at the last look has fallen below this.
    ConditionalPower(f64),
}

impl Looks {
    /// The looks of a plan of so many years: the stated ones before the last year, then the last.
    pub fn all(&self, years: u32) -> Vec<u32> {
        let before = self.after_years.iter().copied().filter(|&y| y < years);
        before.chain([years]).collect()
    }

    /// Looks to begin with: in the middle and at three quarters of the years that allow one, of the usual shape; `None`
    /// when no year before the last allows one.
    pub fn usual(fewest: u32, years: u32) -> Option<Self> {
        let place = |share: f64| (f64::from(years) * share).round() as u32;
        let mut after_years: Vec<u32> = [place(0.5), place(0.75)]
            .into_iter()
            .map(|y| y.max(fewest))
            .filter(|&y| y < years)
            .collect();
        after_years.dedup();
        (!after_years.is_empty()).then_some(Self {
            after_years,
            boundary: LookBoundary::SpendObrienFleming,
            futility: None,
        })
    }
}
