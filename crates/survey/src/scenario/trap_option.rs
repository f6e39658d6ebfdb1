//! Kinds of trap to choose from: what a funnel, a roof or an hour a night does to the catch.
//!
//! The premises tell what the usual trap catches. An option multiplies them; choosing one in the plan is **folded into
//! the premises in one place**, [`Scenario::check`]: a [`super::Checked`] scenario always reads as the premises of the
//! trap that is used, so that generator, closed forms, analysis and search know nothing of options. The folded
//! scenario keeps the chosen option alone, with factors of 1, so that folding it again changes nothing, even when it has
//! gone through a file; the scenario as it was written is kept beside it ([`super::Checked::as_written`]).

use super::premise::Premise;
use super::premises::Class;
use super::{Checked, Fault, Scenario};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A kind of trap, or a way to use it, in place of that of the premises.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TrapOption {
    /// Its name, by which the plan chooses it.
    pub name: String,
    /// Catch of the target over that of the premises' trap. Other species that are asked about are caught alike, unless
    /// `bycatch` names them.
    pub catch_factor: Premise,
    /// Dispersion k of the target over that of the premises' trap; 1 when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub k_factor: Option<Premise>,
    /// What it does to other animals, by group or by class; 1 for those that are not named.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub bycatch: Vec<CatchFactor>,
    /// What to know about it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub notes: String,
    /// Money for one such trap, in the currency of your budget: told beside the option, nothing is reckoned from it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub money_per_trap: Option<f64>,
}

/// Catch of a by-catch group over that of the premises' trap.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CatchFactor {
    /// The group (or other species that is asked about), by its name; either this or `class`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// All by-catch groups of a class that are not named themselves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<Class>,
    /// The factor.
    pub factor: Premise,
}

impl TrapOption {
    /// An option that changes nothing.
    pub fn unchanged(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            catch_factor: Premise::new(1.0, super::Source::Guess),
            k_factor: None,
            bycatch: Vec::new(),
            notes: String::new(),
            money_per_trap: None,
        }
    }

    /// The factor of a group or other species by its name.
    fn of_name(&self, name: &str) -> Option<f64> {
        let named = |f: &&CatchFactor| f.group.as_deref().map(str::trim) == Some(name.trim());
        self.bycatch.iter().find(named).map(|f| f.factor.value)
    }

    /// The factor of a by-catch group: that of its name, else that of its class, else 1.
    pub fn of_group(&self, name: &str, class: Class) -> f64 {
        let of_class = || self.bycatch.iter().find(|f| f.class == Some(class));
        let named = self.of_name(name);
        named
            .or_else(|| of_class().map(|f| f.factor.value))
            .unwrap_or(1.0)
    }
}

fn times(premise: &mut Premise, factor: f64) {
    premise.value *= factor;
    for end in [&mut premise.low, &mut premise.high] {
        *end = end.map(|v| v * factor);
    }
}

impl Scenario {
    /// The option the plan has chosen; `None` for the trap of the premises, and for a name that is none.
    pub fn trap_option(&self) -> Option<&TrapOption> {
        let name = self.plan.trap_option.as_deref()?;
        self.premises.trap_options.iter().find(|o| o.name == name)
    }

    /// The scenario whose premises are those of the chosen option; `None` when none is chosen.
    pub(super) fn folded(&self) -> Option<Self> {
        let option = self.trap_option()?.clone();
        let mut s = self.clone();
        let p = &mut s.premises;
        times(&mut p.target.catch_per_trap_week, option.catch_factor.value);
        if let Some(k) = &option.k_factor {
            times(&mut p.target.dispersion_k, k.value);
        }
        for other in &mut p.others {
            let own = option.of_name(&other.name);
            times(
                &mut other.catch_per_trap_week,
                own.unwrap_or(option.catch_factor.value),
            );
            if let (None, Some(k)) = (own, &option.k_factor) {
                times(&mut other.dispersion_k, k.value);
            }
        }
        for group in &mut p.bycatch {
            let factor = option.of_group(&group.name, group.class);
            times(&mut group.catch_per_trap_week, factor);
        }
        p.trap_options = vec![TrapOption {
            notes: option.notes,
            money_per_trap: option.money_per_trap,
            catch_factor: Premise {
                value: 1.0,
                low: None,
                high: None,
                ..option.catch_factor
            },
            ..TrapOption::unchanged(option.name)
        }];
        // Which others a search may try stands in what was written.
        s.limits.trap_options.clear();
        Some(s)
    }
}

impl Checked {
    /// The same plan with the option of this name, or with the trap of the premises.
    ///
    /// # Errors
    /// When there is no option of this name, or the scenario does not hold with it.
    pub fn with_option(&self, name: Option<&str>) -> Result<Self, Vec<Fault>> {
        let mut s = self.as_written().clone();
        s.plan.trap_option = name.map(Into::into);
        s.check()
    }
}
