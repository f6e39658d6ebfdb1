//! A scenario of one's own, made of one that holds a demonstration's inventions.

use super::check::Fault;
use super::{CatchFactor, Premise, Scenario, Source, read, write};

/// What [`Scenario::own`] gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Own {
    /// The scenario without inventions.
    pub scenario: Scenario,
    /// How many invented premises are guesses now.
    pub guesses: usize,
    /// Names of the groups of by-catch that were invented, and are gone.
    pub groups: Vec<String>,
    /// Invented costs are gone.
    pub costs: bool,
    /// Limits on money, hours or days with travel are gone with them.
    pub caps: bool,
}

impl Own {
    /// No premise was invented.
    pub fn is_unchanged(&self) -> bool {
        self.guesses == 0 && self.groups.is_empty() && !self.costs
    }
}

/// How a file written here marks an invented premise, and how one that is a guess. Quotation marks within texts are
/// escaped there, so that neither stands in a title or a note.
const INVENTED: &str = r#""source": "invented""#;
const GUESS: &str = r#""source": "guess""#;

impl Scenario {
    /// How many of its premises are invented.
    pub fn inventions(&self) -> usize {
        invented(&write(self))
    }

    /// The scenario under another title, without what was made up for a demonstration: lines of the notes that begin with
    /// "Invented", groups of by-catch with an invented rate (and limits, weights and factors of them), and costs of which
    /// any is invented (and limits on them) are gone; invented premises that the question cannot do without keep their
    /// values as guesses. Question, plan, analysis and all that is not invented stay.
    ///
    /// # Errors
    /// None is known: the scenario is written and read.
    pub fn own(&self, title: &str) -> Result<Own, Fault> {
        let mut own = self.clone();
        own.title = title.into();
        let said: Vec<&str> = self.notes.lines().filter(|l| !is_of_demo(l)).collect();
        own.notes = said.join("\n");
        let (gone, kept) = own
            .premises
            .bycatch
            .into_iter()
            .partition(|g| is_invented(&g.catch_per_trap_week));
        own.premises.bycatch = kept;
        let groups: Vec<String> = gone.into_iter().map(|g| g.name).collect();
        let stays = |name: Option<&str>| {
            name.is_none_or(|name| groups.iter().all(|gone| gone.trim() != name.trim()))
        };
        own.limits.toll.retain(|l| stays(l.group.as_deref()));
        own.limits.weights.retain(|w| stays(w.group.as_deref()));
        for option in &mut own.premises.trap_options {
            let known = |f: &CatchFactor| stays(f.group.as_deref());
            option.bycatch.retain(known);
        }
        let text = write(&own);
        let in_costs = own.premises.costs.take();
        let without = write(&own);
        let costs = in_costs.is_some() && invented(&text) > invented(&without);
        let l = &mut own.limits;
        let caps = costs && l.cost_caps().iter().any(|(_, cap, _)| cap.is_some());
        let text = if costs {
            (l.money, l.hours, l.travel_days) = (None, None, None);
            write(&own)
        } else {
            text
        };
        Ok(Own {
            caps,
            guesses: invented(&text),
            scenario: read(&text.replace(INVENTED, GUESS))?,
            groups,
            costs,
        })
    }
}

/// A line of the notes that says what a demonstration made up; those of our demonstrations begin so.
fn is_of_demo(line: &str) -> bool {
    line.trim_start().starts_with("Invented")
}

fn is_invented(premise: &Premise) -> bool {
    premise.source == Source::Invented
}

/// How many invented premises a scenario's text holds.
fn invented(text: &str) -> usize {
    text.matches(INVENTED).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::{TollLimit, TollWeight};

    const DEMO: &str = include_str!("../../../../demo-data/meadow-beetles.json");

    #[test]
    fn what_was_invented_is_gone_or_a_guess_and_the_rest_stays() {
        let mut demo = read(DEMO).unwrap();
        let about = |name: &str| Some(name.to_string());
        demo.limits.toll = ["shrews", "spiders"]
            .map(|name| TollLimit {
                group: about(name),
                class: None,
                most: 500.0,
            })
            .to_vec();
        demo.limits.weights = vec![TollWeight {
            group: about("great bronze carabid"),
            class: None,
            weight: 10.0,
        }];
        demo.notes
            .push_str("\nThe pilot's traps were emptied twice.");
        demo.limits.hours = Some(9000.0);
        // The spiders' rate is from a pilot.
        demo.premises.bycatch[0].catch_per_trap_week.source = Source::Pilot;
        let own = demo.own("mine").unwrap();
        assert_eq!(own.groups, ["shrews", "great bronze carabid"]);
        assert!(own.costs && own.scenario.premises.costs.is_none());
        assert!(own.caps && own.scenario.limits.hours.is_none());
        let s = &own.scenario;
        assert_eq!(s.title, "mine");
        assert_eq!(s.notes, "The pilot's traps were emptied twice.");
        assert_eq!(s.premises.bycatch.len(), 1);
        assert_eq!(s.limits.toll.len(), 1);
        assert_eq!(s.limits.weights, []);
        assert_eq!(
            (&s.question, &s.plan, &s.analysis),
            (&demo.question, &demo.plan, &demo.analysis)
        );
        let target = &s.premises.target;
        assert_eq!(target.catch_per_trap_week.value, 9.0);
        assert_eq!(target.catch_per_trap_week.source, Source::Guess);
        // Common practice is no invention.
        assert_eq!(target.site_sd, demo.premises.target.site_sd);
        // Target: rate, k, years, peak, width. Spiders: sites, peak, width.
        assert_eq!(own.guesses, 8);
        assert!(s.clone().check().is_ok());
        // A second time nothing is invented, so that nothing changes.
        let again = s.own("mine").unwrap();
        assert!(again.is_unchanged());
        assert_eq!(again.scenario, *s);
        assert_eq!(s.inventions(), 0);
    }

    #[test]
    fn costs_that_are_ones_own_stay_and_a_text_that_speaks_of_sources_is_no_premise() {
        let mut s = read(&DEMO.replace("\"invented\"", "\"guess\"")).unwrap();
        s.notes = r#""source": "invented""#.into();
        assert!(s.own("mine").unwrap().is_unchanged());
        s.premises.target.site_sd.source = Source::Invented;
        s.limits.hours = Some(9000.0);
        assert_eq!(s.inventions(), 1);
        let own = s.own("mine").unwrap();
        assert_eq!((own.guesses, own.costs), (1, false));
        assert_eq!(own.scenario.premises.costs, s.premises.costs);
        assert!(!own.caps && own.scenario.limits.hours.is_some());
    }

    #[test]
    fn every_demo_makes_a_scenario_that_can_be_answered() {
        for demo in crate::scenario::tests::DEMOS {
            let own = read(demo).unwrap().own("mine").unwrap();
            assert!(own.guesses > 0, "{demo}");
            assert_eq!(own.scenario.notes, "", "{demo}");
            assert!(!write(&own.scenario).contains("invented"), "{demo}");
            let title = own.scenario.question.effect.key();
            assert!(own.scenario.check().is_ok(), "{title}");
        }
    }
}
