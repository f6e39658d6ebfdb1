//! Mistakes to play with: what becomes of a survey's numbers when something usual goes wrong.
//!
//! Each is a pure function of a few numbers that a person moves ([`Knob`]), of what the scenario says besides
//! ([`Base`]) and, where histories are drawn, of a seed. The numbers begin as the scenario has them. All answer in a few
//! milliseconds: closed forms on the log scale, or direct draws of a thousand small histories.
//!
//! The log of a yearly catch is taken as normal: a site's total of a year with the variance about its site and year that
//! the plan's traps and weeks give it, so that t tests of plain regressions have exact laws.

mod base;
mod baseline;
mod best_sites;
mod knob;
mod many_species;
mod moving_season;
mod none_found;
mod only_significant;
mod repeated_looks;
mod strata;
#[cfg(test)]
mod tests;
mod traps_as_sites;
mod years_ignored;
mod zeros_dropped;

pub use base::Base;
pub use baseline::{Baseline, Rate};
pub use best_sites::BestSites;
pub use knob::{Knob, Origin};
pub use many_species::ManySpecies;
pub use moving_season::MovingSeason;
pub use none_found::NoneFound;
pub use only_significant::OnlySignificant;
pub use repeated_looks::RepeatedLooks;
pub use strata::Strata;
pub use traps_as_sites::{DIFFERENCE_PERCENT, TrapsAsSites};
pub use years_ignored::YearsIgnored;
pub use zeros_dropped::{Means, ZerosDropped};

use serde::Serialize;

/// A mistake.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Mistake {
    /// The traps of a site are counted as if each were a site.
    TrapsAsSites,
    /// The analysis leaves out that years differ.
    YearsIgnored,
    /// The first year of the series is chosen after seeing it.
    BaselineChosen,
    /// The sites are those that caught most in one year.
    BestSites,
    /// Visits that caught none are left out of the table.
    ZerosDropped,
    /// The weeks stay while the season moves.
    MovingSeason,
    /// Nothing found is told as nothing happened.
    NoneFound,
    /// Only what is significant is told.
    OnlySignificant,
    /// The data are looked at again and again.
    RepeatedLooks,
    /// Many species are tested and the significant ones told.
    ManySpecies,
}

impl Mistake {
    /// All of them, in the order they are shown.
    pub const ALL: [Self; 10] = [
        Self::TrapsAsSites,
        Self::YearsIgnored,
        Self::BaselineChosen,
        Self::BestSites,
        Self::ZerosDropped,
        Self::MovingSeason,
        Self::NoneFound,
        Self::OnlySignificant,
        Self::RepeatedLooks,
        Self::ManySpecies,
    ];

    /// Its key in files and at the command line.
    pub fn key(self) -> &'static str {
        match self {
            Self::TrapsAsSites => "traps_as_sites",
            Self::YearsIgnored => "years_ignored",
            Self::BaselineChosen => "baseline_chosen",
            Self::BestSites => "best_sites",
            Self::ZerosDropped => "zeros_dropped",
            Self::MovingSeason => "moving_season",
            Self::NoneFound => "none_found",
            Self::OnlySignificant => "only_significant",
            Self::RepeatedLooks => "repeated_looks",
            Self::ManySpecies => "many_species",
        }
    }

    /// The mistake with this key.
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|m| m.key() == key)
    }

    /// What a person moves, as the scenario has it.
    pub fn knobs(self, base: &Base) -> Vec<Knob> {
        let mut knobs = match self {
            Self::TrapsAsSites => traps_as_sites::knobs(base),
            Self::YearsIgnored => years_ignored::knobs(base),
            Self::BaselineChosen => baseline::knobs(base),
            Self::BestSites => best_sites::knobs(base),
            Self::ZerosDropped => zeros_dropped::knobs(base),
            Self::MovingSeason => moving_season::knobs(base),
            Self::NoneFound => none_found::knobs(base),
            Self::OnlySignificant => only_significant::knobs(base),
            Self::RepeatedLooks => repeated_looks::knobs(base),
            Self::ManySpecies => many_species::knobs(base),
        };
        self.settle(&mut knobs);
        knobs
    }

    /// Makes bounds that hang on another knob fit, and values with them: a first year leaves at least three.
    pub fn settle(self, knobs: &mut [Knob]) {
        if self == Self::BaselineChosen {
            baseline::settle(knobs);
        }
    }

    /// What the mistake does at these knobs.
    pub fn shown(self, base: &Base, knobs: &[Knob], seed: u64) -> Shown {
        match self {
            Self::TrapsAsSites => Shown::TrapsAsSites(traps_as_sites::shown(base, knobs)),
            Self::YearsIgnored => Shown::YearsIgnored(years_ignored::shown(base, knobs)),
            Self::BaselineChosen => Shown::BaselineChosen(baseline::shown(base, knobs, seed)),
            Self::BestSites => Shown::BestSites(best_sites::shown(knobs, seed)),
            Self::ZerosDropped => Shown::ZerosDropped(zeros_dropped::shown(knobs, seed)),
            Self::MovingSeason => Shown::MovingSeason(moving_season::shown(base, knobs)),
            Self::NoneFound => Shown::NoneFound(none_found::shown(base, knobs)),
            Self::OnlySignificant => Shown::OnlySignificant(only_significant::shown(base, knobs)),
            Self::RepeatedLooks => Shown::RepeatedLooks(repeated_looks::shown(knobs)),
            Self::ManySpecies => Shown::ManySpecies(many_species::shown(knobs)),
        }
    }
}

/// What a mistake does.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Shown {
    /// See [`Mistake::TrapsAsSites`].
    TrapsAsSites(TrapsAsSites),
    /// See [`Mistake::YearsIgnored`].
    YearsIgnored(YearsIgnored),
    /// See [`Mistake::BaselineChosen`].
    BaselineChosen(Baseline),
    /// See [`Mistake::BestSites`].
    BestSites(BestSites),
    /// See [`Mistake::ZerosDropped`].
    ZerosDropped(ZerosDropped),
    /// See [`Mistake::MovingSeason`].
    MovingSeason(MovingSeason),
    /// See [`Mistake::NoneFound`].
    NoneFound(NoneFound),
    /// See [`Mistake::OnlySignificant`].
    OnlySignificant(OnlySignificant),
    /// See [`Mistake::RepeatedLooks`].
    RepeatedLooks(RepeatedLooks),
    /// See [`Mistake::ManySpecies`].
    ManySpecies(ManySpecies),
}

/// A fall in per cent of a slope a year on the log scale over ten years; below 0 for a rise.
fn fall_a_decade(slope: f64) -> f64 {
    crate::scenario::percent_fall(slope, 10.0)
}

/// Places in the random stream, beyond those of simulated surveys.
mod place {
    pub const HISTORIES: u16 = 250;
    pub const SITES: u16 = 251;
    pub const VISITS: u16 = 252;
}
