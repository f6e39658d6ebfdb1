//! What a curve runs over.

use crate::frontier::resized;
use crate::scenario::{Plan, Scenario};
use serde::{Deserialize, Serialize};

/// The plan's number that varies along a curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Axis {
    /// Sites.
    Sites,
    /// Traps per site.
    Traps,
    /// Weeks in a row, around the middle of the plan's run.
    Weeks,
    /// Years.
    Years,
    /// Days a week that traps are open, whole ones. (A plan may have others: its own days are then not on the curve.)
    Exposure,
    /// The first week of a run of as many weeks.
    FirstWeek,
    /// Years before the treatment begins, of as many years in all.
    BeforeYears,
    /// Treated sites in per cent of all.
    TreatedPercent,
    /// The lowest (southernmost) place of a site, a whole number from 0.
    Lowest,
    /// The highest (northernmost) place of a site, a whole number from 0.
    Highest,
}

impl Axis {
    /// All axes.
    pub const ALL: [Self; 10] = [
        Self::Sites,
        Self::Traps,
        Self::Weeks,
        Self::Years,
        Self::Exposure,
        Self::FirstWeek,
        Self::BeforeYears,
        Self::TreatedPercent,
        Self::Lowest,
        Self::Highest,
    ];

    /// The axes that a scenario's plan has.
    pub fn of_scenario(scenario: &Scenario) -> Vec<Self> {
        let all = Self::ALL.into_iter();
        all.filter(|a| a.belongs_to(scenario)).collect()
    }

    /// Whether a scenario's plan has the axis.
    pub fn belongs_to(self, scenario: &Scenario) -> bool {
        let groups = scenario.plan.groups.as_ref();
        let transect = scenario.plan.transect.as_ref();
        match self {
            Self::Sites | Self::Traps | Self::Weeks | Self::Years | Self::Exposure => true,
            // With the weeks of a moving season the run moves as a whole; chosen ones by one would not.
            Self::FirstWeek => scenario.plan.chosen_weeks.is_none(),
            Self::BeforeYears => groups.is_some_and(|g| g.before_years > 0),
            Self::TreatedPercent => groups.is_some_and(|g| !g.paired),
            Self::Lowest => transect.is_some_and(|t| t.lowest >= 0.0),
            Self::Highest => transect.is_some_and(|t| t.highest >= 0.0),
        }
    }

    /// The key in files and at the command line.
    pub fn key(self) -> &'static str {
        match self {
            Self::Sites => "sites",
            Self::Traps => "traps",
            Self::Weeks => "weeks",
            Self::Years => "years",
            Self::Exposure => "exposure",
            Self::FirstWeek => "first_week",
            Self::BeforeYears => "before_years",
            Self::TreatedPercent => "treated_percent",
            Self::Lowest => "lowest",
            Self::Highest => "highest",
        }
    }

    /// The label on a picture.
    pub fn label(self) -> &'static str {
        match self {
            Self::Sites => "sites",
            Self::Traps => "traps per site",
            Self::Weeks => "weeks in a row each year",
            Self::Years => "years",
            Self::Exposure => "days a week that traps are open",
            Self::FirstWeek => "first week of the year that is trapped",
            Self::BeforeYears => "years before the treatment",
            Self::TreatedPercent => "treated sites, per cent of all",
            Self::Lowest => "lowest place of a site",
            Self::Highest => "highest place of a site",
        }
    }

    /// The plan's own number; of days that are not whole the nearest whole number from 1.
    pub fn of(self, plan: &Plan) -> u32 {
        match self {
            Self::Sites => plan.sites,
            Self::Traps => plan.traps_per_site,
            Self::Weeks => plan.weeks,
            Self::Years => plan.years,
            Self::Exposure => plan.exposure_days.round().max(1.0) as u32,
            Self::FirstWeek => plan.first_week,
            Self::BeforeYears => plan.groups.as_ref().map_or(0, |g| g.before_years),
            Self::TreatedPercent => {
                let share = plan.groups.as_ref().map_or(0.0, |g| g.treated_share);
                (100.0 * share).round() as u32
            }
            Self::Lowest => plan
                .transect
                .as_ref()
                .map_or(0, |t| t.lowest.round() as u32),
            Self::Highest => plan
                .transect
                .as_ref()
                .map_or(0, |t| t.highest.round() as u32),
        }
    }

    /// The plan with another number on this axis.
    pub fn set(self, plan: &Plan, value: u32) -> Plan {
        let rounds = matches!(self, Self::TreatedPercent | Self::Lowest | Self::Highest);
        if rounds && value == self.of(plan) {
            // The plan's own number, which need not be a whole one.
            return plan.clone();
        }
        match self {
            Self::Sites => Plan {
                sites: value,
                ..plan.clone()
            },
            Self::Traps => Plan {
                traps_per_site: value,
                ..plan.clone()
            },
            Self::Weeks => resized(plan, plan.sites, plan.traps_per_site, value),
            // A curve tells plans without looks: theirs are those of one number of years. As many sites in a year.
            Self::Years => Plan {
                looks: None,
                ..plan.over_years(value)
            },
            Self::Exposure => Plan {
                exposure_days: f64::from(value),
                ..plan.clone()
            },
            Self::FirstWeek => Plan {
                first_week: value,
                chosen_weeks: None,
                ..plan.clone()
            },
            Self::BeforeYears | Self::TreatedPercent => {
                let mut plan = plan.clone();
                if let Some(g) = &mut plan.groups {
                    match self {
                        Self::BeforeYears => g.before_years = value,
                        _ => g.treated_share = f64::from(value) / 100.0,
                    }
                }
                plan
            }
            Self::Lowest | Self::Highest => {
                let mut plan = plan.clone();
                if let Some(t) = &mut plan.transect {
                    match self {
                        Self::Lowest => t.lowest = f64::from(value),
                        _ => t.highest = f64::from(value),
                    }
                }
                plan
            }
        }
    }

    /// Smallest number that makes sense on the axis for a scenario.
    pub fn fewest(self, scenario: &Scenario) -> u32 {
        match self {
            Self::Sites => scenario.fewest_sites(),
            Self::Weeks if scenario.by_occupancy() => 2,
            Self::Traps | Self::Weeks | Self::Exposure => 1,
            Self::FirstWeek | Self::BeforeYears | Self::TreatedPercent => 1,
            Self::Lowest | Self::Highest => 0,
            Self::Years => scenario.fewest_years(),
        }
    }

    /// About eleven numbers in equal steps that meet the plan's own: from about a third of it to twice it; of days a week all
    /// seven.
    pub fn around(self, scenario: &Scenario) -> Vec<u32> {
        let own = self.of(&scenario.plan);
        let stands = |&v: &u32| {
            let plan = self.set(&scenario.plan, v);
            v == own
                || (Scenario {
                    plan,
                    ..scenario.clone()
                })
                .check()
                .is_ok()
        };
        let listed: Option<Vec<u32>> = match self {
            Self::Exposure => return (1..=7).collect(),
            // The run moves about its place.
            Self::FirstWeek => Some((own.saturating_sub(5).max(1)..=own + 5).collect()),
            Self::BeforeYears => Some((1..scenario.plan.years).collect()),
            Self::TreatedPercent => Some((1..10).map(|i| 10 * i).collect()),
            Self::Lowest | Self::Highest => Some(self.places(scenario)),
            _ => None,
        };
        if let Some(mut values) = listed {
            values.push(own);
            values.sort_unstable();
            values.dedup();
            values.retain(stands);
            return values;
        }
        let fewest = self.fewest(scenario);
        let low = (own / 3).max(fewest);
        let high = (own * 2).max(low + 4);
        let mut step = (high - low).div_ceil(11).max(1);
        // Pairs come in twos.
        if self == Self::Sites && scenario.plan.groups.as_ref().is_some_and(|g| g.paired) {
            step = step.next_multiple_of(2);
        }
        // Panels come whole.
        if self == Self::Sites {
            step = step.next_multiple_of(scenario.plan.pattern_step());
        }
        let below = (1..)
            .map(|i| i * step)
            .take_while(|d| own >= low + d)
            .map(|d| own - d);
        let above = (0..).map(|i| own + i * step).take_while(|v| *v <= high);
        let mut values: Vec<u32> = below.chain(above).collect();
        values.sort_unstable();
        values.retain(stands);
        values
    }

    /// Places in eleven steps of a tenth of the transect, about its own end.
    fn places(self, scenario: &Scenario) -> Vec<u32> {
        let Some(t) = &scenario.plan.transect else {
            return Vec::new();
        };
        let own = i64::from(self.of(&scenario.plan));
        let step = ((t.highest - t.lowest) / 10.0).round().max(1.0) as i64;
        let all = (-5..=5).map(|i| own + i * step);
        all.filter_map(|v| u32::try_from(v).ok()).collect()
    }

    /// Reads `sites=5..60:5`, `years=3..12` or `traps=1,2,4`.
    ///
    /// # Errors
    /// What is wrong with the text.
    pub fn parse(text: &str) -> Result<(Self, Vec<u32>), String> {
        let usage = "write it as sites=5..60:5, years=3..12, exposure=1..7 or traps=1,2,4";
        let (key, values) = text
            .split_once('=')
            .ok_or(format!("--over {text:?} has no '=': {usage}"))?;
        let axis = Self::ALL
            .into_iter()
            .find(|a| a.key() == key)
            .ok_or_else(|| {
                let keys = Self::ALL.map(Self::key).join(", ");
                format!("--over {key:?} is not one of {keys}: {usage}")
            })?;
        let number = |t: &str| {
            t.trim()
                .parse::<u32>()
                .map_err(|_| format!("{t:?} is not a whole number: {usage}"))
        };
        let list: Vec<u32> = match values.split_once("..") {
            Some((low, rest)) => {
                let (high, step) = rest.split_once(':').unwrap_or((rest, "1"));
                let (low, high, step) = (number(low)?, number(high)?, number(step)?);
                if step == 0 || high < low {
                    return Err(format!("the range {values} is empty: {usage}"));
                }
                if (high - low) / step >= MOST_POINTS as u32 {
                    return Err(format!(
                        "the range {values} has more than {MOST_POINTS} numbers: use a larger step"
                    ));
                }
                (low..=high).step_by(step as usize).collect()
            }
            None => values.split(',').map(number).collect::<Result<_, _>>()?,
        };
        Ok((axis, list))
    }
}

/// Most points of one curve.
pub const MOST_POINTS: usize = 60;

#[cfg(test)]
mod tests {
    use super::*;

    fn scenario(text: &str) -> Scenario {
        crate::scenario::read(text).unwrap()
    }

    #[test]
    fn every_part_of_the_plan_is_an_axis_where_the_plan_has_it() {
        let mowing = scenario(include_str!("../../../demo-data/meadow-mowing.json"));
        let beetles = scenario(include_str!("../../../demo-data/meadow-beetles.json"));
        let moths = scenario(include_str!("../../../demo-data/mountain-moths.json"));
        let has = |s: &Scenario, a| Axis::of_scenario(s).contains(&a);
        assert!(has(&mowing, Axis::BeforeYears));
        assert!(!has(&beetles, Axis::BeforeYears) && !has(&beetles, Axis::Lowest));
        assert!(has(&beetles, Axis::FirstWeek));
        assert!(has(&moths, Axis::Lowest) && has(&moths, Axis::Highest));
        for s in [&mowing, &beetles, &moths] {
            for axis in Axis::of_scenario(s) {
                let own = axis.of(&s.plan);
                let around = axis.around(s);
                assert!(around.len() > 2, "{axis:?}: {around:?}");
                assert!(around.contains(&own), "{axis:?}: {around:?} without {own}");
                assert!(around.is_sorted());
                // What is set is what is read.
                for v in around {
                    assert_eq!(axis.of(&axis.set(&s.plan, v)), v, "{axis:?}");
                }
            }
        }
    }

    #[test]
    fn reads_ranges_and_lists() {
        assert_eq!(
            Axis::parse("sites=5..20:5"),
            Ok((Axis::Sites, vec![5, 10, 15, 20]))
        );
        assert_eq!(Axis::parse("years=3..5"), Ok((Axis::Years, vec![3, 4, 5])));
        assert_eq!(Axis::parse("traps=1,2,4"), Ok((Axis::Traps, vec![1, 2, 4])));
        let days = Axis::parse("exposure=1..7").unwrap();
        assert_eq!(days, (Axis::Exposure, (1..=7).collect()));
        for bad in [
            "sites",
            "birds=1",
            "sites=5..1",
            "sites=a",
            "sites=1..10:0",
            "sites=1..100000",
        ] {
            assert!(Axis::parse(bad).is_err(), "{bad}");
        }
    }
}
