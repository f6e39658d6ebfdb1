//! How far the search for the least plan may go.

use super::Scenario;
use super::occupancy::Scheme;
use super::place::Place;
use super::premises::Class;
use super::revisit::Revisit;
use crate::cost::CostTotals;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How far the search for the least plan may go, and what no plan may exceed. What stands here alone is varied: years
/// and exposure stay the plan's own unless they are listed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Limits {
    /// Most sites.
    pub sites: u32,
    /// Most traps at a site.
    pub traps_per_site: u32,
    /// Most open weeks a year.
    pub weeks: u32,
    /// Which weeks are tried: runs around the middle of the plan's own when left out.
    #[serde(default, skip_serializing_if = "WeekChoice::is_around")]
    pub week_choice: WeekChoice,
    /// Numbers of years to try; the plan's own when left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub years: Vec<u32>,
    /// Days a week to try; the plan's own when left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub exposure_days: Vec<f64>,
    /// Kinds of trap to try, by their names in premises.trap_options; an empty name is the trap of the premises. The
    /// plan's own alone when left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub trap_options: Vec<String>,
    /// Patterns of revisits to try, as plan.revisit has them; null is every site in every year. The plan's own alone when
    /// left out. `sites` counts the different sites of all years together, as plan.sites does.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub revisits: Vec<Option<Revisit>>,
    /// Schemes of visits to try, as plan.visits.scheme has them; only with the question of occupancy. The plan's own alone
    /// when left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub schemes: Vec<Scheme>,
    /// Sites that there are: the search uses these alone, and the plan that comes out names them. Along a gradient the
    /// order in which they are taken is worked out; otherwise it is that of the list. Any place will do when left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub places: Vec<Place>,
    /// Most animals of a group that a plan may be expected to kill, over all years.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub toll: Vec<TollLimit>,
    /// Most money over all years, in the currency of premises.costs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub money: Option<f64>,
    /// Most person-hours over all years.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hours: Option<f64>,
    /// Most days with travel over all years.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub travel_days: Option<f64>,
    /// What an animal of a group counts when plans are ranked by their toll; 1 when left out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub weights: Vec<TollWeight>,
}

/// Which weeks the search tries.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WeekChoice {
    /// Runs of weeks around the middle of the plan's own.
    #[default]
    Around,
    /// Runs of weeks that begin anywhere.
    AnyRun,
    /// Weeks one by one: for each number those that are best for some trade-off between what the target's weeks catch
    /// and what they kill.
    Chosen,
}

impl WeekChoice {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Around, Self::AnyRun, Self::Chosen];

    /// Its key in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Around => "around",
            Self::AnyRun => "any_run",
            Self::Chosen => "chosen",
        }
    }

    /// Around the middle: left out of files.
    pub fn is_around(&self) -> bool {
        *self == Self::Around
    }
}

/// Some of the animals a plan kills: a group by its name, or all groups of a class; just one of the two.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TollLimit {
    /// The target's or a by-catch group's name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// All by-catch groups of this class together.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<Class>,
    /// Most animals, expected over all years; 0 is a limit too.
    pub most: f64,
}

/// What one animal of some groups counts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TollWeight {
    /// The target's or a by-catch group's name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// All by-catch groups of this class.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<Class>,
    /// How many animals one of these counts as, 0 or more.
    pub weight: f64,
}

/// What a limit or weight is about, in words.
pub fn group_or_class(group: Option<&str>, class: Option<Class>) -> String {
    match (group, class) {
        (Some(name), _) => name.to_string(),
        (None, Some(class)) => format!("all {}", class.words()),
        (None, None) => "all animals".into(),
    }
}

impl TollLimit {
    /// What it is about, in words.
    pub fn about(&self) -> String {
        group_or_class(self.group.as_deref(), self.class)
    }
}

impl Limits {
    /// Numbers of years to try, rising; the plan's own when none are listed.
    pub fn years_or(&self, own: u32) -> Vec<u32> {
        let mut years = self.years.clone();
        if years.is_empty() {
            years.push(own);
        }
        years.sort_unstable();
        years.dedup();
        years
    }

    /// Days a week to try, rising; the plan's own when none are listed.
    pub fn exposure_or(&self, own: f64) -> Vec<f64> {
        let mut days = self.exposure_days.clone();
        if days.is_empty() {
            days.push(own);
        }
        days.sort_by(f64::total_cmp);
        days.dedup();
        days
    }
}

impl Limits {
    /// The caps on cost: path, value, and what it caps in words.
    pub fn cost_caps(&self) -> [(&'static str, Option<f64>, &'static str); 3] {
        [
            ("limits.money", self.money, "money"),
            ("limits.hours", self.hours, "hours"),
            ("limits.travel_days", self.travel_days, "days with travel"),
        ]
    }

    /// Whether costs stay within the caps.
    pub fn affords(&self, cost: &CostTotals) -> bool {
        let within = |cap: Option<f64>, value: f64| cap.is_none_or(|c| value <= c * (1.0 + 1e-9));
        within(self.money, cost.money)
            && within(self.hours, cost.all_hours)
            && within(self.travel_days, cost.travel_days)
    }

    /// Kinds of trap to try; the plan's own when none are listed.
    pub fn traps_or(&self, own: Option<&str>) -> Vec<Option<String>> {
        if self.trap_options.is_empty() {
            return vec![own.map(Into::into)];
        }
        let some = |name: &String| (!name.is_empty()).then(|| name.clone());
        let mut all: Vec<Option<String>> = self.trap_options.iter().map(some).collect();
        all.sort();
        all.dedup();
        all
    }
}

impl Limits {
    /// Patterns of revisits to try, in the order of the list; the plan's own when none are listed.
    pub fn revisits_or(&self, own: Option<Revisit>) -> Vec<Option<Revisit>> {
        if self.revisits.is_empty() {
            return vec![own];
        }
        once_each(&self.revisits)
    }

    /// Schemes of visits to try, in the order of the list; the plan's own when none are listed.
    pub fn schemes_or(&self, own: Option<Scheme>) -> Vec<Option<Scheme>> {
        if self.schemes.is_empty() {
            return vec![own];
        }
        let some: Vec<Option<Scheme>> = self.schemes.iter().copied().map(Some).collect();
        once_each(&some)
    }

    /// How many lists to choose among are given.
    pub fn lists(&self) -> usize {
        let given = [
            !self.years.is_empty(),
            !self.exposure_days.is_empty(),
            !self.trap_options.is_empty(),
            !self.revisits.is_empty(),
            !self.schemes.is_empty(),
        ];
        given.into_iter().filter(|given| *given).count()
    }

    /// Takes all lists to choose among away, that of places too: what is left is one slice of a search.
    pub fn clear_lists(&mut self) {
        self.years.clear();
        self.exposure_days.clear();
        self.trap_options.clear();
        self.revisits.clear();
        self.schemes.clear();
        self.places.clear();
    }
}

/// Every entry once, in the order of the list.
fn once_each<T: Copy + PartialEq>(list: &[T]) -> Vec<T> {
    let mut all: Vec<T> = Vec::new();
    for entry in list {
        if !all.contains(entry) {
            all.push(*entry);
        }
    }
    all
}

impl Scenario {
    /// Which places of a toll (the target, then what is killed besides it) a group or class means.
    pub fn tolls_of(&self, group: Option<&str>, class: Option<Class>) -> Vec<usize> {
        let killed = self.premises.killed_besides();
        let target = group == Some(self.premises.target.name.as_str());
        let others = killed.iter().enumerate().filter_map(|(i, k)| {
            let named = group == Some(k.group.name.as_str());
            let classed = group.is_none() && class == Some(k.group.class);
            (named || classed).then_some(i + 1)
        });
        target.then_some(0).into_iter().chain(others).collect()
    }

    /// What each place of a toll counts when plans are ranked: the target, then the other groups.
    pub fn toll_weights(&self) -> Vec<f64> {
        let mut weights = vec![1.0; 1 + self.premises.killed_besides().len()];
        for w in &self.limits.weights {
            for place in self.tolls_of(w.group.as_deref(), w.class) {
                weights[place] = w.weight;
            }
        }
        weights
    }

    /// The most years that the plan or the search may have.
    pub(super) fn longest_years(&self) -> u32 {
        let own = self.plan.years;
        self.limits
            .years
            .iter()
            .copied()
            .max()
            .map_or(own, |y| y.max(own))
    }
}
