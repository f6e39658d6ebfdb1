//! Why not fewer: what a smaller plan than the present one comes to.

use crate::number::percent;
use crate::sentences;
use survey::axis::Axis;
use survey::scenario::Scenario;
use survey::summary::Curve;

/// What a smaller plan than the present one comes to, by the curve.
pub(super) fn fewer(scenario: &Scenario, curve: &Curve) -> String {
    let own = curve.over.of(&scenario.plan);
    let counted = || curve.points.iter().filter(|p| p.power.replicates > 0);
    let present = counted().find(|p| p.value() == own);
    let found = sentences::found(scenario);
    // Of places along the season or a gradient none is fewer.
    let kills_less = matches!(
        curve.over,
        Axis::Sites | Axis::Traps | Axis::Weeks | Axis::Years | Axis::Exposure
    );
    let fewer = || counted().filter(|p| kills_less && p.value() < own);
    // The next one that is surely weaker: of others the difference is luck.
    let weaker = present.and_then(|own| fewer().rfind(|p| p.power.high < own.power.low));
    let (smaller, end) = match weaker {
        Some(weaker) => (Some(weaker), ""),
        None => (
            fewer().next(),
            ". So small a difference may be luck, and fewer animals are killed",
        ),
    };
    let (Some(smaller), Some(present)) = (smaller, present) else {
        return format!(
            "The line shows how many of 100 surveys {found}; the bars, the animals killed."
        );
    };
    let alarms = [smaller, present].map(|p| percent(p.false_alarm.estimate));
    let alarms = match alarms {
        [a, b] if a == b => format!("{a} in both"),
        [a, b] => format!("{a} and {b}"),
    };
    format!(
        "With {} {} instead of {own}, {} of 100 surveys {found}, not {} ({} {alarms}){end}.",
        smaller.value(),
        curve.over.label(),
        (100.0 * smaller.power.estimate).round(),
        (100.0 * present.power.estimate).round(),
        sentences::false_alarms(scenario),
    )
}

#[cfg(test)]
mod tests {
    use super::super::tests::{share, simulated};
    use super::*;

    #[test]
    fn fewer_is_told_by_the_next_plan_that_is_surely_weaker() {
        let (s, a) = simulated(include_str!("../../../../demo-data/meadow-beetles.json"));
        let curve = |over: Axis, powers: &[(u32, f64)]| Curve {
            over,
            points: powers
                .iter()
                .map(|&(value, power)| survey::summary::Point {
                    at: [(over.key(), value)].into(),
                    test: a.test.clone(),
                    power: share(power, 0.03),
                    false_alarm: share(0.05, 0.01),
                    preview: a.preview,
                    fits: a.fits,
                    toll: None,
                    cost: None,
                    result_digest: String::new(),
                })
                .collect(),
        };
        let sites = curve(Axis::Sites, &[(8, 0.5), (16, 0.6), (20, 0.74), (24, 0.75)]);
        assert_eq!(
            fewer(&s, &sites),
            "With 16 sites instead of 24, 60 of 100 surveys would find the fall, not 75 (false alarms 5.0 % in both)."
        );
        // As many surveys find it but for luck: that is no reason for more.
        let traps = curve(Axis::Traps, &[(3, 0.76), (4, 0.75), (5, 0.77)]);
        assert!(
            fewer(&s, &traps).ends_with("76 of 100 surveys would find the fall, not 75 (false alarms 5.0 % in both). So small a difference may be luck, and fewer animals are killed."),
            "{}",
            fewer(&s, &traps)
        );
        // An earlier week is not fewer.
        let first = curve(Axis::FirstWeek, &[(10, 0.1), (21, 0.75)]);
        assert!(fewer(&s, &first).starts_with("The line shows"));
    }
}
