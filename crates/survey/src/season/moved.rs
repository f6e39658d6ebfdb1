//! What becomes of a choice of weeks when the season moves.

use super::sets::Found;
use super::toll::{SetToll, Weights};
use crate::closed_form::{planned_elsewhere, season_percent_a_year};
use crate::scenario::{Checked, Departures, Effect, Premise, Scenario, Source};
use serde::{Deserialize, Serialize};

/// Mean move of spring events, days a decade earlier (Parmesan & Yohe 2003, Nature 421:37; cited from memory).
const SPRING: f64 = 2.3;
/// A week a decade, made up to show what much would do.
const MUCH: f64 = 7.0;

/// How the season moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// By so many weeks earlier (below 0: later) in all years.
    AllYears,
    /// By a shift of each year's own, of this SD in weeks.
    EachYear,
    /// By so many days a decade earlier.
    Trend,
}

/// A move of the season, of target and by-catch alike.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Move {
    /// How.
    pub kind: Kind,
    /// How far.
    pub amount: f64,
}

/// A set of weeks under a move. The test is the planned one: its critical value is that of the season where it is
/// believed to be.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct UnderMove {
    /// The weeks.
    pub weeks: Vec<u32>,
    /// Power by closed form.
    pub power: f64,
    /// Share of false alarms by closed form.
    pub false_alarm: f64,
    /// Change of the catch by the move alone, per cent a year.
    pub false_trend_percent: f64,
    /// What it kills.
    pub toll: SetToll,
    /// Share of all animals killed that is reproductive; `null` when no share is given.
    pub reproductive_share: Option<f64>,
}

/// A move, and each set of weeks under it; no sets where a peak would leave the year.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Moved {
    /// The move.
    #[serde(flatten)]
    pub moved: Move,
    /// Sets in the order they were given.
    pub sets: Vec<UnderMove>,
}

/// Whether the closed forms know a season that moves from year to year.
fn knows_years(scenario: &Scenario) -> bool {
    match &scenario.question.effect {
        Effect::Decline(_)
        | Effect::NoWorse(_)
        | Effect::Difference(_)
        | Effect::BeforeAfter(_) => true,
        Effect::RangeShift(shift) => shift.of.is_optimum(),
        Effect::Occupancy(_) | Effect::Absence(_) | Effect::Baseline(_) | Effect::Inventory(_) => {
            false
        }
    }
}

/// The moves that are told: up to three weeks in all years, and, where closed forms know it, each year's own shift
/// (the stated one, or one week) and a trend (the stated one, or the mean of spring events and a week a decade).
fn moves(scenario: &Scenario) -> Vec<Move> {
    let d = &scenario.premises.departures;
    let of = |kind: Kind| move |amount: f64| Move { kind, amount };
    let mut all: Vec<Move> = [3.0, 2.0, 1.0, 0.0, -1.0, -2.0, -3.0]
        .map(of(Kind::AllYears))
        .to_vec();
    if !knows_years(scenario) {
        return all;
    }
    let (sd, trend) = (d.season_shift_sd.value, d.season_trend.value);
    all.push(of(Kind::EachYear)(if sd > 0.0 { sd } else { 1.0 }));
    let trends = if trend == 0.0 {
        vec![SPRING, MUCH]
    } else {
        vec![trend]
    };
    all.extend(trends.into_iter().map(of(Kind::Trend)));
    all
}

/// The scenario with every peak so many weeks earlier; `None` where one would leave the year.
fn earlier(scenario: &Checked, weeks: f64) -> Option<Checked> {
    let mut s = scenario.clone().into_inner();
    let shift = |p: &mut Premise| {
        p.value -= weeks;
        (p.low, p.high) = (None, None);
    };
    let p = &mut s.premises;
    for t in std::iter::once(&mut p.target).chain(&mut p.others) {
        shift(&mut t.season_peak_week);
        if let Some(r) = &mut t.reproductives {
            shift(&mut r.peak_week);
        }
    }
    p.bycatch
        .iter_mut()
        .for_each(|g| shift(&mut g.season_peak_week));
    s.check().ok()
}

/// The scenario with these departures of the season.
fn departing(scenario: &Checked, change: impl FnOnce(&mut Departures)) -> Option<Checked> {
    let mut s = scenario.clone().into_inner();
    change(&mut s.premises.departures);
    s.check().ok()
}

/// What the planned test does in a world whose season moves, for sets of weeks.
pub fn moved(scenario: &Checked, sets: &[Found], weights: &Weights) -> Vec<Moved> {
    let given = |v| Premise::new(v, Source::Invented);
    let clear = |d: &mut Departures| {
        let none = Departures::default();
        (d.season_shift_sd, d.season_trend) = (none.season_shift_sd, none.season_trend);
    };
    let still = departing(scenario, clear);
    let under = |m: Move| {
        let (planned, world) = match m.kind {
            Kind::AllYears => (Some(scenario.clone()), earlier(scenario, m.amount)),
            Kind::EachYear => (
                still.clone(),
                departing(scenario, |d| {
                    clear(d);
                    d.season_shift_sd = given(m.amount);
                }),
            ),
            Kind::Trend => (
                still.clone(),
                departing(scenario, |d| {
                    clear(d);
                    d.season_trend = given(m.amount);
                }),
            ),
        };
        let sets = planned.zip(world).map(|(planned, world)| {
            let each = sets
                .iter()
                .map(|set| one(&planned, &world, &set.weeks, weights));
            each.collect()
        });
        Moved {
            moved: m,
            sets: sets.unwrap_or_default(),
        }
    };
    moves(scenario).into_iter().map(under).collect()
}

fn one(planned: &Checked, world: &Checked, weeks: &[u32], weights: &Weights) -> UnderMove {
    let plan = planned.plan.in_weeks(weeks);
    let (power, false_alarm) = planned_elsewhere(planned, world, &plan);
    let toll = SetToll::of(world, &plan, weights);
    UnderMove {
        weeks: weeks.to_vec(),
        power,
        false_alarm,
        false_trend_percent: season_percent_a_year(world, &plan),
        reproductive_share: toll.reproductive_share(),
        toll,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::closed_form::preview;
    use crate::scenario::read;
    use crate::season::{best_sets, own};

    fn demo() -> Checked {
        let text = include_str!("../../../../demo-data/meadow-beetles.json");
        read(text).unwrap().check().unwrap()
    }

    /// Without a move everything is the preview's; an early spring raises no false alarms, a trend of the season does,
    /// and the more the further it goes.
    #[test]
    fn what_moves_do() {
        let s = demo();
        let weights = Weights::default();
        let mut sets = vec![own(&s, &weights)];
        sets.extend(best_sets(&s, 5, &weights).into_iter().filter_map(|b| b.set));
        let all = moved(&s, &sets, &weights);
        assert_eq!(all.len(), 10);
        assert!(all.iter().all(|m| m.sets.len() == sets.len()));
        let find = |kind: Kind, amount: f64| {
            let of = all.iter().find(|m| m.moved == Move { kind, amount });
            &of.unwrap().sets[0]
        };
        let still = find(Kind::AllYears, 0.0);
        let p = preview(&s, &s.plan);
        assert!((still.power - p.power).abs() < 1e-9, "{still:?} {p:?}");
        assert!((still.false_alarm - p.false_alarm).abs() < 1e-4);
        assert_eq!(still.false_trend_percent, 0.0);
        let early = find(Kind::AllYears, 3.0);
        assert!((early.false_alarm - still.false_alarm).abs() < 0.02);
        assert!(early.power < still.power && early.toll.target < still.toll.target);
        // Symmetric weeks about the peak: earlier and later by as much catch as much of the target.
        let late = find(Kind::AllYears, -3.0);
        assert!((late.toll.target / early.toll.target - 1.0).abs() < 1e-9);
        let (little, much) = (find(Kind::Trend, 2.3), find(Kind::Trend, 7.0));
        assert!(much.false_alarm > little.false_alarm && little.false_alarm > still.false_alarm);
        assert!(much.false_trend_percent < little.false_trend_percent);
        assert!(find(Kind::EachYear, 1.0).power < still.power);
    }

    /// One week at the peak, width 4, the season c weeks a year earlier: the log catch -(c y)^2/32 has the slope
    /// -c^2 (T - 1)/32 by least squares.
    #[test]
    fn a_false_trend_by_hand() {
        let mut s = demo().into_inner();
        s.plan = s.plan.in_weeks(&[23]);
        s.premises.departures.season_trend = Premise::new(21.0, Source::Invented);
        let got = crate::closed_form::season_slope(&s, &s.plan);
        let want = -0.3 * 0.3 * 9.0 / 32.0;
        assert!((got - want).abs() < 1e-12, "{got} {want}");
    }
}
