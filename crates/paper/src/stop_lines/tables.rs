//! The numbers of a rule to stop as tables.

use super::short;
use crate::number::{percent, rounded, signed};
use figures::Table;
use survey::scenario::StopRule;
use survey::stop_lines::{AtMean, Exact, StopPlan};

fn optional(v: Option<f64>, text: impl Fn(f64) -> String) -> String {
    v.map_or("—".into(), text)
}

/// Totals at which one stops, for machines: an empty cell where there is no such total.
pub fn csv(plan: &StopPlan) -> String {
    let cell = |v: Option<u64>| v.map_or(String::new(), |v| v.to_string());
    Table {
        caption: String::new(),
        headers: ["samples", "stop_at_or_below", "stop_at_or_above"]
            .map(String::from)
            .to_vec(),
        rows: plan
            .table
            .iter()
            .map(|t| vec![t.samples.to_string(), cell(t.at_most), cell(t.at_least)])
            .collect(),
    }
    .csv()
}

/// Numbers of samples fixed beforehand.
pub fn fixed(plan: &StopPlan) -> Table {
    let name = |form: &str| match form {
        "normal" => "normal, the variance known",
        "poisson" => "Poisson",
        "negative_binomial" => "negative binomial",
        _ => "Taylor's power law",
    };
    let whole = |v: f64| format!("{:.0}", v.ceil());
    Table {
        caption: format!(
            "Samples fixed beforehand, at the premises' mean of {}",
            short(plan.sample.mean)
        ),
        headers: [
            "variance of a sample",
            "for the rule's standard error",
            "for the question's interval, normal",
            "for it by Student's t",
        ]
        .map(String::from)
        .to_vec(),
        rows: plan
            .fixed
            .iter()
            .map(|f| {
                vec![
                    name(f.form).into(),
                    optional(f.for_error, whole),
                    optional(f.for_interval, whole),
                    optional(f.for_interval_by_t, whole),
                ]
            })
            .collect(),
    }
}

/// The rule over a range of true means: for a test the operating characteristic and the average sample number, for a
/// precision what is reached.
pub fn means(plan: &StopPlan) -> Table {
    let test = matches!(plan.rule, StopRule::ProbabilityRatio(_));
    let mut headers = vec!["true mean a sample"];
    if test {
        headers.extend([
            "says low",
            "says low (Wald)",
            "says high",
            "undecided",
            "samples on average",
            "samples (Wald)",
        ]);
    } else {
        headers.extend([
            "meets the line",
            "standard error reached",
            "bias",
            "samples on average",
            "samples (mean path)",
        ]);
    }
    headers.extend([
        "enough in 95 of 100",
        "stops before the fixed number",
        "animals spared",
    ]);
    let row = |m: &AtMean| {
        let e = m.exact.as_ref();
        let share = |of: fn(&Exact) -> f64| optional(e.map(of), percent);
        let mut row = vec![short(m.mean)];
        if test {
            row.extend([
                share(|e| e.low),
                optional(m.approximate.low, percent),
                share(|e| e.high),
                share(|e| e.undecided),
            ]);
        } else {
            row.extend([
                share(|e| e.high),
                share(|e| e.relative_error),
                optional(e.map(|e| e.relative_bias), |b| {
                    format!("{} %", signed(100.0 * b, 1))
                }),
            ]);
        }
        row.push(optional(e.map(|e| e.mean_samples), short));
        row.push(optional(m.approximate.mean_samples, short));
        row.push(e.map_or("—".into(), |e| e.samples_95.to_string()));
        row.push(optional(e.and_then(|e| e.before_fixed), percent));
        row.push(optional(e.and_then(|e| e.spared), |s| {
            let sign = if s < 0.0 { "−" } else { "" };
            format!("{sign}{}", rounded(s.abs()))
        }));
        row
    };
    let against = plan.fixed_number.map_or(String::new(), |n| {
        format!("; spared against {n} samples fixed beforehand")
    });
    Table {
        caption: format!(
            "What the rule does at a range of true means, exactly for counts as clumped as the premises say{against}"
        ),
        headers: headers.into_iter().map(String::from).collect(),
        rows: plan.means.iter().map(row).collect(),
    }
}
