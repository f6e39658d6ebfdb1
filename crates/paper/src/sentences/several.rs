//! Several species at once, in a table and in sentences.

use super::change::{false_alarms, smallest_name, smallest_preview};
use super::{least_warning, stand_in};
use crate::number::{percent, plain, rounded, scientific};
use figures::Table;
use survey::scenario::{Control, Effect, Scenario};
use survey::summary::{MeanNumber, OverList, Several, Share, Species};

/// What stands by every answer of several species.
pub const INDEPENDENT: &str = "Species are taken as independent of each other: good and bad years that they share, which are not simulated, would make the number found vary more.";

/// A control's name.
pub fn control(control: Control) -> &'static str {
    match control {
        Control::None => "none",
        Control::Bonferroni => "Bonferroni",
        Control::Holm => "Holm",
        Control::BenjaminiHochberg => "Benjamini and Hochberg",
    }
}

/// What a control holds.
pub fn about_control(control: Control) -> &'static str {
    match control {
        Control::None => {
            "Each species is tested at the accepted level: the longer the list, the more false alarms."
        }
        Control::Bonferroni => {
            "Each species is tested at the accepted level over the number of species: the chance of even one false alarm is at most that level."
        }
        Control::Holm => {
            "Holm (1979): the chance of even one false alarm is at most the accepted level, with more power than Bonferroni's."
        }
        Control::BenjaminiHochberg => {
            "Benjamini and Hochberg (1995): among all that is found the expected share of false alarms is at most the accepted level; more is found, and where some species do change the chance of even one false alarm is higher than the level."
        }
    }
}

/// What is asked of the species together; `None` when there is one alone.
pub fn asked_of_several(scenario: &Scenario) -> Option<String> {
    let asked = scenario.question.several?;
    let p = &scenario.premises;
    let names = std::iter::once(&p.target).chain(&p.others);
    let names: Vec<&str> = names.map(|t| t.name.as_str()).collect();
    let held = match asked.control {
        Control::None => "without control of false alarms over the list".to_string(),
        c => format!("false alarms over the list controlled by {}", control(c)),
    };
    Some(format!(
        "Asked of {} species at once: {}. At least {} of them, {}, must be answered; {held}.",
        names.len(),
        names.join(", "),
        percent(asked.answered_share),
        asked.needed(names.len())
    ))
}

/// What begins the verdict of one species of a list.
pub(super) fn alone(scenario: &Scenario) -> Option<String> {
    scenario.question.several?;
    Some(format!("For {} alone:", scenario.premises.target.name))
}

/// What stands with a least plan that was sought for one species of a list.
pub fn least_of_list(scenario: &Scenario) -> Option<String> {
    scenario.question.several?;
    Some(format!(
        "Sought for {} alone. The other species of the list may need more: take the plan and see what the whole list comes to before resting anything on it.",
        scenario.premises.target.name
    ))
}

/// The answer for the whole list, in a sentence; `None` before it is simulated.
pub fn list_verdict(scenario: &Scenario, s: &Several) -> Option<String> {
    let over = s.over_list();
    let begun = over.answered.replicates > 0 && over.any_false_alarm.replicates > 0;
    begun.then(|| {
        format!(
            "For the list: {} The chance is {}, {} is wanted.",
            verdict(scenario, over),
            percent(over.answered.estimate),
            percent(scenario.question.wanted_power)
        )
    })
}

/// That an answer, or a least plan, is of one species of a list.
pub fn one_of_several(scenario: &Scenario) -> Option<String> {
    scenario.question.several?;
    let p = &scenario.premises;
    Some(format!(
        "Power, false alarms and smallest change are those of {} alone, one of {} species that are asked about; the toll is that of all of them, each changing as the question says.",
        p.target.name,
        1 + p.others.len()
    ))
}

fn with_interval(s: &Share) -> String {
    format!(
        "{} ({} to {})",
        percent(s.estimate),
        percent(s.low),
        percent(s.high)
    )
}

fn share(s: &Share) -> String {
    if s.replicates == 0 {
        "not simulated yet".into()
    } else {
        with_interval(s)
    }
}

fn smallest(scenario: &Scenario, s: &Species) -> String {
    if s.power.replicates == 0 {
        return "not simulated yet".into();
    }
    let told = s
        .smallest_change
        .and_then(|c| smallest_preview(scenario, c.estimate));
    told.map_or("none".into(), |t| t.value)
}

/// One line for each species.
pub fn species_table(scenario: &Scenario, s: &Several) -> Table {
    let controlled = match s.control {
        Control::None => None,
        c => Some(format!("power under control ({})", control(c))),
    };
    let mut headers = vec!["species".to_string(), "power".into()];
    headers.extend(controlled.clone());
    headers.extend([
        false_alarms(scenario).into(),
        smallest_name(scenario).into(),
        "preview of power".into(),
        "failed fits".into(),
    ]);
    let line = |one: &Species| {
        let mut cells = vec![one.name.clone(), share(&one.power)];
        if controlled.is_some() {
            let told = one.power_controlled.as_ref();
            cells.push(told.map_or("not claimed".into(), share));
        }
        cells.extend([
            share(&one.false_alarm),
            smallest(scenario, one),
            percent(one.preview.power),
            one.fits.failed.to_string(),
        ]);
        cells
    };
    Table {
        caption: "Each species by itself, with 95 % Monte Carlo intervals".into(),
        headers,
        rows: s.species.iter().map(line).collect(),
    }
}

/// Few, to be told with decimals.
fn number(n: f64) -> String {
    if n.is_finite() {
        plain((100.0 * n).round() / 100.0)
    } else {
        "not known".into()
    }
}

fn mean(m: &MeanNumber) -> String {
    format!(
        "{} ({} to {})",
        number(m.estimate),
        number(m.low),
        number(m.high)
    )
}

/// The two worlds in words: the change is there in every species, in none.
fn worlds(scenario: &Scenario) -> (&'static str, &'static str) {
    match scenario.question.effect {
        Effect::NoWorse(_) => ("when the claim is true of all", "when it is true of none"),
        _ => ("when all change", "when none changes"),
    }
}

fn over_list(scenario: &Scenario, s: &Several, over: &OverList, how: &str) -> String {
    let (all, none) = worlds(scenario);
    let alarms = false_alarms(scenario);
    format!(
        "{how}the chance that at least {} of the {} species ({} of them) are answered is {} {all}, and {} species are answered on average; {none}, {} {alarms} are expected over the list, and {} of surveys raise at least one.",
        percent(s.answered_share),
        s.species.len(),
        s.needed,
        with_interval(&over.answered),
        mean(&over.expected_found),
        mean(&over.expected_false_alarms),
        with_interval(&over.any_false_alarm)
    )
}

/// Upper case at the beginning.
fn sentence(text: String) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// What is said of the list, the answer first.
pub fn several(scenario: &Scenario, s: &Several) -> Vec<String> {
    let over = s.over_list();
    if over.answered.replicates == 0 || over.any_false_alarm.replicates == 0 {
        return vec!["Nothing simulated yet.".into(), INDEPENDENT.into()];
    }
    let mut lines = Vec::new();
    if let Some(under) = &s.under_control {
        let how = format!("under the control of {} ", control(s.control));
        lines.push(sentence(over_list(scenario, s, under, &how)));
        lines.push(sentence(over_list(
            scenario,
            s,
            &s.without_control,
            "without control ",
        )));
    } else {
        lines.push(sentence(over_list(scenario, s, &s.without_control, "")));
    }
    lines.push(format!(
        "{} The wanted chance is {}.",
        verdict(scenario, over),
        percent(scenario.question.wanted_power)
    ));
    lines.push(about_control(s.control).into());
    lines.extend(ranks(s));
    lines.push(INDEPENDENT.into());
    lines.extend(waiting(s));
    lines.extend(s.species.iter().filter_map(|one| {
        let note = least_warning(scenario, &one.false_alarm)?;
        Some(format!("{}: {note}", one.name))
    }));
    if s.under_control.is_some() && over.any_false_alarm.low > scenario.question.significance {
        lines.push(format!(
            "The control is not held: it can be no better than the tests it rests on, and when there is nothing to find {} of surveys raise a false alarm where {} are accepted.",
            percent(over.any_false_alarm.estimate),
            percent(scenario.question.significance)
        ));
    }
    lines.extend(s.toll.as_ref().map(|t| {
        format!(
            "One toll is shared by all: the plan kills about {} animals of these species and the by-catch, however many of them are asked about.",
            rounded(t.total.mean)
        )
    }));
    lines
}

fn verdict(scenario: &Scenario, over: &OverList) -> &'static str {
    let wanted = scenario.question.wanted_power;
    if over.answered.low >= wanted {
        "The plan answers for the list."
    } else if over.answered.high < wanted {
        "The plan does not answer for the list."
    } else if over.answered.estimate >= wanted {
        "The plan answers for the list by its estimate, within Monte Carlo error."
    } else {
        "The plan does not answer for the list by its estimate, within Monte Carlo error."
    }
}

/// How small a p-value can get when it is a rank.
fn ranks(s: &Several) -> Option<String> {
    let smallest = s.smallest_p_value?;
    let needs = scientific(s.strictest_level, 2);
    let exact = |p: f64| plain((1e5 * p).round() / 1e5);
    let ranked = format!(
        "P-values are ranks among the simulated surveys without change: none can be smaller than {}",
        exact(smallest)
    );
    if s.control == Control::None {
        return Some(format!("{ranked}."));
    }
    let level = if s.strictest_level >= 1e-4 {
        exact(s.strictest_level)
    } else {
        needs
    };
    let told = format!(
        "{ranked}, and the strictest level of the control is {level}, the accepted level over {} species",
        s.species.len()
    );
    Some(match (s.control_refused, s.surveys_needed) {
        (true, Some(needed)) => format!(
            "{told}: with so few surveys no control is claimed; simulate at least {needed}."
        ),
        (_, Some(needed)) => format!(
            "{told}: only few surveys lie beyond it, so that powers under control are rough; {needed} surveys would tell them better."
        ),
        _ => format!("{told}."),
    })
}

/// That another test stands in as long as there are too few surveys.
fn waiting(s: &Several) -> Option<String> {
    let one = s.species.iter().find(|s| s.test.nulls_needed.is_some())?;
    stand_in(&one.test, one.false_alarm.replicates)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sentences_begin_large() {
        assert_eq!(sentence("under a".into()), "Under a");
        assert_eq!(sentence(String::new()), "");
        assert_eq!(
            (number(0.204_9), number(f64::NAN).as_str()),
            ("0.2".into(), "not known")
        );
    }
}
