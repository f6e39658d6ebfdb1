//! The picture of a rule to stop.

use super::{rule, short};
use figures::StoppingLines;
use figures::stopping::{Guide, Step};
use survey::scenario::{Scenario, StopRule};
use survey::stop_lines::StopPlan;

/// The lines with their regions.
pub fn figure(scenario: &Scenario, plan: &StopPlan) -> StoppingLines {
    let number = |v: Option<u64>| v.map(|v| v as f64);
    let steps: Vec<Step> = plan
        .table
        .iter()
        .map(|t| Step {
            samples: f64::from(t.samples),
            lower: number(t.at_most),
            upper: number(t.at_least),
        })
        .collect();
    let test = matches!(plan.rule, StopRule::ProbabilityRatio(_));
    let last = steps.last().and_then(|s| s.upper).unwrap_or(1.0);
    // Where the line of a precision begins is far above where it is met.
    let met = plan
        .fixed_number
        .and_then(|n| plan.table.iter().find(|t| u64::from(t.samples) == n))
        .and_then(|t| t.at_least)
        .map_or(last, |v| v as f64);
    let (above, below) = if test {
        ("stop: the mean is high", "stop: the mean is low")
    } else {
        ("stop: precise enough", "")
    };
    StoppingLines {
        id: "stop-lines".into(),
        title: format!("When to stop: {}", scenario.premises.target.name),
        show_title: true,
        description: rule(plan),
        x_label: "samples so far".into(),
        y_label: "animals caught so far".into(),
        above: above.into(),
        between: "go on".into(),
        below: below.into(),
        steps,
        guide: Some(Guide {
            label: format!(
                "expected at the premises' mean, {} a sample",
                short(plan.sample.mean)
            ),
            slope: plan.sample.mean,
        }),
        highest: if test {
            1.05 * last
        } else {
            2.2 * met.max(last)
        },
        width: 760.0,
        height: 420.0,
    }
}
