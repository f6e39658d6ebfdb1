//! The toll by group as counts with intervals: vertebrates and protected animals apart, on a scale of their own.

use crate::sentences::{self, class};
use figures::number::plain;
use figures::{CountBar, CountBars, CountSection};
use survey::scenario::{Class, Scenario};
use survey::summary::{GroupToll, Spread, Toll};

/// What the whiskers are.
const INTERVAL: &str = "interval that holds 90 % of simulated surveys";

/// Place among the kinds of bars: the target is the first of them.
fn kind(c: Class) -> usize {
    match c {
        Class::Arthropod => 1,
        Class::Vertebrate => 2,
        Class::Protected => 3,
    }
}

fn target(name: &str, s: &Spread) -> CountBar {
    CountBar {
        label: name.into(),
        mean: s.mean,
        low: s.low,
        high: s.high,
        value: sentences::spread(s),
        kind: 0,
        cells: cells([s.mean, s.low, s.high], None),
    }
}

fn group(g: &GroupToll) -> CountBar {
    CountBar {
        label: g.group.clone(),
        mean: g.mean,
        low: g.low,
        high: g.high,
        value: sentences::group(g),
        kind: kind(g.class),
        cells: cells([g.mean, g.low, g.high], g.not_excluded),
    }
}

/// Numbers for machines: the table is saved, not shown.
fn cells(numbers: [f64; 3], not_excluded: Option<f64>) -> Vec<String> {
    let open = not_excluded.map_or(String::new(), plain);
    numbers.map(plain).into_iter().chain([open]).collect()
}

/// The picture of what the plan kills over all years.
pub fn figure(scenario: &Scenario, toll: &Toll) -> CountBars {
    let of_arthropods = |g: &&GroupToll| g.class == Class::Arthropod;
    let plenty = toll.bycatch.iter().filter(of_arthropods).map(group);
    let few = toll.bycatch.iter().filter(|g| !of_arthropods(g)).map(group);
    let name = &scenario.premises.target.name;
    let mut sections = vec![CountSection {
        heading: "Target and arthropods".into(),
        bars: std::iter::once(target(name, &toll.target))
            .chain(plenty)
            .collect(),
    }];
    let few: Vec<CountBar> = few.collect();
    if !few.is_empty() {
        sections.push(CountSection {
            heading: "Vertebrates and protected animals, on a scale of their own".into(),
            bars: few,
        });
    }
    let all = sentences::spread(&toll.total);
    CountBars {
        id: "toll-by-group".into(),
        title: "What the plan kills over all years, by group".into(),
        show_title: true,
        description: format!(
            "A bar for each group of animals, as long as the mean number killed, with the {INTERVAL}. All animals: {all}. {}",
            apart(toll)
        ),
        kinds: vec![
            "target".into(),
            class(Class::Arthropod).into(),
            class(Class::Vertebrate).into(),
            class(Class::Protected).into(),
        ],
        interval: INTERVAL.into(),
        sections,
        headers: ["group", "class", "mean", "low", "high", "not excluded"]
            .map(Into::into)
            .to_vec(),
        width: 640.0,
    }
}

/// Vertebrates and protected animals in a sentence.
fn apart(toll: &Toll) -> String {
    let told: Vec<String> = toll
        .bycatch
        .iter()
        .filter(|g| g.class != Class::Arthropod)
        .map(|g| format!("{} ({}): {}", g.group, class(g.class), sentences::group(g)))
        .collect();
    if told.is_empty() {
        "The premises name no vertebrates and no protected animals.".into()
    } else {
        format!("Apart: {}.", told.join("; "))
    }
}
