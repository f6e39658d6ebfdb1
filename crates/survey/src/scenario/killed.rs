//! What the traps kill besides the target: by-catch and the other species of a list.

use super::premises::{Bycatch, Class, Premises, Target};
use super::reproductives::Reproductives;
use crate::closed_form::mean_factor;
use std::borrow::Cow;

/// Animals killed besides the target, as a group.
#[derive(Clone, Debug, PartialEq)]
pub struct Killed<'a> {
    /// The group.
    pub group: Cow<'a, Bycatch>,
    /// Another species that is asked about: its mean catch goes the way the target's goes. By-catch has no trend.
    pub asked_about: bool,
    /// Which share of those killed is reproductive, where it is given.
    pub reproductives: Option<&'a Reproductives>,
}

impl Premises {
    /// By-catch groups, then the other species that are asked about. These are drawn as groups: with their own rate,
    /// dispersion, season and SDs of sites and years, and with the change that is asked about, so that their mean kill
    /// is the one they have as a target. What only spreads a species' catch (sites' own years, traps, weeks' shared
    /// weather) is in its rate by its mean alone.
    pub fn killed_besides(&self) -> Vec<Killed<'_>> {
        let bycatch = self.bycatch.iter().map(|group| Killed {
            group: Cow::Borrowed(group),
            asked_about: false,
            reproductives: None,
        });
        let others = self.others.iter().map(|target| Killed {
            group: Cow::Owned(self.as_group(target)),
            asked_about: true,
            reproductives: target.reproductives.as_ref(),
        });
        bycatch.chain(others).collect()
    }

    /// Whether the reproductive share of any species is given.
    pub fn tells_reproductives(&self) -> bool {
        let mut asked = std::iter::once(&self.target).chain(&self.others);
        asked.any(|t| t.reproductives.is_some())
    }

    fn as_group(&self, t: &Target) -> Bycatch {
        let shared_week_sd = self.departures.shared_week_sd.value;
        let spread = [t.site_year_sd.value, t.trap_sd.value, shared_week_sd];
        let mut rate = t.catch_per_trap_week.clone();
        rate.value *= mean_factor(&spread);
        (rate.low, rate.high) = (None, None);
        Bycatch {
            name: t.name.clone(),
            class: Class::Arthropod,
            catch_per_trap_week: rate,
            dispersion_k: t.dispersion_k.clone(),
            site_sd: t.site_sd.clone(),
            year_sd: t.year_sd.clone(),
            season_peak_week: t.season_peak_week.clone(),
            season_width_weeks: t.season_width_weeks.clone(),
        }
    }
}
