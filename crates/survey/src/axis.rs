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
}

impl Axis {
    /// All axes.
    pub const ALL: [Self; 5] = [
        Self::Sites,
        Self::Traps,
        Self::Weeks,
        Self::Years,
        Self::Exposure,
    ];

    /// The key in files and at the command line.
    pub fn key(self) -> &'static str {
        match self {
            Self::Sites => "sites",
            Self::Traps => "traps",
            Self::Weeks => "weeks",
            Self::Years => "years",
            Self::Exposure => "exposure",
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
        }
    }

    /// The plan with another number on this axis.
    pub fn set(self, plan: &Plan, value: u32) -> Plan {
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
        }
    }

    /// Smallest number that makes sense on the axis for a scenario.
    pub fn fewest(self, scenario: &Scenario) -> u32 {
        match self {
            Self::Sites => scenario.fewest_sites(),
            Self::Weeks if scenario.by_occupancy() => 2,
            Self::Traps | Self::Weeks | Self::Exposure => 1,
            Self::Years => scenario.fewest_years(),
        }
    }

    /// About eleven numbers in equal steps that meet the plan's own: from about a third of it to twice it; of days a week all
    /// seven.
    pub fn around(self, scenario: &Scenario) -> Vec<u32> {
        if self == Self::Exposure {
            return (1..=7).collect();
        }
        let own = self.of(&scenario.plan);
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
        values.retain(|&v| {
            let plan = self.set(&scenario.plan, v);
            v == own
                || (Scenario {
                    plan,
                    ..scenario.clone()
                })
                .check()
                .is_ok()
        });
        values
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
            .ok_or(format!(
                "--over {key:?} is not one of sites, traps, weeks, years, exposure: {usage}"
            ))?;
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
