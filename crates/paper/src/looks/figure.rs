//! The picture of planned looks.

use super::asked;
use crate::sentences::{with_effect, without_effect};
use figures::InterimLines;
use figures::interim::{Course, Look};
use survey::scenario::{Direction, Scenario};
use survey::summary::LooksAnswer;

/// Lines over the years, with some simulated surveys followed until they end.
pub fn figure(scenario: &Scenario, a: &LooksAnswer) -> InterimLines {
    let looks = a.looks.iter().map(|l| Look {
        x: f64::from(l.lines.year),
        upper: l.lines.z,
        futility: l.lines.futility_z,
    });
    let courses = a.shown.iter().map(|c| Course {
        first_kind: c.changes,
        statistics: c.statistics.clone(),
        found: matches!(c.ends, "found" | "wrong_way"),
    });
    let description = scenario
        .plan
        .looks
        .as_ref()
        .map_or(String::new(), |l| asked(scenario, l));
    let (with, without) = (with_effect(scenario), without_effect(scenario));
    InterimLines {
        id: "planned-looks".into(),
        title: format!("Planned looks: {}", scenario.premises.target.name),
        show_title: true,
        description: format!(
            "{description} Courses end where they stop; a large mark is a change found. Statistics are t moved to the normal scale by equal tails."
        ),
        x_label: "years".into(),
        y_label: "statistic on the normal scale, the stated direction above".into(),
        looks: looks.collect(),
        two_sided: scenario.question.direction == Direction::Either,
        courses: courses.collect(),
        kinds: [
            format!("a simulated survey {with}"),
            format!("one {without}"),
        ],
        beyond: "beyond: stop, found".into(),
        futile: "within or below: stop, futile".into(),
        width: 760.0,
        height: 440.0,
    }
}
