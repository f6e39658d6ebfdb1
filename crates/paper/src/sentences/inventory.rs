//! Inventories in plain sentences.

use crate::number::{count, decimals, percent, percent_fine, plain, rounded};
use survey::inventory::{Estimated, Form, Report};
use survey::scenario::{Inventory, Recorded, Scenario};
use survey::summary::{Answer, Share};

/// What a survey answers by, and what its own estimate is worth.
pub(super) fn reached_and_claimed(asked: &Inventory, answer: &Answer) -> String {
    let own = if answer.bias.is_finite() {
        let way = if answer.bias < 0.0 { "below" } else { "above" };
        format!(
            " On average a survey's own estimate is {} points {way} the share it has reached.",
            percent_fine(answer.bias.abs()).trim_end_matches([' ', '%'])
        )
    } else {
        String::new()
    };
    format!(
        "A survey answers when it has truly recorded {} or more of the community believed in: the pilot's, completed for species not seen, its shares the same at all sites and weeks. A false claim is a survey whose own estimate reaches that share although it has not.{own} Catches that come in clumps make both too hopeful: samples with each species (incidences) are proof against that.",
        percent_fine(asked.wanted_share)
    )
}

/// A warning when surely more surveys than accepted claim the share falsely.
pub(super) fn false_claims(scenario: &Scenario, claims: &Share) -> Option<String> {
    (claims.replicates > 0 && claims.low > scenario.question.significance).then(|| {
        format!(
            "Do not rest on such a survey's own estimate: {} claim the share without having reached it where {} are accepted. More trapping, or a lower share, makes fewer of them.",
            percent(claims.estimate),
            percent(scenario.question.significance)
        )
    })
}

/// How far a size lies from what was seen, in words.
pub fn reach(key: &str) -> &'static str {
    match key {
        "seen" => "within the pilot",
        "double" => "up to double",
        "triple" => "up to triple",
        _ => "beyond triple",
    }
}

/// What is to be thought of a size so far out.
fn reliable(key: &str) -> &'static str {
    match key {
        "seen" | "double" => "",
        "triple" => " That is up to three times the pilot: numbers of species hang on the rarest.",
        _ => {
            " That is more than three times the pilot: not reliable, and for species rather too little."
        }
    }
}

/// New species for a hundred animals.
pub fn animals(species_per_animal: Option<f64>) -> String {
    species_per_animal.map_or("no animal killed".into(), |s| decimals(100.0 * s, 2))
}

/// Species recorded and reckoned.
pub fn species_range(form: &Form) -> String {
    format!(
        "{} species are recorded, {} of them seen once and {} twice; at least {:.0} (95 % interval {:.0} to {}) are reckoned to be there.",
        plain(form.species),
        plain(form.seen_once_and_twice.0),
        plain(form.seen_once_and_twice.1),
        form.richness.estimate,
        form.richness.low,
        if form.richness.high.is_finite() {
            format!("{:.0}", form.richness.high)
        } else {
            "any number".into()
        }
    )
}

fn interval(e: &Estimated) -> String {
    format!(
        "{} (95 % interval {} to {})",
        percent_fine(e.estimate),
        percent_fine(e.low),
        percent_fine(e.high)
    )
}

/// What one kind of count tells.
fn of_form(report: &Report, form: &Form, what: &str) -> Vec<String> {
    let mut lines = vec![
        format!(
            "By {what}: {} {what} in {} trap-weeks. {}",
            plain(form.size),
            plain(form.trap_weeks),
            species_range(form)
        ),
        format!(
            "Coverage, the share of individuals that belong to recorded species, is {}; {} of the species reckoned are recorded.",
            interval(&form.coverage),
            interval(&form.species_share)
        ),
    ];
    let goal = match report.of {
        Recorded::Coverage => "coverage",
        Recorded::Species => "of the species",
    };
    let wanted = percent_fine(report.wanted_share);
    lines.push(match &form.wanted {
        None => format!("No effort is expected to reach {wanted} {goal} by these counts."),
        Some(w) if w.further_trap_weeks <= 0.0 => format!(
            "The pilot is reckoned to have reached {wanted} {goal} already, at {:.0} trap-weeks.",
            w.trap_weeks
        ),
        Some(w) => {
            let kill = w.further_killed.map_or(String::new(), |k| {
                format!(", which would kill about {} animals more", rounded(k))
            });
            format!(
                "{wanted} {goal} is expected at {:.0} trap-weeks of the pilot's kind in all, {:.0} more{kill}: half of such inventories stay below.{}",
                w.trap_weeks,
                w.further_trap_weeks,
                reliable(w.reach)
            )
        }
    });
    lines
}

/// What the pilot tells, in sentences.
pub fn inventory(report: &Report) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(form) = &report.individuals {
        lines.extend(of_form(report, form, "individuals"));
    }
    if let Some(form) = &report.incidences {
        lines.extend(of_form(report, form, "samples"));
    }
    if report.individuals.is_some() {
        lines.push(if report.incidences.is_some() {
            "Where catches come in clumps trust the samples: by individuals coverage is told too high. Surveys are simulated by individuals.".into()
        } else {
            "By individuals coverage is told too high where catches come in clumps; samples with each species (incidences) are proof against that.".into()
        });
    }
    lines.push(format!(
        "Intervals of coverage and curves are from {} inventories redrawn from the pilot, completed for species not seen; they hold the luck of the catch, not what richness as a lower bound misses.",
        report.redrawn
    ));
    lines
}

/// How further trap-weeks are best shared out.
pub fn further(report: &Report) -> Vec<String> {
    let each = report.further.iter().map(|a| {
        let by = if a.by == "animal" {
            "most new species for each animal"
        } else {
            "most new species for each trap-week"
        };
        let n: u32 = a.trap_weeks.iter().map(|(_, n)| n).sum();
        let parts: Vec<String> = a
            .trap_weeks
            .iter()
            .filter(|(_, n)| *n > 0)
            .map(|(stratum, n)| format!("{n} to {stratum}"))
            .collect();
        let parts = if parts.is_empty() {
            "none".into()
        } else {
            parts.join(", ")
        };
        let far = if a.beyond_double {
            " A stratum more than doubles: beyond what can be relied on."
        } else {
            ""
        };
        format!(
            "{n} further trap-weeks, each where it adds {by}: {parts}; about {} new species for {} animals killed.{far}",
            decimals(a.new_species, 1),
            count(a.killed)
        )
    });
    each.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::inventory::report;
    use survey::scenario::{Checked, Effect, read};

    fn demo(change: impl FnOnce(&mut Scenario)) -> Checked {
        let text = include_str!("../../../../demo-data/meadow-inventory.json");
        let mut s = read(text).unwrap();
        change(&mut s);
        s.check().unwrap()
    }

    #[test]
    fn far_extrapolations_are_called_unreliable() {
        let with = |share: f64, of: Recorded| {
            let s = demo(|s| {
                s.question.effect = Effect::Inventory(Inventory {
                    wanted_share: share,
                    of,
                });
            });
            inventory(&report(&s, 1).unwrap()).join(" ")
        };
        let near = with(0.98, Recorded::Coverage);
        assert!(
            near.contains("98.0 % coverage is expected at 105 trap-weeks"),
            "{near}"
        );
        assert!(!near.contains("not reliable"), "{near}");
        let far = with(0.99, Recorded::Species);
        assert!(far.contains("not reliable"), "{far}");
        let reached = with(0.9, Recorded::Coverage);
        assert!(
            reached.contains("reached 90.0 % coverage already"),
            "{reached}"
        );
    }

    #[test]
    fn further_trap_weeks_are_shared_out_in_words() {
        let told = report(&demo(|_| {}), 10).unwrap();
        let lines = further(&told);
        assert!(
            lines[0].starts_with("10 further trap-weeks, each where it adds most new species for each animal: 10 to narrow cups, weeks 20 to 22;"),
            "{lines:?}"
        );
        assert_eq!(reach("beyond"), "beyond triple");
        assert_eq!(animals(None), "no animal killed");
        assert_eq!(animals(Some(0.0089)), "0.89");
    }
}
