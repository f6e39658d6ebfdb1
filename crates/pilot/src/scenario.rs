//! A pilot's premises put into a scenario.

use super::estimate::Estimate;
use super::premises::{BycatchPremises, PilotPremises};
use survey::scenario::{Bycatch, Class, Premise, Scenario, Source, Target};

/// Puts an estimate in the place of a premise. What is only common practice leaves a premise alone that was fitted,
/// published or guessed by the user: it knows less than they do.
fn put(estimate: &Estimate, into: &mut Premise) {
    let known = matches!(
        into.source,
        Source::Pilot | Source::Published | Source::Guess
    );
    if estimate.source != Source::CommonPractice || !known {
        *into = estimate.premise();
    }
}

impl PilotPremises {
    /// The scenario with these premises: values, ranges and sources of the target and of the by-catch groups.
    ///
    /// Other species of the list and groups are matched by name; groups keep their class; new ones are added as arthropods, which the scenario's notes
    /// say. Where the file tells no weeks, the scenario's peak weeks stay (a new group takes the target's, as a
    /// guess). Common practice replaces only premises that are themselves common practice or invented. The question,
    /// plan, limits, trap loss and gradient stay.
    pub fn into_scenario(&self, mut scenario: Scenario) -> Scenario {
        let p = &mut scenario.premises;
        // Another species of the list takes the target's place, with its premises.
        if let Some(other) = p
            .others
            .iter_mut()
            .find(|t| t.name.trim() == self.target.name)
        {
            std::mem::swap(other, &mut p.target);
        }
        let target = &mut scenario.premises.target;
        target.name.clone_from(&self.target.name);
        let from = &self.target;
        put(&from.catch_per_trap_week, &mut target.catch_per_trap_week);
        put(&from.dispersion_k, &mut target.dispersion_k);
        put(&from.site_sd, &mut target.site_sd);
        put(&from.year_sd, &mut target.year_sd);
        put(&from.site_year_sd, &mut target.site_year_sd);
        put(&from.trap_sd, &mut target.trap_sd);
        if let Some(peak) = &from.season_peak_week {
            put(peak, &mut target.season_peak_week);
        }
        put(&from.season_width_weeks, &mut target.season_width_weeks);
        let peak = Premise::new(target.season_peak_week.value, Source::Guess);
        let mut new = Vec::new();
        for group in &self.bycatch {
            let p = &mut scenario.premises;
            if let Some(other) = p.others.iter_mut().find(|t| t.name.trim() == group.name) {
                group.put_into_species(other);
                continue;
            }
            let groups = &mut p.bycatch;
            match groups.iter_mut().find(|g| g.name.trim() == group.name) {
                Some(known) => group.put_into(known),
                None => {
                    groups.push(group.as_new(&peak));
                    new.push(group.name.as_str());
                }
            }
        }
        if !new.is_empty() {
            if !scenario.notes.is_empty() {
                scenario.notes.push('\n');
            }
            scenario.notes.push_str(&format!(
                "New by-catch groups from the pilot were given the class arthropod: {}. Correct those that are vertebrates or protected.",
                new.join(", ")
            ));
        }
        scenario
    }
}

impl BycatchPremises {
    fn put_into(&self, group: &mut Bycatch) {
        put(&self.catch_per_trap_week, &mut group.catch_per_trap_week);
        put(&self.dispersion_k, &mut group.dispersion_k);
        put(&self.site_sd, &mut group.site_sd);
        put(&self.year_sd, &mut group.year_sd);
        if let Some(peak) = &self.season_peak_week {
            put(peak, &mut group.season_peak_week);
        }
        put(&self.season_width_weeks, &mut group.season_width_weeks);
    }

    /// Sites' own years and traps within a site are not told of a group: the species keeps its premises of them.
    fn put_into_species(&self, species: &mut Target) {
        put(&self.catch_per_trap_week, &mut species.catch_per_trap_week);
        put(&self.dispersion_k, &mut species.dispersion_k);
        put(&self.site_sd, &mut species.site_sd);
        put(&self.year_sd, &mut species.year_sd);
        if let Some(peak) = &self.season_peak_week {
            put(peak, &mut species.season_peak_week);
        }
        put(&self.season_width_weeks, &mut species.season_width_weeks);
    }

    fn as_new(&self, peak: &Premise) -> Bycatch {
        Bycatch {
            name: self.name.clone(),
            class: Class::Arthropod,
            catch_per_trap_week: self.catch_per_trap_week.premise(),
            dispersion_k: self.dispersion_k.premise(),
            site_sd: self.site_sd.premise(),
            year_sd: self.year_sd.premise(),
            season_peak_week: self
                .season_peak_week
                .as_ref()
                .map_or_else(|| peak.clone(), Estimate::premise),
            season_width_weeks: self.season_width_weeks.premise(),
        }
    }
}
