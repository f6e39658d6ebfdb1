//! `leastcatch least`

use crate::arguments::PicturedSimulation;
use crate::failure::Failure;
use crate::output::print_line;
use crate::{files as read, run as running, text};
use engine::cost::CostTotals;
use engine::least::{Least, PlanAnswer, RACE_ERROR};
use engine::scenario::Scenario;
use engine::summary::{Share, TestTold, Toll};
use engine::{Kind, Report};
use paper::number::percent_fine;
use paper::{least_figure, sentences};

/// The plan with the smallest toll that answers.
pub fn run(arguments: &PicturedSimulation) -> Result<(), Failure> {
    let (arguments, files) = (&arguments.simulation, &arguments.files);
    let scenario = read::checked(&arguments.scenario)?;
    let report = running::run(scenario.clone(), Kind::Least, arguments)?;
    let Report::Least(least) = &report else {
        return Ok(());
    };
    if let Some(figure) = least_figure(&scenario, &least.frontier) {
        files.write(|| figure.svg(), || figure.table().csv())?;
    }
    if arguments.json {
        text::json(&report, &scenario, arguments)?;
    } else {
        print_line(&told(&scenario, least))?;
    }
    if least.plan.is_none() {
        Err(Failure::NoPlan)
    } else {
        Ok(())
    }
}

fn told(scenario: &Scenario, least: &Least) -> String {
    let mut lines = vec![
        sentences::question(scenario),
        format!(
            "Looked at {} plans by closed form ({}) and simulated {}.",
            least.screened,
            sentences::search_space(scenario),
            least.simulated
        ),
        String::new(),
    ];
    match (&least.plan, &least.shortfall) {
        (Some(plan), _) => {
            lines.push(format!("Least plan: {}", sentences::plan(plan)));
            lines.push(line(
                scenario,
                least.power.as_ref(),
                least.false_alarm.as_ref(),
                least.toll.as_ref(),
                least.cost.as_ref(),
            ));
            if least.smaller.is_empty() {
                lines.push("There is no smaller plan.".into());
            } else {
                lines.push("Why not fewer:".into());
            }
            lines.extend(least.smaller.iter().map(|p| {
                let stopped = p.stopped.map_or(String::new(), |s| {
                    format!(", {}", sentences::stopped(s.after, s.of))
                });
                format!(
                    "  {}:\n{}, {}{stopped}\n    {}",
                    sentences::fewer(p.fewer),
                    smaller(scenario, p),
                    sentences::standing_of_smaller(scenario, &p.power, p.within_limits),
                    sentences::worth_of_smaller(
                        scenario,
                        p.smallest_change.as_ref(),
                        &p.significant,
                        p.spared
                    )
                )
            }));
            lines.extend(least.missed.as_ref().map(sentences::missed));
            lines.extend(binding_with_heading(least));
            lines.push(sentences::race(least.stopped, RACE_ERROR, least.surveys));
            lines.extend(sentences::least_of_list(scenario));
            lines.extend(stand_in(least.test.as_ref(), least.power.as_ref()));
            lines.extend(
                least
                    .false_alarm
                    .as_ref()
                    .and_then(|a| sentences::least_warning(scenario, a)),
            );
            if let (Some(toll), Some(power)) = (least.undecided_toll, &least.power) {
                lines.push(sentences::undecided(toll, power.replicates));
            }
            lines.extend(least.half_exposure.map(|h| {
                sentences::half_exposure(
                    h.exposure_days,
                    h.preview_power,
                    h.preview_power_of_least,
                    h.expected_toll,
                )
            }));
        }
        (None, Some(s)) => {
            lines.push(s.reason.clone());
            lines.push(format!(
                "The surest plan within the limits: {}",
                smaller(scenario, &s.surest)
            ));
            lines.extend(stand_in(Some(&s.surest.test), Some(&s.surest.power)));
            lines.extend(binding_with_heading(least));
            lines.push("What would help (closed forms scaled to that simulation; simulate before relying on them):".into());
            lines.extend(s.would_help.iter().map(|h| format!("  {h}")));
            lines.push(sentences::race(least.stopped, RACE_ERROR, least.surveys));
        }
        (None, None) => {
            lines.push("There is no plan within the limits. What would make room for one that answers, by closed form:".into());
            lines.extend(binding(least));
            if least.binding_limits.is_empty() {
                lines.push("  No limit by itself: give way in several.".into());
            }
        }
    }
    lines.join("\n")
}

fn binding(least: &Least) -> impl Iterator<Item = String> + '_ {
    let told = |r| format!("  {}", sentences::binding(r));
    least.binding_limits.iter().map(told)
}

fn binding_with_heading(least: &Least) -> impl Iterator<Item = String> + '_ {
    let heading = "Limits that bind (by closed form scaled to the simulation):";
    let any = (!least.binding_limits.is_empty()).then(|| heading.to_owned());
    any.into_iter().chain(binding(least))
}

fn stand_in(test: Option<&TestTold>, power: Option<&Share>) -> Option<String> {
    sentences::stand_in(test?, power?.replicates)
}

fn smaller(scenario: &Scenario, p: &PlanAnswer) -> String {
    format!(
        "  {}\n    {}",
        sentences::plan(&p.plan),
        line(
            scenario,
            Some(&p.power),
            Some(&p.false_alarm),
            p.toll.as_ref(),
            p.cost.as_ref(),
        )
    )
}

fn line(
    scenario: &Scenario,
    power: Option<&Share>,
    alarm: Option<&Share>,
    toll: Option<&Toll>,
    cost: Option<&CostTotals>,
) -> String {
    let share = |s: &Share| {
        format!(
            "{} ({} to {})",
            percent_fine(s.estimate),
            percent_fine(s.low),
            percent_fine(s.high)
        )
    };
    format!(
        "power {}, {} {}, kills {}{}",
        power.map_or("not known".into(), share),
        sentences::false_alarms(scenario),
        alarm.map_or("not known".into(), share),
        toll.map_or("not known".into(), |t| sentences::spread(&t.total)),
        cost.map_or(String::new(), |c| format!(
            ", {}",
            paper::cost::phrase(scenario, c)
        ))
    )
}
