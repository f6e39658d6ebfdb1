//! The power curve with the toll in an aligned panel beneath.

use crate::sentences;
use figures::{Column, Group, Line, LineStyle, PairedPanels, Point, Rule, Spread};
use survey::scenario::{Effect, Scenario};
use survey::summary::Curve;

/// The figure of a curve, in part while it is simulated: points without replicates show only their preview.
pub fn curve_figure(scenario: &Scenario, curve: &Curve) -> PairedPanels {
    let point = |x: u32, y: f64, ends: Option<(f64, f64)>| Point {
        x: f64::from(x),
        y,
        low: ends.map(|e| e.0),
        high: ends.map(|e| e.1),
    };
    let mut power = Vec::new();
    let mut alarms = Vec::new();
    let mut preview = Vec::new();
    let mut columns = Vec::new();
    for p in &curve.points {
        let x = p.value();
        preview.push(point(x, p.preview.power, None));
        if p.power.replicates > 0 {
            power.push(point(
                x,
                p.power.estimate,
                Some((p.power.low, p.power.high)),
            ));
        }
        if p.false_alarm.replicates > 0 {
            let s = p.false_alarm;
            alarms.push(point(x, s.estimate, Some((s.low, s.high))));
        }
        if let Some(t) = &p.toll {
            let parts = std::iter::once(t.target.mean)
                .chain(t.bycatch.iter().map(|g| g.mean))
                .collect();
            columns.push(Column {
                x: f64::from(x),
                parts,
                low: t.total.low,
                high: t.total.high,
            });
        }
    }
    let line = |label: &str, style, points| Line {
        label: label.into(),
        style,
        spread: Spread::Bars,
        points,
    };
    let own = curve.over.of(&scenario.plan);
    let groups = std::iter::once(format!("{} (target)", scenario.premises.target.name))
        .chain(
            scenario
                .premises
                .killed_besides()
                .iter()
                .map(|k| match k.group.class {
                    survey::scenario::Class::Arthropod => k.group.name.clone(),
                    class => format!("{} ({})", k.group.name, sentences::class(class)),
                }),
        )
        .map(|label| Group { label })
        .collect();
    PairedPanels {
        id: format!("curve-{}", curve.over.key()),
        title: format!(
            "Power and toll over {}: {}",
            curve.over.label(),
            surveys(curve)
        ),
        show_title: true,
        description: format!(
            "{} Plan: {}.",
            sentences::question(scenario),
            sentences::plan(&scenario.plan)
        ),
        x_label: curve.over.label().into(),
        upper_label: "of simulated surveys".into(),
        lower_label: "animals killed, all years".into(),
        total_label: "all animals".into(),
        lines: vec![
            line("power", LineStyle::Main, power),
            line(sentences::false_alarms(scenario), LineStyle::Second, alarms),
            line("preview of power", LineStyle::Preview, preview),
        ],
        rules: rules(scenario),
        columns,
        groups,
        // A plan's days need not be whole: then it is not on the curve.
        highlight: (curve.over.set(&scenario.plan, own) == scenario.plan)
            .then(|| (f64::from(own), format!("this plan: {own}"))),
        width: 760.0,
        height: 620.0,
    }
}

/// What is wanted and accepted. Absence accepts no false alarms, for there are none.
fn rules(scenario: &Scenario) -> Vec<Rule> {
    let rule = |label: String, y| Rule { label, y };
    let mut rules = vec![rule("wanted power".into(), scenario.question.wanted_power)];
    if !matches!(scenario.question.effect, Effect::Absence(_)) {
        let name = sentences::false_alarms(scenario);
        rules.push(rule(
            format!("accepted {name}"),
            scenario.question.significance,
        ));
    }
    rules
}

/// How many surveys each point rests on, so that an unfinished picture says so.
fn surveys(curve: &Curve) -> String {
    let numbers = || curve.points.iter().map(|p| p.power.replicates);
    let (fewest, most) = (numbers().min().unwrap_or(0), numbers().max().unwrap_or(0));
    if fewest == most {
        format!("{most} simulated surveys a plan")
    } else {
        format!("unfinished, {fewest} to {most} simulated surveys a plan")
    }
}
