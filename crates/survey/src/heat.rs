//! The smallest change that is found with the wanted power, over years and sites, by closed form.

use crate::axis::Axis;
use crate::closed_form::{Gradual, effect_size, in_words_of_question};
use crate::scenario::{Checked, Effect, Fault, Limits, Plan, Scenario};
use serde::Serialize;

/// Most cells of one map.
pub const MOST_CELLS: usize = 900;
/// How many numbers an axis has when none are asked for, at most.
const USUAL: u32 = 10;

/// The numbers of a map: years across and sites down, both rising. Of a plan in which sites come and go, `sites` is what
/// it has in its own years; with other years it has as many in a year.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Axes {
    /// Years.
    pub years: Vec<u32>,
    /// Sites.
    pub sites: Vec<u32>,
}

/// What a plan of some years and sites finds.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Cell {
    /// The smallest change, in the question's unit.
    Found {
        /// It.
        smallest: f64,
        /// Its distance from no change at all over that of the wanted change: 1 on the line between plans that find the
        /// wanted change and those that do not.
        relative: f64,
        /// Whether the plan has the wanted power for the wanted change.
        reaches: bool,
    },
    /// No change that is worth looking at is found with the wanted power.
    Nothing,
    /// No such plan: why not.
    Impossible(String),
}

impl Cell {
    /// Whether the plan has the wanted power for the wanted change; `None` when there is no such plan.
    pub fn reaches(&self) -> Option<bool> {
        match self {
            Self::Found { reaches, .. } => Some(*reaches),
            Self::Nothing => Some(false),
            Self::Impossible(_) => None,
        }
    }
}

/// A map.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Map {
    /// Its numbers.
    #[serde(flatten)]
    pub axes: Axes,
    /// Sites in a year of each row, in the plan's own years.
    pub sites_in_a_year: Vec<u32>,
    /// The wanted change, in the question's unit.
    pub wanted: f64,
    /// Row by row, as many as there are years in each.
    pub cells: Vec<Cell>,
}

/// Numbers from low to high in equal steps of a multiple of `by` that meet `own`.
fn spread(own: u32, low: u32, high: u32, by: u32) -> Vec<u32> {
    let step = (high.saturating_sub(low)).div_ceil(USUAL - 1).max(1);
    let step = step.next_multiple_of(by.max(1));
    let below = own.saturating_sub(low) / step;
    let first = own - below * step;
    (0..)
        .map(|i| first + i * step)
        .take_while(|v| *v <= high.max(own))
        .collect()
}

/// Years and sites about the plan's own: from the fewest that are worth a look up to twice its own, or to its limits where these are
/// wider.
pub fn usual_axes(scenario: &Scenario) -> Axes {
    let plan = &scenario.plan;
    let longest = scenario.limits.years.iter().copied().max().unwrap_or(0);
    let paired = plan.groups.as_ref().is_some_and(|g| g.paired);
    let by = plan.pattern_step().max(if paired { 2 } else { 1 });
    let sites = (scenario.fewest_sites().max(plan.sites / 4), 2 * plan.sites);
    // With one year there is one, or with two two, which no other number can be.
    let years = (scenario.fewest_years().max(plan.years / 3), 2 * plan.years);
    Axes {
        years: spread(plan.years, years.0, longest.max(years.1), 1),
        sites: spread(plan.sites, sites.0, scenario.limits.sites.max(sites.1), by),
    }
}

/// What no change at all is in the question's unit.
fn no_change(scenario: &Checked) -> f64 {
    match &scenario.question.effect {
        // All species are recorded.
        Effect::Inventory(_) => 1.0,
        _ => in_words_of_question(scenario, 0.0),
    }
}

/// The plan of a cell within limits of its own.
///
/// # Errors
/// When there is no such plan.
pub fn with(scenario: &Scenario, sites: u32, years: u32) -> Result<Checked, Vec<Fault>> {
    let own = Axis::Sites.set(&scenario.plan, sites);
    if !scenario.fits_sites(sites) {
        // As the check says it.
        return standing(scenario, own);
    }
    let plan = if years == own.years {
        own
    } else {
        Axis::Years.set(&own, years)
    };
    standing(scenario, plan)
}

fn standing(scenario: &Scenario, plan: Plan) -> Result<Checked, Vec<Fault>> {
    Scenario {
        limits: Limits {
            sites: plan.sites,
            traps_per_site: plan.traps_per_site,
            weeks: plan.weeks,
            ..Limits::default()
        },
        plan,
        ..scenario.clone()
    }
    .check()
}

/// One cell, in steps.
#[derive(Debug)]
struct Search {
    plan: Checked,
    gradual: Gradual,
}

impl Search {
    /// Of a plan.
    ///
    /// # Errors
    /// The cell itself, when there is no such plan.
    fn new(scenario: &Checked, sites: u32, years: u32) -> Result<Self, Cell> {
        match with(scenario.as_written(), sites, years) {
            Ok(plan) => Ok(Self {
                plan,
                gradual: Gradual::default(),
            }),
            Err(faults) => {
                let why = faults.first().map(ToString::to_string);
                Err(Cell::Impossible(why.unwrap_or_default()))
            }
        }
    }

    /// The cell, when this was the last step.
    fn step(&mut self) -> Option<Cell> {
        if self.gradual.step(&self.plan) {
            return None;
        }
        let (s, smallest) = (&self.plan, self.gradual.smallest);
        if !smallest.is_finite() {
            return Some(Cell::Nothing);
        }
        let none = no_change(s);
        let wanted = in_words_of_question(s, effect_size(s));
        Some(Cell::Found {
            smallest,
            relative: (smallest - none) / (wanted - none),
            reaches: self.gradual.power >= s.question.wanted_power,
        })
    }
}

/// One cell.
pub fn cell(scenario: &Checked, sites: u32, years: u32) -> Cell {
    let mut search = match Search::new(scenario, sites, years) {
        Ok(search) => search,
        Err(cell) => return cell,
    };
    loop {
        if let Some(cell) = search.step() {
            return cell;
        }
    }
}

/// The work in small steps, so that whoever must not be kept waiting can take a few at a time.
#[derive(Debug)]
pub struct Work {
    scenario: Checked,
    map: Map,
    /// The cell that is worked at.
    search: Option<Search>,
}

impl Work {
    /// Over these numbers.
    ///
    /// # Errors
    /// When there are none, or too many.
    pub fn new(scenario: &Checked, axes: Axes) -> Result<Self, String> {
        let number = axes.years.len() * axes.sites.len();
        if number == 0 {
            return Err("the map has no cells: give years and sites".into());
        }
        if number > MOST_CELLS {
            return Err(format!(
                "the map has {number} cells, at most {MOST_CELLS} are computed: use larger steps"
            ));
        }
        let sites_in_a_year = axes
            .sites
            .iter()
            .map(|&n| Axis::Sites.set(&scenario.plan, n).most_sites_in_a_year());
        Ok(Self {
            map: Map {
                sites_in_a_year: sites_in_a_year.collect(),
                wanted: in_words_of_question(scenario, effect_size(scenario)),
                cells: Vec::with_capacity(number),
                axes,
            },
            scenario: scenario.clone(),
            search: None,
        })
    }

    /// Cells done and wanted.
    pub fn progress(&self) -> (usize, usize) {
        let axes = &self.map.axes;
        (self.map.cells.len(), axes.years.len() * axes.sites.len())
    }

    /// Takes a step, one of a score of a cell; false when all cells are done.
    pub fn step(&mut self) -> bool {
        let (done, all) = self.progress();
        if done == all {
            return false;
        }
        let across = self.map.axes.years.len();
        let (sites, years) = (
            self.map.axes.sites[done / across],
            self.map.axes.years[done % across],
        );
        let search = self.search.take();
        let found = match search.map_or_else(|| Search::new(&self.scenario, sites, years), Ok) {
            Ok(mut search) => {
                let cell = search.step();
                if cell.is_none() {
                    self.search = Some(search);
                }
                cell
            }
            Err(cell) => Some(cell),
        };
        let more = found.is_none() || done + 1 < all;
        self.map.cells.extend(found);
        more
    }

    /// The whole map.
    pub fn finish(mut self) -> Map {
        while self.step() {}
        self.map
    }
}

impl Map {
    /// The cell of a row and column.
    pub fn at(&self, row: usize, column: usize) -> Option<&Cell> {
        self.cells.get(row * self.axes.years.len() + column)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::closed_form::preview;
    use crate::scenario::{Revisit, Test, read};

    fn demo(text: &str) -> Scenario {
        read(text).unwrap()
    }

    fn beetles() -> Scenario {
        demo(include_str!("../../../demo-data/meadow-beetles.json"))
    }

    /// The plan's own cell is its own preview; with a t test more years and more sites find smaller changes; the line of the
    /// wanted change is where the power is the wanted one.
    #[test]
    fn cells_are_previews_of_plans() {
        let mut s = beetles();
        s.analysis.test = Test::T;
        let s = s.check().unwrap();
        let axes = usual_axes(&s);
        assert!(
            axes.years.contains(&10) && axes.sites.contains(&24),
            "{axes:?}"
        );
        assert!(axes.years.len() <= 11 && axes.sites.len() <= 11, "{axes:?}");
        let map = Work::new(&s, axes.clone()).unwrap().finish();
        let row = axes.sites.iter().position(|&n| n == 24).unwrap();
        let column = axes.years.iter().position(|&n| n == 10).unwrap();
        let own = preview(&s, &s.plan);
        let size = |r, c| match map.at(r, c) {
            Some(Cell::Found {
                smallest,
                relative,
                reaches,
            }) => {
                assert!((relative - smallest / 30.0).abs() < 1e-9);
                assert_eq!(*reaches, *relative <= 1.0, "{r} {c}: {relative}");
                *smallest
            }
            other => panic!("{other:?}"),
        };
        assert_eq!(size(row, column), own.smallest_change);
        for r in 0..axes.sites.len() {
            for c in 0..axes.years.len() {
                if c > 0 {
                    assert!(size(r, c) < size(r, c - 1), "{r} {c}");
                }
                if r > 0 {
                    assert!(size(r, c) < size(r - 1, c), "{r} {c}");
                }
            }
        }
    }

    /// No such plan: said why.
    #[test]
    fn impossible_cells_say_why() {
        let s = beetles().check().unwrap();
        let Cell::Impossible(why) = cell(&s, 24, 2) else {
            panic!("two years are no trend")
        };
        assert!(why.contains("plan.years"), "{why}");
        let mut mowing = demo(include_str!("../../../demo-data/meadow-mowing.json"));
        if let Some(g) = &mut mowing.plan.groups {
            g.before_years = 2;
        }
        let s = mowing.check().unwrap();
        let told = cell(&s, s.plan.sites, 2);
        assert!(told.reaches().is_none(), "{told:?}");
        let axes = Axes {
            years: Vec::new(),
            sites: vec![5],
        };
        assert!(Work::new(&s, axes).is_err());
        let axes = Axes {
            years: (1..40).collect(),
            sites: (1..40).collect(),
        };
        assert!(Work::new(&s, axes).unwrap_err().contains("1521 cells"));
    }

    /// With sites that come and go a row has as many sites in a year whatever the years.
    #[test]
    fn rows_of_patterns_hold_the_sites_of_a_year() {
        let mut s = beetles();
        s.plan.revisit = Some(Revisit::Rotating { stay: 3 });
        s.plan.sites = 36;
        let s = s.check().unwrap();
        let axes = usual_axes(&s);
        assert!(axes.sites.iter().all(|&n| s.fits_sites(n)), "{axes:?}");
        let map = Work::new(&s, axes).unwrap().finish();
        assert!(map.cells.iter().all(|c| c.reaches().is_some()), "{map:?}");
        let own = map.axes.sites.iter().position(|&n| n == 36).unwrap();
        assert_eq!(map.sites_in_a_year[own], 9);
    }

    /// Every question has a map whose better plans stand at more sites.
    #[test]
    fn every_question_has_a_map() {
        for text in [
            include_str!("../../../demo-data/meadow-no-worse.json"),
            include_str!("../../../demo-data/meadow-inventory.json"),
            include_str!("../../../demo-data/orchard-hoverflies.json"),
            include_str!("../../../demo-data/orchard-absence.json"),
            include_str!("../../../demo-data/orchard-baseline.json"),
            include_str!("../../../demo-data/mountain-occupancy.json"),
            include_str!("../../../demo-data/mountain-moths.json"),
        ] {
            let s = demo(text).check().unwrap();
            let relative = |sites| match cell(&s, sites, s.plan.years) {
                Cell::Found { relative, .. } => relative,
                other => panic!("{}: {other:?}", s.question.effect.key()),
            };
            let (own, more) = (relative(s.plan.sites), relative(2 * s.plan.sites));
            assert!(
                own > 0.0 && more < own,
                "{}: {own} {more}",
                s.question.effect.key()
            );
        }
    }
}
