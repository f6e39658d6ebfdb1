//! Which sites are visited in which years, in words, as a calendar, and what each pattern makes of the plan.

use crate::number::{count, decimals, power_with_alarms};
use figures::{Table, Visits, VisitsGrid};
use survey::patterns::{Outcome, Pattern};
use survey::scenario::{Checked, Plan, Revisit, Scenario};

/// A pattern in a few words.
pub fn name(revisit: Option<Revisit>) -> String {
    match revisit {
        None => "the same sites every year".into(),
        Some(Revisit::EveryK { years }) => format!("the same sites every {years} years"),
        Some(Revisit::Alternating { panels }) => format!("{panels} panels that take turns"),
        Some(Revisit::Augmented { always, panels }) => {
            format!("{always} sites every year, the others in {panels} panels that take turns")
        }
        Some(Revisit::Rotating { stay }) => {
            format!(
                "sites that come and go, each staying {stay} {}",
                years(stay)
            )
        }
        Some(Revisit::Split { always }) => {
            format!("{always} sites every year, the others new each year")
        }
        Some(Revisit::NewEachYear) => "new sites every year".into(),
    }
}

fn years(n: u32) -> &'static str {
    if n == 1 { "year" } else { "years" }
}

/// What the plan's phrase adds for its pattern and gaps; `None` when every site is visited every year.
pub fn phrase(plan: &Plan) -> Option<String> {
    if plan.all_every_year() {
        return None;
    }
    let mut parts = Vec::new();
    if plan.revisit.is_some() {
        parts.push(name(plan.revisit));
    }
    if !plan.gap_years.is_empty() {
        let gaps: Vec<String> = plan.gap_years.iter().map(u32::to_string).collect();
        let word = if gaps.len() == 1 { "year" } else { "years" };
        parts.push(format!("nobody traps in {word} {}", gaps.join(", ")));
    }
    let (most, all) = (plan.most_sites_in_a_year(), plan.sites);
    parts.push(if most == all {
        format!("{} site-years in all", count(f64::from(plan.site_years())))
    } else {
        format!(
            "{most} sites in a year, {all} different ones in all, {} site-years",
            count(f64::from(plan.site_years()))
        )
    });
    Some(parts.join("; "))
}

/// The plan's calendar: sites that are visited in the same years share a row.
pub fn calendar(plan: &Plan) -> VisitsGrid {
    let years = plan.years as usize;
    let mut rows: Vec<(Vec<bool>, u32)> = Vec::new();
    for s in 0..plan.sites {
        let visited: Vec<bool> = (0..plan.years).map(|y| plan.visited(s, y)).collect();
        match rows.iter_mut().find(|(known, _)| *known == visited) {
            Some((_, n)) => *n += 1,
            None => rows.push((visited, 1)),
        }
    }
    // Those that begin first come first, of these those that are visited most often.
    let order = |visited: &[bool]| {
        let first = visited.iter().position(|v| *v).unwrap_or(years);
        let visits = visited.iter().filter(|v| **v).count();
        (first, usize::MAX - visits)
    };
    rows.sort_by(|a, b| order(&a.0).cmp(&order(&b.0)).then(b.0.cmp(&a.0)));
    let told = phrase(plan).unwrap_or_else(|| "every site is visited every year".into());
    VisitsGrid {
        id: "calendar".into(),
        title: "Which sites are visited in which years".into(),
        show_title: true,
        description: format!(
            "A grid of groups of sites by years with a dot for each visit: {told}."
        ),
        row_heading: "sites".into(),
        columns: (1..=plan.years).map(|y| format!("{y}")).collect(),
        rows: rows
            .into_iter()
            .map(|(visited, n)| Visits {
                label: format!("{n} {}", if n == 1 { "site" } else { "sites" }),
                visited,
            })
            .collect(),
        width: 560.0,
    }
}

/// One line for each pattern.
pub fn patterns_table(patterns: &[Pattern]) -> Table {
    let headers = [
        "pattern",
        "different sites",
        "sites in a year",
        "site-years",
        "variance, as a multiple of this plan's",
        "power (false alarms), closed form",
        "animals killed",
    ];
    let variance = |p: &Pattern| match p.outcome {
        Outcome::Planned { variance, .. } => Some(variance),
        Outcome::Refused(_) => None,
    };
    let own = patterns.iter().find(|p| p.own).and_then(variance);
    let own = own.unwrap_or(f64::NAN);
    let line = |p: &Pattern| {
        let this = if p.own { " (this plan)" } else { "" };
        let mut cells = vec![
            format!("{}{this}", name(p.revisit)),
            p.sites.to_string(),
            p.sites_in_a_year.to_string(),
            count(f64::from(p.site_years)),
        ];
        match &p.outcome {
            Outcome::Planned {
                variance,
                power,
                false_alarm,
                toll,
                ..
            } => cells.extend([
                decimals(*variance / own, 3),
                power_with_alarms(*power, *false_alarm),
                count(*toll),
            ]),
            Outcome::Refused(why) => {
                cells.extend([format!("not planned: {why}"), "—".into(), "—".into()])
            }
        }
        cells
    };
    Table {
        caption: "The same yearly effort under each pattern".into(),
        headers: headers.map(String::from).to_vec(),
        rows: patterns.iter().map(line).collect(),
    }
}

/// What stands beside the table.
pub const PATTERNS_NOTE: &str = "With as many sites in a year as whole panels allow. Sites that come back take their own level out of a trend; sites that change add it. Variance components of trend: Larsen et al. 2001 (BioScience 51:1069); Urquhart, Paulsen & Larsen 1998 (Ecological Applications 8:246). What one traps away at a site visited every year, and what a site tells of its surroundings, are not in these numbers.";

/// Why a scenario has no patterns to compare; `None` when it has.
pub fn no_patterns(scenario: &Scenario) -> Option<String> {
    use survey::scenario::Effect;
    match &scenario.question.effect {
        Effect::Absence(_) | Effect::Baseline(_) | Effect::Inventory(_) => Some(
            "Patterns of revisits belong to questions of change and of differences: this one counts every visit alike.".into(),
        ),
        Effect::RangeShift(r) if !r.of.is_optimum() => Some(
            "The move of an edge is looked for at the same sites every year: there are no patterns to compare.".into(),
        ),
        _ => None,
    }
}

/// The patterns of a scenario.
pub fn compare(scenario: &Checked) -> Vec<Pattern> {
    survey::patterns::patterns(scenario)
}
